from decimal import Decimal

import pytest
from babel.numbers import get_currency_precision
from hypothesis import given
from hypothesis import strategies as st

from shopdesk.craft.money import (
    CurrencyRefused,
    currencies,
    from_minor,
    in_minor,
    line_total,
    minor_units,
    per_100,
    rounded,
)

# ISO 4217 list one, as published 2026-01-01: every currency whose minor unit is not 2.
NOT_TWO = {
    0: "BIF CLP DJF GNF ISK JPY KMF KRW PYG RWF UGX UYI VND VUV XAF XOF XPF",
    3: "BHD IQD JOD KWD LYD OMR TND",
    4: "CLF UYW",
}


def test_minor_units_are_those_of_iso_4217() -> None:
    listed = {code: units for units, codes in NOT_TWO.items() for code in codes.split()}
    assert {code: minor_units(code) for code in currencies() if minor_units(code) != 2} == listed


@pytest.mark.parametrize(
    "code",
    ["EUR", "GBP", "USD", "CHF", "CAD", "AUD", "NZD", "SEK", "NOK", "DKK", "PLN", "JPY", "KWD"],
)
def test_minor_units_agree_with_cldr(code: str) -> None:
    assert minor_units(code) == get_currency_precision(code)


@pytest.mark.parametrize(
    ("amount", "currency", "shown"),
    [
        ("2.005", "EUR", "2.01"),
        ("2.015", "EUR", "2.02"),
        ("-2.005", "EUR", "-2.01"),
        ("100.5", "JPY", "101"),
        ("1.2345", "KWD", "1.235"),
    ],
)
def test_halves_are_rounded_up(amount: str, currency: str, shown: str) -> None:
    assert str(rounded(Decimal(amount), currency)) == shown


@given(each=st.decimals(Decimal("0.01"), Decimal(500), places=2), count=st.integers(0, 200))
def test_a_total_is_exact(each: Decimal, count: int) -> None:
    assert line_total(each, count, "EUR") == sum([each] * count, Decimal(0))


def test_prices_for_comparison() -> None:
    # 6.50 for 50 g and 125 m: 13.00 for 100 g and 5.20 for 100 m, worked by hand.
    assert per_100(Decimal("6.50"), 50, "EUR") == Decimal("13.00")
    assert per_100(Decimal("6.50"), 125.0, "EUR") == Decimal("5.20")
    assert per_100(Decimal("7.95"), 112.4712, "EUR") == Decimal("7.07")


@pytest.mark.parametrize("code", ["", "eur", "EU", "ZZZ", "<b>EUR</b>" * 10])
def test_unknown_currencies_are_refused(code: str) -> None:
    with pytest.raises(CurrencyRefused, match="ISO 4217"):
        rounded(Decimal(1), code)


def test_a_price_per_nothing_is_refused() -> None:
    with pytest.raises(ValueError, match="per_skein"):
        per_100(Decimal(1), 0, "EUR")


def test_20_letters_of_an_unknown_currency_are_told_back() -> None:
    with pytest.raises(CurrencyRefused) as refused:
        minor_units("x" * 30)
    assert refused.value.problem.wrong.values == {"text": "x" * 20}


def test_minor_units_and_amounts_are_exact() -> None:
    assert from_minor(1999, "EUR") == Decimal("19.99")
    assert from_minor(1999, "JPY") == Decimal(1999)
    assert str(rounded(Decimal("2"), "EUR")) == "2.00"
    assert str(rounded(Decimal("2.004"), "EUR")) == "2.00"
    assert str(rounded(Decimal("2.0149"), "EUR")) == "2.01"


def test_an_amount_in_minor_units_is_exact_and_comes_back() -> None:
    # ISO 4217: the euro has two minor digits, the yen none.
    assert in_minor(Decimal("6.50"), "EUR") == 650
    assert in_minor(Decimal("6.505"), "EUR") == Decimal("650.5")
    assert in_minor(Decimal(650), "JPY") == 650
    assert from_minor(int(in_minor(Decimal("6.50"), "EUR")), "EUR") == Decimal("6.50")
