"""Numbers with a unit: read strictly first, then converted by pint to our fixed units."""

import re
from dataclasses import dataclass
from decimal import Decimal
from functools import cache
from typing import TYPE_CHECKING

from shopdesk.reading.numbers import NUMBER_PATTERN, NumberRefused, read_number

if TYPE_CHECKING:
    from pint import UnitRegistry

LENGTH_UNITS = {
    "m": "meter",
    "yd": "yard",
    "cm": "centimeter",
    "mm": "millimeter",
    "in": "inch",
    "ft": "foot",
}
MASS_UNITS = {"g": "gram", "kg": "kilogram", "oz": "ounce", "lb": "pound"}
SPELLINGS = {
    "metre": "m", "metres": "m", "meter": "m", "meters": "m", "mtr": "m", "mtrs": "m", "mts": "m",
    "yard": "yd", "yards": "yd", "yds": "yd",
    "centimetre": "cm", "centimetres": "cm", "centimeter": "cm", "centimeters": "cm", "cms": "cm",
    "millimetre": "mm", "millimetres": "mm", "millimeter": "mm", "millimeters": "mm",
    "inch": "in", "inches": "in", "ins": "in", '"': "in", "″": "in", "”": "in",
    "feet": "ft", "foot": "ft",
    "gram": "g", "grams": "g", "gramme": "g", "grammes": "g", "gr": "g", "gm": "g", "gms": "g",
    "kilo": "kg", "kilos": "kg", "kilogram": "kg", "kilograms": "kg",
    "ounce": "oz", "ounces": "oz", "ozs": "oz", "pound": "lb", "pounds": "lb", "lbs": "lb",
}  # fmt: skip
_QUANTITY = re.compile(
    rf"\s*(?P<number>[-\u2212+]?(?:{NUMBER_PATTERN}))\s*(?P<unit>[^\d\s.,]*?)\.?\s*\Z"
)


@dataclass(frozen=True, slots=True)
class Quantity:
    """A number as written and the short name of its unit."""

    value: Decimal
    unit: str


@cache
def _registry() -> "UnitRegistry[float]":
    from pint import UnitRegistry

    return UnitRegistry(cache_folder=None)


@cache
def factor(unit: str, to: str) -> float:
    """Returns how many `to` units one `unit` is, both short names such as 'yd' and 'm'."""
    names = LENGTH_UNITS | MASS_UNITS
    quantity = _registry().Quantity(1.0, names[unit])
    return float(quantity.to(names[to]).magnitude)


def unit_named(text: str, allowed: dict[str, str]) -> str | None:
    """Returns the short unit name for what was written, or None if it is not an allowed one."""
    plain = text.strip().casefold()
    unit = SPELLINGS.get(plain, plain)
    return unit if unit in allowed else None


def read_quantity(text: str, allowed: dict[str, str], default: str | None = None) -> Quantity:
    """Returns the quantity in `text` ('246 yd', '1¾ oz'); `default` is the unit if none is written.

    `allowed` is LENGTH_UNITS or MASS_UNITS. Raises NumberRefused.
    """
    right = f"write a number and a unit ({', '.join(allowed)}) such as 220 {next(iter(allowed))}"
    match = _QUANTITY.match(text[:200]) if len(text) <= 200 else None
    if match is None:
        raise NumberRefused(f"'{text.strip()[:60]}' is not a number with a unit", right)
    value = read_number(match["number"], right)
    if not match["unit"]:
        if default is None:
            raise NumberRefused(f"'{text.strip()}' has no unit", right)
        return Quantity(value, default)
    unit = unit_named(match["unit"], allowed)
    if unit is None:
        raise NumberRefused(f"'{match['unit'][:20]}' is not a unit that fits here", right)
    return Quantity(value, unit)


def metres(quantity: Quantity) -> float:
    """Returns a length in metres."""
    return float(quantity.value) * factor(quantity.unit, "m")


def grams(quantity: Quantity) -> float:
    """Returns a mass in grams."""
    return float(quantity.value) * factor(quantity.unit, "g")


def centimetres(quantity: Quantity) -> float:
    """Returns a length in cm."""
    return float(quantity.value) * factor(quantity.unit, "cm")


def millimetres(quantity: Quantity) -> float:
    """Returns a length in mm."""
    return float(quantity.value) * factor(quantity.unit, "mm")
