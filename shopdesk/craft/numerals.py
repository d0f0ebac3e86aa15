"""How numbers are written in the trade, read strictly: '22', '3,5', '10 1/2', '10½'.

The one reader of numbers: tool sizes and yarn counts are written with them too, so it stands
here, below everything that reads what people type.
"""

import re
from decimal import ROUND_HALF_UP, Decimal
from fractions import Fraction

from shopdesk.craft.errors import InputError
from shopdesk.craft.messages import Message, message

LONGEST = 40
RIGHT = message("problem_reading.write_number")
VULGAR = {
    "½": Fraction(1, 2), "⅓": Fraction(1, 3), "⅔": Fraction(2, 3),
    "¼": Fraction(1, 4), "¾": Fraction(3, 4), "⅕": Fraction(1, 5), "⅖": Fraction(2, 5),
    "⅗": Fraction(3, 5), "⅘": Fraction(4, 5), "⅙": Fraction(1, 6), "⅚": Fraction(5, 6),
    "⅛": Fraction(1, 8), "⅜": Fraction(3, 8), "⅝": Fraction(5, 8), "⅞": Fraction(7, 8),
}  # fmt: skip
_SPACE = " \u00a0\u2009\u202f"
_SLASH = "/\u2044\u2215"
_JOIN = rf"(?:[{_SPACE}]+|[-\u2010\u2011])"
NUMBER_PATTERN = (
    rf"[0-9]+{_JOIN}[0-9]+[{_SLASH}][0-9]+"
    rf"|[0-9]+[{_SLASH}][0-9]+"
    rf"|(?:[0-9]+{_JOIN}?)?[{''.join(VULGAR)}]"
    r"|[0-9]+(?:[.,][0-9]+)?"
    r"|[.,][0-9]+"
)
WRITTEN_PATTERN = rf"^\s*[-\u2212+]?(?:{NUMBER_PATTERN})\s*$"
"""The same for a whole text, as a JSON Schema needs it."""
_WHOLE = re.compile(rf"(?P<sign>[-\u2212+]?)(?P<number>{NUMBER_PATTERN})\Z")
_MIXED = re.compile(rf"(?:([0-9]+){_JOIN})?([0-9]+)[{_SLASH}]([0-9]+)\Z")
_WITH_VULGAR = re.compile(rf"(?:([0-9]+){_JOIN}?)?([{''.join(VULGAR)}])\Z")
_THOUSANDS = re.compile(r"[1-9][0-9]{0,2}(?:,[0-9]{3}|\.[0-9]{2}0)\Z")
_GROUPED = re.compile(rf"[-+]?[0-9]{{1,3}}(?:[{_SPACE}.,'’][0-9]{{3}})+(?:[.,][0-9]+)?\Z")
_EXPONENT = re.compile(r"[-+]?[0-9.,]+e[-+]?[0-9]+\Z", re.IGNORECASE)


class NumberRefused(InputError):
    """Text that is not a number: `wrong` says why, `right` what would do."""


def read_number(text: str, right: Message = RIGHT, *, thousandths: bool = False) -> Decimal:
    """Returns the exact number written in `text`; a third is rounded after 12 places.

    Accepts a decimal point or comma, a sign, and fractions below one, alone or behind a whole
    number ('3/4', '1 1/2', '1-1/2', '5½'). Refuses exponents, 'nan', 'inf', underscores, digits
    of other scripts and grouped thousands. '1,200', and '1.200' with its idle last zero, could
    mean 1200 or 1.2 and are refused too, unless `thousandths` says that a point with three
    places behind it is usual here (money with three decimals). '11/2' is more often a lost
    space than a fraction: refused.
    Raises NumberRefused.
    """
    stripped = text.strip()
    if not stripped:
        raise NumberRefused(message("problem_reading.nothing"), right)
    if len(stripped) > LONGEST:
        raise NumberRefused(message("problem_reading.number_long", count=len(stripped)), right)
    match = _WHOLE.match(stripped)
    if match is None:
        raise _refusal(stripped, right)
    number = match["number"]
    if _THOUSANDS.match(number) and not (thousandths and "." in number):
        raise _two_ways(number, re.sub("[.,]", "", number), number.replace(",", "."))
    value = _value_of(number, right)
    return value.copy_negate() if match["sign"] in ("-", "\u2212") else value


def _refusal(text: str, right: Message) -> NumberRefused:
    if _GROUPED.match(text):
        return NumberRefused(
            message("problem_reading.thousands_apart", text=text),
            message("problem_reading.digits_together"),
        )
    if _EXPONENT.match(text):
        return NumberRefused(message("problem_reading.exponent", text=text), right)
    if any(letter.isdigit() and not letter.isascii() for letter in text):
        return NumberRefused(message("problem_reading.other_script", text=text), right)
    return NumberRefused(message("problem_reading.no_number", text=text), right)


def _two_ways(number: str, one: str, other: str) -> NumberRefused:
    return NumberRefused(
        message("problem_reading.two_ways", text=number),
        message("problem_reading.write_either", one=one, other=_plain(other)),
    )


def _plain(number: str) -> str:
    return number.rstrip("0").rstrip(".") if "." in number else number


def _value_of(number: str, right: Message) -> Decimal:
    vulgar = _WITH_VULGAR.match(number)
    if vulgar is not None:
        return _decimal(int(vulgar[1] or 0) + VULGAR[vulgar[2]])
    mixed = _MIXED.match(number)
    if mixed is None:
        return Decimal(number.replace(",", "."))
    top, bottom = int(mixed[2]), int(mixed[3])
    if bottom == 0:
        raise NumberRefused(message("problem_reading.by_zero", text=number), right)
    if mixed[1] is not None and (top >= bottom or top == 0):
        raise NumberRefused(message("problem_reading.fraction_behind", text=number), right)
    if top >= bottom:
        raise _improper(number, mixed[2], bottom)
    return _decimal(int(mixed[1] or 0) + Fraction(top, bottom))


def _improper(number: str, top: str, bottom: int) -> NumberRefused:
    """'11/2' may be 5.5, or a 1 1/2 that lost its space; '6/2' can only be 3."""
    whole = _plain(f"{_decimal(Fraction(int(top), bottom)):f}")
    if 0 < int(top[-1]) < bottom:
        return _two_ways(number, f"{top[:-1]} {top[-1]}/{bottom}", whole)
    return NumberRefused(
        message("problem_reading.improper", text=number),
        message("problem_reading.write_this", text=whole),
    )


def _decimal(fraction: int | Fraction) -> Decimal:
    exact = Decimal(fraction.numerator) / Decimal(fraction.denominator)
    rounded = exact.quantize(Decimal(10) ** -12, ROUND_HALF_UP)
    return exact if exact == rounded else rounded
