import unicodedata

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shopdesk.slips.fonts import BOLD, REGULAR, drawn, font, visible


@pytest.mark.parametrize(
    ("written", "shown"),
    [
        ("a\u202eb", "a[U+202E]b"),
        ("a\u0007b", "a[U+0007]b"),
        ("a\x00b", "a[U+0000]b"),
        ("two\nlines\tand a tab", "two lines and a tab"),
        ("\u2066x\u2069", "[U+2066]x[U+2069]"),
        ("a\ud800", "a[U+D800]"),
        ("e\u0301te\u0301", "été"),
        ("1\u202f200\u00a0m", "1\u202f200\u00a0m"),
    ],
)
def test_hidden_characters_are_shown_by_their_code(written: str, shown: str) -> None:
    assert visible(written) == shown


@given(st.text(st.characters(), max_size=60))
def test_nothing_hidden_is_left(written: str) -> None:
    kept = visible(written)
    assert not [c for c in kept if unicodedata.category(c) in ("Cc", "Cf", "Cs", "Co", "Cn")]
    assert visible(kept) == kept


@given(st.text(st.characters(), max_size=60), st.sampled_from([REGULAR, BOLD]))
def test_every_drawn_character_has_a_glyph(written: str, name: str) -> None:
    glyphs = font(name).face.charToGlyph
    assert [c for c in drawn(written, name) if not glyphs.get(ord(c))] == []


@pytest.mark.parametrize("name", [REGULAR, BOLD])
@pytest.mark.parametrize(
    "written",
    [
        "Ärmel mit Umschlag, 38½ Maschen „glatt“",
        "Échantillon : « côtes », œillets, 1 200 m",
        "Łódź, ğüşiöç, ąęż",
        "Ελληνικά: μαλλί",
        "Кириллица: шерсть, Ґанок",
        "€ £ ¥ ₹ ₽ × – — …",
    ],
)
def test_latin_greek_and_cyrillic_are_covered(written: str, name: str) -> None:
    assert "[U+" not in drawn(written, name)


def test_what_the_font_lacks_is_shown_by_its_code() -> None:
    assert drawn("wool 🧶") == "wool [U+1F9F6]"
    assert drawn("毛") == "[U+6BDB]"


def test_scripts_from_right_to_left_are_shown_by_codes() -> None:
    assert drawn("שלום") == "[U+05E9][U+05DC][U+05D5][U+05DD]"
