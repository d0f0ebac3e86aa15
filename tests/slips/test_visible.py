"""What would hide, reorder or break text is shown by its code, and nothing of it is left."""

import unicodedata

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shopdesk.slips.visible import visible


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
