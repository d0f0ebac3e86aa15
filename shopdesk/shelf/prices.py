"""Prices as stored: whole minor units of the shop's currency, and back to exact decimals."""

from decimal import Decimal

from babel.numbers import get_currency_precision


def minor_digits(currency: str) -> int:
    """Returns how many decimals an amount in this currency has (ISO 4217): EUR 2, JPY 0."""
    return get_currency_precision(currency)


def to_minor(amount: Decimal, currency: str) -> int:
    """Returns the amount in minor units, so 6.50 EUR is 650. Raises ValueError if it is not whole."""
    minor = amount.scaleb(minor_digits(currency))
    if minor != minor.to_integral_value():
        raise ValueError(f"{amount} is no amount in {currency}, which has {minor_digits(currency)}")
    return int(minor)


def from_minor(minor: int, currency: str) -> Decimal:
    """Returns the exact amount that so many minor units are."""
    return Decimal(minor).scaleb(-minor_digits(currency))
