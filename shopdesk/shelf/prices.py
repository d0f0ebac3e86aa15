"""Prices as stored: whole minor units of the shop's currency."""

from decimal import Decimal

from shopdesk.craft.money import minor_units
from shopdesk.craft.refusals import Refused

HIGHEST_MINOR = 2_000_000_000


class PriceRefused(Refused):
    """An amount that is no price."""


def to_minor(amount: Decimal, currency: str) -> int:
    """Returns the amount in minor units, so 6.50 EUR is 650. Raises PriceRefused."""
    minor = amount.scaleb(minor_units(currency))
    if minor != minor.to_integral_value() or not 0 <= minor <= HIGHEST_MINOR:
        raise PriceRefused(
            f"{amount:f} is no price in {currency}",
            f"write an amount from 0 with at most {minor_units(currency)} decimals",
        )
    return int(minor)
