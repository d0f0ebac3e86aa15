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
from shopdesk.craft.messages import message, significant
from shopdesk.craft.money import minor_units
from shopdesk.craft.numerals import read_number
from shopdesk.craft.quantity import MOST_SKEINS
from shopdesk.craft.tools import SYSTEMS, tool_mm
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
_RANGE = re.compile(r"\s*(?:-|–|—|\bto\b|\bbis\b|\bà\b)\s*")
_EQUALS = re.compile(r"\s*(?:=|\bor\b|\boder\b|\bou\b|/(?=\s*[0-9.,½¼¾ ]+\s*[a-zA-Z])|\()\s*")
_COUNTED = re.compile(
    r"\A(?P<count>.*?)\s*(?:sts?|stitches|rows?|maschen|m\b|reihen|r\b|mailles?|rangs?)?\.?\s*"
    r"(?:(?:/|=|\bper\b|\bauf\b|\bsur\b|\bover\b|\bon\b)\s*(?P<over>[0-9.,]*\s*(?:cm|mm|in|inch|\"|″))?)?\s*\Z",
    re.IGNORECASE,
)
_TOOL_SYSTEM = re.compile(r"\b(US|UK|JP)\b")


def no_date(text: str) -> None:
    """Raises InputError for a date, which a spreadsheet makes of numbers such as 5.4."""
    if text.startswith(DATE_MARK):
        raise InputError(
            message("problem_file.date", text=text[1:]),
            message("problem_file.write_again"),
        )


def text_cell(column: str, longest: int, *, lines: bool = False, needed: bool = False) -> Reader:
    """Returns a reader of texts up to so many characters; `lines` allows several lines."""

    def read(text: str, _unit: str) -> Values:
        no_date(text)
        written = "\n".join(line.strip() for line in text.strip().splitlines())
        if needed and not written:
            raise InputError(message("problem_reading.nothing"), message("problem_file.write_text"))
        if len(written) > longest:
            wrong = message("problem_shelf.too_many_letters", count=len(written))
            raise InputError(wrong, message("problem_file.write_at_most", count=longest))
        allowed = written.replace("\n", "") if lines else written
        if not allowed.isprintable():
            wrong = message("problem_file.no_letters")
            raise InputError(wrong, message("problem_file.one_line"))
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
            wrong = message("problem_file.neither", text=shown(text))
            raise InputError(wrong, message("problem_shelf.yes_or_no"))
        return {column: plain in YES}

    return read


@lru_cache(4096)
def skeins(text: str) -> int:
    """Returns a whole number of skeins from 0. Raises InputError."""
    no_date(text)
    right = message("problem_file.write_whole", low=0, high=f"{MOST_SKEINS:,}".replace(",", " "))
    number = read_number(text, right)
    if number != number.to_integral_value() or not 0 <= number <= MOST_SKEINS:
        raise InputError(message("problem_file.no_skeins", text=text.strip()), right)
    return int(number)


def whole(column: str, low: int, high: int) -> Reader:
    """Returns a reader of whole numbers; an empty cell is not known."""

    def read(text: str, _unit: str) -> Values:
        no_date(text)
        if not text.strip():
            return {column: None}
        right = message("problem_file.write_whole", low=low, high=high)
        number = read_number(text, right)
        if number != number.to_integral_value() or not low <= number <= high:
            wrong = message("problem_file.no_whole", text=text.strip(), low=low, high=high)
            raise InputError(wrong, right)
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
            message("problem_file.cannot_be", text=shown(text.strip())),
            message("problem_file.write_up_to", unit=usual, most=most),
        )
    for other in found[1:]:
        if abs(other - found[0]) > found[0] * float(AGREE_WITHIN):
            raise _says_two(text, found[0], other, usual)
    return found[0]


def _says_two(text: str, one: float, other: float, unit: str) -> InputError:
    wrong = message(
        "problem_file.says_two",
        text=shown(text.strip()),
        one_exact=significant(one, 4),
        other_exact=significant(other, 4),
        unit=unit,
    )
    return InputError(wrong, message("problem_file.leave_one_out"))


def put_up_cell(text: str, _unit: str) -> Values:
    """Reads '50 g / 125 m' or '100 g = 246 yd' into grams and metres."""
    no_date(text)
    if not text.strip():
        return {"put_up_g": None, "put_up_m": None}
    right = message("problem_file.write_put_up")
    masses: list[str] = []
    lengths: list[str] = []
    for part in re.split(r"[/=,;()]|\bor\b", text):
        if part.strip():
            unit = re.sub(r"[\d\s.,½¼¾/⅓⅔-]+", "", part).strip(".").casefold()
            (masses if SPELLINGS.get(unit, unit) in MASS_UNITS else lengths).append(part)
    if not masses or not lengths:
        raise InputError(message("problem_file.no_put_up", text=shown(text.strip())), right)
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
        right = message("problem_file.write_gauge")
        if len(counts) > len(columns):
            raise InputError(message("problem_file.two_numbers", text=shown(text.strip())), right)
        numbers = [float(read_number(count, right)) for count in counts]
        found = [per_10cm(number, over_mm) if number > 0 else 0.0 for number in numbers]
        if not all(0 < number <= 200 for number in found):
            raise InputError(message("problem_file.no_gauge", text=shown(text.strip())), right)
        return dict(zip(columns, (found[0], found[-1]), strict=False))

    return read


def _over_mm(text: str) -> float:
    if not text.strip():
        return 100.0
    written = text.strip() if text.strip()[0].isdigit() else f"1 {text.strip()}"
    over = converted(read_quantity(written, LENGTH_UNITS), "mm")
    if over <= 0:
        wrong = message("problem_file.gauge_over", text=shown(text))
        raise InputError(wrong, message("problem_file.over_10_cm"))
    return over


def tool(craft: Craft, *columns: str) -> Reader:
    """Returns a reader of needles or hooks: '4', '3.5-4 mm', 'US 7', 'US 6 - 7'."""

    def read(text: str, unit: str) -> Values:
        no_date(text)
        if not text.strip():
            return dict.fromkeys(columns)
        named = _TOOL_SYSTEM.search(text.upper())
        system = named[1] if named else unit if unit in SYSTEMS else "mm"
        dash_in_name = system != "mm" and not re.search(r"\s[-–—]\s", text)
        sizes = [text] if dash_in_name else _RANGE.split(text)
        if len(sizes) > len(columns):
            wrong = message("problem_file.two_sizes", text=shown(text.strip()))
            raise InputError(wrong, message("problem_file.one_size"))
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
        right = refusal.problem.right
        if re.search(r"[eE][+-]?[0-9]", text):
            right = message("problem_file.digits_cut")
        raise InputError(refusal.problem.wrong, right) from None


def price(currency: str) -> Reader:
    """Returns a reader of prices of one skein: '6.50', '6,50 €', 'EUR 6.50'."""
    from babel.numbers import get_currency_symbol

    signs = {currency, get_currency_symbol(currency, "en")}

    def read(text: str, unit: str) -> Values:
        no_date(text)
        if len(unit) == 3 and unit.isupper() and unit != currency:
            wrong = message("problem_file.other_currency", currency=unit)
            raise InputError(wrong, message("problem_file.prices_in", currency=currency))
        bare = text.strip()
        for sign in signs:
            bare = bare.removeprefix(sign).removesuffix(sign).strip()
        right = message("problem_file.write_amount", currency=currency)
        number = read_number(bare, right, thousandths=minor_units(currency) == 3)
        return {"price_minor": to_minor(number, currency)}

    return read
