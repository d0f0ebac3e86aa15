"""Stored values as they are written in a table, so that the readers take them back unchanged."""

from decimal import Decimal
from typing import cast

from shopdesk.craft.money import from_minor
from shopdesk.shelf.importing.blends import Pair, written_blend


def written(field: str, value: object, currency: str) -> str:
    """Returns the value of a stored field as text; what is not known is ''."""
    if value is None:
        return ""
    if field == "price_minor":
        return f"{from_minor(cast(int, value), currency):f}"
    if field == "fibres":
        return written_blend(cast(tuple[Pair, ...], value))
    if field == "attributes":
        return ", ".join(cast(tuple[str, ...], value))
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, float):
        return f"{Decimal(repr(value)).normalize():f}"
    return str(value)
