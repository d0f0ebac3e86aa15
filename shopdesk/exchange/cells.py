"""How single cells are read: texts, whole numbers, lengths and masses, gauges, tools, prices.

Each reader takes the cell and the unit that the heading names; what cannot be is InputError.
"""

import re
from collections.abc import Callable, Mapping
from decimal import Decimal
from functools import lru_cache

from shopdesk.craft.errors import InputError
from shopdesk.craft.gauge import per_10cm
from shopdesk.craft.lengths import PUT_UP
from shopdesk.craft.money import minor_units
from shopdesk.craft.numerals import read_number
from shopdesk.craft.tools import tool_mm
from shopdesk.craft.yarn import Craft
from shopdesk.exchange.columns import Reader, Values
from shopdesk.exchange.problems import shown
from shopdesk.exchange.workbooks import DATE_MARK
from shopdesk.parsing.gtins import GtinRefused, read_gtin
from shopdesk.parsing.quantities import (
    LENGTH_UNITS,
    MASS_UNITS,
    SPELLINGS,
    Quantity,
    converted,
    grams,
    metres,
    read_quantity,
)
from shopdesk.shelf.mapping import to_minor

YES = frozenset({"yes", "y", "true", "1", "x", "ja", "oui"})
NO = frozenset({"no", "n", "false", "0", "", "nein", "non"})
AGREE_WITHIN = Decimal("0.03")
MOST_SKEINS = 1_000_000
_RANGE = re.compile(r"\s*(?:-|–|—|\bto\b|\bbis\b|\bà\b)\s*")
_EQUALS = re.compile(r"\s*(?:=|\bor\b|\boder\b|\bou\b|/(?=\s*[0-9.,½¼¾ ]+\s*[a-zA-Z])|\()\s*")
_COUNTED = re.compile(
    r"\A(?P<count>.*?)\s*(?:sts?|stitches|rows?|maschen|m\b|reihen|r\b|mailles?|rangs?)?\.?\s*"
    r"(?:(?:/|=|\bper\b|\bauf\b|\bsur\b|\bover\b|\bon\b)\s*(?P<over>[0-9.,]*\s*(?:cm|mm|in|inch|\"|″))?)?\s*\Z",
    re.IGNORECASE,
)
_TOOL_SYSTEM = re.compile(r"\b(US|UK)\b")


def no_date(text: str) -> None:
    """Raises InputError for a date, which a spreadsheet makes of numbers such as 5.4."""
    if text.startswith(DATE_MARK):
        raise InputError(
            f"the spreadsheet holds the date {text[1:]} here",
            "format the column as text and write the value again",
        )


def text_cell(column: str, longest: int, *, lines: bool = False, needed: bool = False) -> Reader:
    """Returns a reader of texts up to so many characters; `lines` allows several lines."""

    def read(text: str, _unit: str) -> Values:
        no_date(text)
        written = "\n".join(line.strip() for line in text.strip().splitlines())
        if needed and not written:
            raise InputError("nothing is written here", "write a text")
        if len(written) > longest:
            raise InputError(f"{len(written)} characters are too many", f"write {longest} at most")
        allowed = written.replace("\n", "") if lines else written
        if not allowed.isprintable():
            raise InputError("it holds characters that are no text", "write it in one plain line")
        return {column: written}

    return read


def optional_text(column: str, longest: int) -> Reader:
    """Returns a reader of a text whose empty cell means that the label does not say."""
    read_text = text_cell(column, longest)
    return lambda text, unit: {column: read_text(text, unit)[column] or None}


def yes_no(column: str) -> Reader:
    """Returns a reader of yes and no; an empty cell is no."""

    def read(text: str, _unit: str) -> Values:
        plain = text.strip().casefold()
        if plain not in YES | NO:
            raise InputError(f"'{shown(text)}' is neither yes nor no", "write yes or no")
        return {column: plain in YES}

    return read


@lru_cache(4096)
def skeins(text: str) -> int:
    """Returns a whole number of skeins from 0. Raises InputError."""
    no_date(text)
    right = f"write a whole number from 0 to {MOST_SKEINS:,}".replace(",", " ")
    number = read_number(text, right)
    if number != number.to_integral_value() or not 0 <= number <= MOST_SKEINS:
        raise InputError(f"'{text.strip()}' is no number of skeins", right)
    return int(number)


def whole(column: str, low: int, high: int) -> Reader:
    """Returns a reader of whole numbers; an empty cell is not known."""

    def read(text: str, _unit: str) -> Values:
        no_date(text)
        if not text.strip():
            return {column: None}
        right = f"write a whole number from {low} to {high}"
        number = read_number(text, right)
        if number != number.to_integral_value() or not low <= number <= high:
            raise InputError(f"'{text.strip()}' is not a whole number from {low} to {high}", right)
        return {column: int(number)}

    return read


def mass(text: str, unit: str) -> float | None:
    """Returns grams of '50', '1¾ oz', '50 g/1.75oz'; the heading's unit, else grams."""
    return _measured(text, unit, MASS_UNITS, "g", grams, 20_000)


def length(text: str, unit: str) -> float | None:
    """Returns metres of '125', '137 yd', '125 m / 137 yd'; the heading's unit, else metres."""
    return _measured(text, unit, LENGTH_UNITS, "m", metres, 50_000)


def _measured(
    text: str,
    unit: str,
    units: Mapping[str, str],
    usual: str,
    in_ours: Callable[[Quantity], float],
    most: float,
) -> float | None:
    no_date(text)
    if not text.strip():
        return None
    default = unit if unit in units else usual
    parts = [part.strip(" )") for part in _EQUALS.split(text.strip()) if part.strip(" )")]
    found = [in_ours(read_quantity(part, units, default)) for part in parts]
    if not found or not 0 < found[0] <= most:
        raise InputError(
            f"'{shown(text.strip())}' cannot be", f"write {usual} above 0 up to {most:g}"
        )
    for other in found[1:]:
        if abs(other - found[0]) > found[0] * float(AGREE_WITHIN):
            raise InputError(
                f"'{shown(text.strip())}' says {found[0]:.4g} {usual} and {other:.4g} {usual}",
                "leave out the one that is wrong",
            )
    return found[0]


def put_up_cell(text: str, _unit: str) -> Values:
    """Reads '50 g / 125 m' or '100 g = 246 yd' into grams and metres."""
    no_date(text)
    if not text.strip():
        return {"put_up_g": None, "put_up_m": None}
    right = "write mass and length such as 50 g / 125 m"
    masses: list[str] = []
    lengths: list[str] = []
    for part in re.split(r"[/=,;()]|\bor\b", text):
        if part.strip():
            unit = re.sub(r"[\d\s.,½¼¾/⅓⅔-]+", "", part).strip(".").casefold()
            (masses if SPELLINGS.get(unit, unit) in MASS_UNITS else lengths).append(part)
    if not masses or not lengths:
        raise InputError(f"'{shown(text.strip())}' does not say both mass and length", right)
    return {
        "put_up_g": mass(" = ".join(masses), ""),
        "put_up_m": length(" = ".join(lengths), ""),
        "put_up_printed": " ".join(text.split())[:PUT_UP],
    }


def measured(column: str, read_one: Callable[[str, str], float | None]) -> Reader:
    """Returns a reader of a mass or length into one column."""
    return lambda text, unit: {column: read_one(text, unit)}


def gauge(*columns: str) -> Reader:
    """Returns a reader of stitches or rows per 10 cm: '22', '22-24', '22 sts / 10 cm', '5.5 / in'.

    Of two columns the first gets the low end and the second the high end of a range.
    """

    def read(text: str, unit: str) -> Values:
        no_date(text)
        if not text.strip():
            return dict.fromkeys(columns)
        match = _COUNTED.match(text)
        over_mm = _over_mm((match["over"] if match else "") or unit)
        counts = _RANGE.split(match["count"] if match else text)
        right = "write stitches or rows per 10 cm such as 22, or 22-24 for a range"
        if len(counts) > len(columns):
            raise InputError(f"'{shown(text.strip())}' is more than one number", right)
        numbers = [float(read_number(count, right)) for count in counts]
        found = [per_10cm(number, over_mm) if number > 0 else 0.0 for number in numbers]
        if not all(0 < number <= 200 for number in found):
            raise InputError(f"'{shown(text.strip())}' is no gauge", right)
        return dict(zip(columns, (found[0], found[-1]), strict=False))

    return read


def _over_mm(text: str) -> float:
    if not text.strip():
        return 100.0
    written = text.strip() if text.strip()[0].isdigit() else f"1 {text.strip()}"
    over = converted(read_quantity(written, LENGTH_UNITS), "mm")
    if over <= 0:
        raise InputError(f"a gauge over '{shown(text)}' cannot be", "write it over 10 cm")
    return over


def tool(craft: Craft, *columns: str) -> Reader:
    """Returns a reader of needles or hooks: '4', '3.5-4 mm', 'US 7', 'US 6 - 7'."""

    def read(text: str, unit: str) -> Values:
        no_date(text)
        if not text.strip():
            return dict.fromkeys(columns)
        named = _TOOL_SYSTEM.search(text.upper())
        system = named[1] if named else unit if unit in ("US", "UK") else "mm"
        whole_size = len(columns) == 1 or system != "mm"
        sizes = [text] if whole_size and not re.search(r"\s[-–—]\s", text) else _RANGE.split(text)
        if len(sizes) > len(columns):
            raise InputError(f"'{shown(text.strip())}' is more than one size", "write one size")
        found = [tool_mm(size, system, craft) for size in sizes]
        return dict(zip(columns, (found[0], found[-1]), strict=False))

    return read


def barcode(text: str, _unit: str) -> Values:
    """Reads an article number, all its digits and the last one checked; empty is none."""
    no_date(text)
    if not text.strip():
        return {"gtin": None}
    try:
        return {"gtin": read_gtin(text).digits}
    except GtinRefused as refusal:
        right = refusal.right
        if re.search(r"[eE][+-]?[0-9]", text):
            right = "the spreadsheet cut its digits off; format the column as text and scan anew"
        raise InputError(refusal.wrong, right) from None


def price(currency: str) -> Reader:
    """Returns a reader of prices of one skein: '6.50', '6,50 €', 'EUR 6.50'."""
    from babel.numbers import get_currency_symbol

    signs = {currency, get_currency_symbol(currency, "en")}

    def read(text: str, unit: str) -> Values:
        no_date(text)
        if len(unit) == 3 and unit.isupper() and unit != currency:
            raise InputError(f"the heading says {unit}", f"give prices in {currency}")
        bare = text.strip()
        for sign in signs:
            bare = bare.removeprefix(sign).removesuffix(sign).strip()
        right = f"write an amount in {currency} such as 6.50"
        number = read_number(bare, right, thousandths=minor_units(currency) == 3)
        return {"price_minor": to_minor(number, currency)}

    return read
