import pytest
from hypothesis import given
from hypothesis import strategies as st

from shopdesk.slips.fonts import BOLD, REGULAR, drawn, font


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
