"""Values that were read: as short texts, with another number, and whether one is 0."""

from decimal import Decimal

import pytest

from shopdesk.patterns.phrases.mentions import (
    BallPutUp,
    Measure,
    Share,
    Tool,
    Value,
    WordList,
    has_zero,
    plain,
    shown,
    with_number,
)


def d(text: str) -> Decimal:
    return Decimal(text)


@pytest.mark.parametrize(
    ("value", "text"),
    [
        (True, "yes"),
        (False, "no"),
        ("hat", "hat"),
        (d("5.50"), "5.5"),
        (d("100"), "100"),
        (d("1E+2"), "100"),
        (Measure((d("5"), d("6.50")), "balls"), "5 6.5 balls"),
        (Tool("4", "mm"), "4 mm"),
        (Tool("8", "US"), "US 8"),
        (BallPutUp(d("50.0"), "g", d("125"), "m"), "50 g = 125 m"),
        (Share("wool", d("75.0")), "75 wool"),
        (WordList(("S", "M")), "S | M"),
        (WordList((Share("wool", d("75")), Share("silk", d("25")))), "75 wool | 25 silk"),
    ],
)
def test_a_value_is_shown_as_it_is_written(value: Value, text: str) -> None:
    assert shown(value) == text


@pytest.mark.parametrize(
    ("number", "text"),
    [("10", "10"), ("10.0", "10"), ("0.50", "0.5"), ("0", "0"), ("1200", "1200")],
)
def test_a_number_has_no_idle_zeros(number: str, text: str) -> None:
    assert plain(Decimal(number)) == text


@pytest.mark.parametrize(
    ("value", "zero"),
    [
        (d("0"), True),
        (d("0.0"), True),
        (d("5"), False),
        (Measure((d("5"), d("0")), "balls"), True),
        (Measure((d("5"), d("6")), "balls"), False),
        (BallPutUp(d("0"), "g", d("125"), "m"), True),
        (BallPutUp(d("50"), "g", d("0"), "m"), True),
        (BallPutUp(d("50"), "g", d("125"), "m"), False),
        ("0", False),
        (False, False),
    ],
)
def test_a_zero_is_found_in_any_value(value: Value, zero: bool) -> None:
    assert has_zero(value) is zero


@pytest.mark.parametrize(
    ("value", "other"),
    [
        (d("1.2"), d("1200")),
        (d("5"), d("5")),
        (Measure((d("1.2"), d("5")), "m"), Measure((d("1200"), d("5")), "m")),
        (BallPutUp(d("50"), "g", d("1.2"), "m"), BallPutUp(d("50"), "g", d("1200"), "m")),
        (BallPutUp(d("1.2"), "kg", d("50"), "m"), BallPutUp(d("1200"), "kg", d("50"), "m")),
        ("hat", "hat"),
    ],
)
def test_the_other_reading_stands_wherever_the_number_stood(value: Value, other: Value) -> None:
    assert with_number(value, d("1.2"), d("1200")) == other
