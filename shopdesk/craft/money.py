"""Money in Decimal, rounded half up to the currency's own minor unit (ISO 4217)."""

from decimal import ROUND_HALF_UP, Decimal
from functools import cache

from shopdesk.craft.errors import InputError
from shopdesk.craft.gauge import require_positive
from shopdesk.craft.messages import message
from shopdesk.reference.tables import table


class CurrencyRefused(InputError):
    """A currency code that ISO 4217 does not list."""

    def __init__(self, currency: str) -> None:
        super().__init__(
            message("problem_yarn.currency", text=currency[:20]),
            message("problem_yarn.write_currency"),
        )


@cache
def _all_minor_units() -> dict[str, int]:
    return {row["code"]: int(row["minor_units"]) for row in table("currencies")}


def currencies() -> tuple[str, ...]:
    """Returns every currency code of ISO 4217 that has a minor unit, in order."""
    return tuple(_all_minor_units())


def minor_units(currency: str) -> int:
    """Returns the decimal places of a currency: EUR 2, JPY 0, KWD 3. Raises CurrencyRefused."""
    units = _all_minor_units().get(currency)
    if units is None:
        raise CurrencyRefused(currency)
    return units


def from_minor(minor: int, currency: str) -> Decimal:
    """Returns the exact amount that so many minor units are. Raises CurrencyRefused."""
    return Decimal(minor).scaleb(-minor_units(currency))


def in_minor(amount: Decimal, currency: str) -> Decimal:
    """Returns the amount in minor units, exactly, so 6.50 EUR is 650. Raises CurrencyRefused."""
    return amount.scaleb(minor_units(currency))


def rounded(amount: Decimal, currency: str) -> Decimal:
    """Returns the amount rounded half up to the currency's minor unit. Raises CurrencyRefused."""
    return amount.quantize(Decimal().scaleb(-minor_units(currency)), ROUND_HALF_UP)


def line_total(each: Decimal, count: int, currency: str) -> Decimal:
    """Returns the price of so many skeins at the price of one. Raises CurrencyRefused."""
    return rounded(each * count, currency)


def per_100(each: Decimal, per_skein: float, currency: str) -> Decimal:
    """Returns the price of 100 m or 100 g from that of a skein holding so many m or g.

    Raises CurrencyRefused, and ValueError if the skein holds nothing.
    """
    require_positive(per_skein=per_skein)
    return rounded(each * 100 / Decimal(repr(float(per_skein))), currency)
