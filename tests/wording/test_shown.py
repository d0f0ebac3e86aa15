from datetime import date
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shopdesk.wording import shown
from shopdesk.wording.voice import Voice

METRIC = Voice("en")
IMPERIAL = Voice("en", units="imperial")
BOTH = Voice("en", units="both")


# 1 yd = 0.9144 m, 1 oz = 28.349523125 g and 1 in = 2.54 cm exactly (International yard and pound
# agreement, 1959); printed pairs such as 50 g / 1.75 oz and 219 yd / 200 m are common practice.
@pytest.mark.parametrize(
    ("shown_by", "value", "metric", "imperial"),
    [
        (shown.yarn_length, 200, "200 m", "219 yd"),
        (shown.yarn_length, 9.144, "9.1 m", "10 yd"),
        (shown.yarn_length, 2000.4, "2000 m", "2188 yd"),
        (shown.mass, 50, "50 g", "1.8 oz"),
        (shown.mass, 4.25, "4.3 g", "0.1 oz"),
        (shown.size, 101.6, "101.6 cm", "40 in"),
        (shown.size, 135.5, "135.5 cm", "53¼ in"),
        (shown.size, 1, "1 cm", "0.4 in"),
        (shown.size, -10, "-10 cm", "-4 in"),
        (shown.temperature, 30, "30 °C", "86 °F"),
        (shown.temperature, 40, "40 °C", "104 °F"),
        (shown.millimetres, 3.75, "3.75 mm", "3.75 mm"),
    ],
)
def test_value_in_each_unit(shown_by, value, metric, imperial) -> None:
    assert shown_by(value, METRIC) == metric
    assert shown_by(value, IMPERIAL) == imperial
    if metric != imperial:
        assert shown_by(value, BOTH) == f"{metric} ({imperial})"


@pytest.mark.parametrize("value", [-0.0, -0.001, Decimal("-0"), 0])
def test_nothing_has_no_sign(value) -> None:
    assert shown.number(value, METRIC) == "0"


@pytest.mark.parametrize(
    ("language", "words"), [("en", "3.75 mm"), ("de", "3,75 mm"), ("fr", "3,75 mm")]
)
def test_numbers_take_the_languages_decimal_sign(language, words) -> None:
    assert shown.millimetres(3.75, Voice(language)) == words


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
    assert shown.money(Decimal(amount), Voice("en", currency=currency)) == words


def test_money_and_percent_in_german_and_french() -> None:
    assert shown.money(Decimal("54.6"), Voice("de")) == "54,60\u00a0€"
    assert shown.money(Decimal("54.6"), Voice("fr")) == "54,60\u00a0€"
    assert shown.percent(Decimal("12.5"), Voice("de")) == "12,5\u00a0%"
    assert shown.percent(10, Voice("en")) == "10%"


def test_unknown_language_shows_values_in_english() -> None:
    assert shown.day(date(2026, 11, 25), Voice("xx")) == "Nov 25, 2026"
    assert shown.day(date(2026, 11, 25), Voice("")) == "Nov 25, 2026"


@given(st.floats(0, 1e6, allow_nan=False))
def test_a_length_is_never_shown_further_off_than_its_last_place(metres: float) -> None:
    number = shown.yarn_length(metres, METRIC).removesuffix(" m")
    assert abs(float(number) - metres) <= 0.5 + 1e-9
