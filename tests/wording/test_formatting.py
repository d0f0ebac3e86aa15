from datetime import date
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shopdesk.wording import formatting
from shopdesk.wording.formatting import ReaderPreferences

METRIC = ReaderPreferences("en")
IMPERIAL = ReaderPreferences("en", units="imperial")
BOTH = ReaderPreferences("en", units="both")


# 1 yd = 0.9144 m, 1 oz = 28.349523125 g and 1 in = 2.54 cm exactly (International yard and pound
# agreement, 1959); printed pairs such as 50 g / 1.75 oz and 219 yd / 200 m are common practice.
@pytest.mark.parametrize(
    ("shown_by", "value", "metric", "imperial"),
    [
        (formatting.yarn_length, 200, "200 m", "219 yd"),
        (formatting.yarn_length, 9.144, "9.1 m", "10 yd"),
        (formatting.yarn_length, 2000.4, "2000 m", "2188 yd"),
        (formatting.mass, 50, "50 g", "1.8 oz"),
        (formatting.mass, 4.25, "4.3 g", "0.1 oz"),
        (formatting.size, 101.6, "101.6 cm", "40 in"),
        (formatting.size, 135.5, "135.5 cm", "53¼ in"),
        (formatting.size, 1, "1 cm", "0.4 in"),
        (formatting.size, -10, "-10 cm", "-4 in"),
        (formatting.temperature, 30, "30 °C", "86 °F"),
        (formatting.temperature, 40, "40 °C", "104 °F"),
        (formatting.millimetres, 3.75, "3.75 mm", "3.75 mm"),
    ],
)
def test_value_in_each_unit(shown_by, value, metric, imperial) -> None:
    assert shown_by(value, METRIC) == metric
    assert shown_by(value, IMPERIAL) == imperial
    if metric != imperial:
        assert shown_by(value, BOTH) == f"{metric} ({imperial})"


@pytest.mark.parametrize(
    ("language", "large", "small"),
    [
        ("en", "1,000,000", "0.00125"),
        ("de", "1.000.000", "0,00125"),
        ("fr", "1\u202f000\u202f000", "0,00125"),
    ],
)
def test_large_numbers_are_grouped_and_exact_ones_keep_every_place(language, large, small) -> None:
    """Separators of CLDR."""
    reader = ReaderPreferences(language)
    assert formatting.grouped(1_000_000, reader) == large
    assert formatting.in_full(Decimal("0.00125"), reader) == small


@pytest.mark.parametrize("value", [2**31, 10**30 + 1, -(10**400)])
def test_long_whole_numbers_are_said_in_full(value: int) -> None:
    assert formatting.number(value, METRIC) == str(value)


@pytest.mark.parametrize("value", [-0.0, -0.001, Decimal("-0"), 0])
def test_nothing_has_no_sign(value) -> None:
    assert formatting.number(value, METRIC) == "0"


@pytest.mark.parametrize(
    ("language", "words"), [("en", "3.75 mm"), ("de", "3,75 mm"), ("fr", "3,75 mm")]
)
def test_numbers_take_the_languages_decimal_sign(language, words) -> None:
    assert formatting.millimetres(3.75, ReaderPreferences(language)) == words


# Minor units of ISO 4217: EUR 2, JPY 0, KWD 3, IQD 3. A half is rounded away from zero.
@pytest.mark.parametrize(
    ("amount", "currency", "words"),
    [
        ("2.675", "EUR", "€2.68"),
        ("2.665", "EUR", "€2.67"),
        ("1234.5", "JPY", "¥1,235"),
        ("1.0005", "KWD", "KWD\u00a01.001"),
        ("12.3455", "IQD", "IQD\u00a012.346"),
        ("-3", "CHF", "-CHF\u00a03.00"),
    ],
)
def test_money_is_rounded_exactly(amount, currency, words) -> None:
    assert formatting.money(Decimal(amount), ReaderPreferences("en", currency=currency)) == words


def test_money_and_percent_in_german_and_french() -> None:
    assert formatting.money(Decimal("54.6"), ReaderPreferences("de")) == "54,60\u00a0€"
    assert formatting.money(Decimal("54.6"), ReaderPreferences("fr")) == "54,60\u00a0€"
    assert formatting.percent(Decimal("12.5"), ReaderPreferences("de")) == "12,5\u00a0%"
    assert formatting.percent(10, ReaderPreferences("en")) == "10%"


def test_unknown_language_shows_values_in_english() -> None:
    assert formatting.day(date(2026, 11, 25), ReaderPreferences("xx")) == "Nov 25, 2026"
    assert formatting.day(date(2026, 11, 25), ReaderPreferences("")) == "Nov 25, 2026"


@given(st.floats(0, 1e6, allow_nan=False))
def test_a_length_is_never_shown_further_off_than_its_last_place(metres: float) -> None:
    number = formatting.yarn_length(metres, METRIC).removesuffix(" m")
    assert abs(float(number) - metres) <= 0.5 + 1e-9


def test_a_number_of_many_places_is_written_in_full() -> None:
    """2 to the 63rd is 9223372036854775808."""
    large = formatting.in_full(Decimal(2) ** 63, ReaderPreferences())
    assert large == "9223372036854775808"
