"""Numbers with a unit, read strictly first and then converted by pint; and lists of names."""

import re
from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal
from functools import cache
from typing import TYPE_CHECKING

from shopdesk.craft.messages import Message, message
from shopdesk.craft.numerals import NUMBER_PATTERN, NumberRefused, read_number
from shopdesk.reference.tables import table

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
_WRITTEN = {
    "m": "metre metres meter meters mtr mtrs mts metern mètre mètres",
    "yd": "yard yards yds yrd yrds verge verges",
    "cm": "centimetre centimetres centimeter centimeters cms zentimeter centimètre centimètres",
    "mm": "millimetre millimetres millimeter millimeters mms millimètre millimètres",
    "in": "inch inches ins zoll pouce pouces \" ″ ” ''",
    "ft": "foot feet ' ′ ’",
    "g": "gram grams gramme grammes gr grs gm gms gramm",
    "kg": "kilo kilos kilogram kilograms kilogramm kilogramme kilogrammes kgs",
    "oz": "ounce ounces ozs unze unzen once onces",
    "lb": "pound pounds lbs",
}
SPELLINGS = {word: unit for unit, words in _WRITTEN.items() for word in words.split()}
LONGEST = 200
_QUANTITY = re.compile(
    rf"\s*(?P<number>[-\u2212+]?(?:{NUMBER_PATTERN}))\s*(?P<unit>[^\d\s.,]*)\.?\s*\Z"
)
_GROUPED_HINT = re.compile(r"\s*[-+]?[0-9]{1,3}(?:[ \u00a0\u2009\u202f'’.,][0-9]{3})+(?![0-9])")
_TWO_FIGURES = re.compile(r"\s*[0-9][^0-9]*[a-z\"'″′][^0-9]*[0-9]", re.IGNORECASE)


@dataclass(frozen=True, slots=True)
class Quantity:
    """A number as written and the short name of its unit."""

    value: Decimal
    unit: str


@cache
def _registry() -> "UnitRegistry[Decimal]":
    """Pint with the units of reference/units.csv only: its own whole list is slow to load."""
    from pint import UnitRegistry

    registry: UnitRegistry[Decimal] = UnitRegistry(None, non_int_type=Decimal, cache_folder=None)
    for dimension, unit in (("length", "m"), ("mass", "g")):
        registry.define(f"{unit} = [{dimension}]")
    for row in table("units"):
        if row["unit"] != row["si_unit"]:
            registry.define(f"{row['unit']} = {row['si_value']} * {row['si_unit']}")
    return registry


@cache
def _metric() -> dict[str, Decimal]:
    """The powers of ten between metric units, which need no library to shift a point."""
    return {r["unit"]: Decimal(r["si_value"]) for r in table("units") if r["source"] == "SI"}


@cache
def exact_factor(unit: str, to: str) -> Decimal:
    """Returns how many `to` units one `unit` is, both short names such as 'yd' and 'm'."""
    metric = _metric()
    if unit in metric and to in metric:
        return metric[unit] / metric[to]
    return Decimal(_registry().Quantity(Decimal(1), unit).to(to).magnitude)


def factor(unit: str, to: str) -> float:
    """Returns `exact_factor` as a float."""
    return float(exact_factor(unit, to))


def converted(quantity: Quantity, to: str) -> float:
    """Returns the quantity in `to` units: multiplied exactly, made a float once."""
    return float(quantity.value * exact_factor(quantity.unit, to))


def unit_named(text: str, allowed: Mapping[str, str]) -> str | None:
    """Returns the short unit name for what was written, or None if it is not an allowed one."""
    plain = text.strip().casefold()
    unit = SPELLINGS.get(plain, plain)
    return unit if unit in allowed else None


def read_quantity(text: str, allowed: Mapping[str, str], default: str | None = None) -> Quantity:
    """Returns the quantity in `text` ('246 yd', '1¾ oz'); `default` is the unit if none is written.

    `allowed` is LENGTH_UNITS or MASS_UNITS. One number and one unit: '5 ft 6 in' is refused.
    Raises NumberRefused.
    """
    right = message(
        "problem_reading.write_quantity", units=", ".join(allowed), unit=next(iter(allowed))
    )
    match = _QUANTITY.match(text) if len(text) <= LONGEST else None
    if match is None:
        raise NumberRefused(_why_not(text), right)
    value = read_number(match["number"], right)
    if not match["unit"]:
        if default is None:
            raise NumberRefused(message("problem_reading.no_unit", text=text.strip()), right)
        return Quantity(value, default)
    unit = unit_named(match["unit"], allowed)
    if unit is None:
        wrong = message("problem_reading.wrong_unit", text=match["unit"][:20])
        raise NumberRefused(wrong, right)
    return Quantity(value, unit)


def _why_not(text: str) -> Message:
    shown = text.strip()[:60]
    if not shown:
        return message("problem_reading.nothing")
    if _GROUPED_HINT.match(shown):
        return message("problem_reading.thousands_apart", text=shown)
    if _TWO_FIGURES.match(shown):
        return message("problem_reading.two_figures", text=shown)
    return message("problem_reading.no_quantity", text=shown)


def metres(quantity: Quantity) -> float:
    """Returns a length in metres."""
    return converted(quantity, "m")


def grams(quantity: Quantity) -> float:
    """Returns a mass in grams."""
    return converted(quantity, "g")


def centimetres(quantity: Quantity) -> float:
    """Returns a length in cm."""
    return converted(quantity, "cm")


def millimetres(quantity: Quantity) -> float:
    """Returns a length in mm."""
    return converted(quantity, "mm")


_BRACKETS = re.compile(r"[()\[\]{};]")
_NUMBER_GAP = re.compile(r"[()\[\]{};]|,(?![0-9])|(?<![0-9]),")


def names_listed(text: str) -> list[str]:
    """Returns the names in a list; any comma, semicolon or bracket parts them."""
    return [name.strip() for name in _BRACKETS.sub(",", text).split(",") if name.strip()]


def numbers_listed(text: str) -> list[str]:
    """Returns the numbers in a list, each as written.

    A comma between two digits is a decimal comma ('3,5'), any other comma parts two numbers.
    """
    return [number.strip() for number in _NUMBER_GAP.split(text) if number.strip()]
