"""Text cleaning: one plain writing for what PDFs and web pages write in many ways."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shopdesk.patterns.text.cleaning import LONGEST_TEXT, TextRefused, clean


@pytest.mark.parametrize(
    ("written", "plain"),
    [
        ("ﬁngering, ﬂat, stiﬀ, oﬃce", "fingering, flat, stiff, office"),
        ("22\u201324\u00a0sts", "22-24 sts"),
        ("4″ / 4” / 4''", '4" / 4" / 4"'),
        ("stocki\u00adnette", "stockinette"),
        ("stocki\u00ad\nnette", "stockinette"),
        ("stocki-\nnette stitch", "stockinette stitch"),
        ("5 1⁄2 sts", "5 1/2 sts"),
        ("1\u202f200 m", "1200 m"),
        ("20 × 150 cm", "20 x 150 cm"),
        ("a\r\nb\rc", "a\nb\nc"),
        ("a\n\n\n\n\nb", "a\n\nb"),
        ("e\u0301chantillon", "échantillon"),
        ("nul\x00 bell\x07", "nul bell"),
        ("4&quot;<br>US 7&nbsp;(4.5&nbsp;mm)", '4"\nUS 7 (4.5 mm)'),
        ("22 sts < 24 sts", "22 sts < 24 sts"),
    ],
)
def test_one_plain_writing(written: str, plain: str) -> None:
    assert clean(written) == plain


@pytest.mark.parametrize("empty", ["", "   \n\t ", "\u200b\ufeff"])
def test_no_text_is_refused(empty: str) -> None:
    with pytest.raises(TextRefused, match="no text"):
        clean(empty)


def test_five_megabytes_are_refused_with_the_limit() -> None:
    with pytest.raises(TextRefused, match=f"{LONGEST_TEXT:,}"):
        clean("22 sts " * 750_000)


def test_a_text_may_be_as_long_as_the_refusal_says() -> None:
    assert len(clean("a" * 200_000)) == 200_000
    with pytest.raises(TextRefused, match="200,001"):
        clean("a" * 200_001)


@given(st.text(st.characters(exclude_characters="&<"), max_size=200))
def test_cleaning_twice_changes_nothing(text: str) -> None:
    try:
        once = clean(text)
    except TextRefused:
        return
    assert clean(once) == once
