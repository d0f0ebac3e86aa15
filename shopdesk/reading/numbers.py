"""The one strict reader of numbers that people type: '22', '3,5', '1 1/2', '5½'."""

import re
from decimal import Decimal
from fractions import Fraction

LONGEST = 40
VULGAR = {
    "½": Fraction(1, 2),
    "⅓": Fraction(1, 3),
    "⅔": Fraction(2, 3),
    "¼": Fraction(1, 4),
    "¾": Fraction(3, 4),
    "⅛": Fraction(1, 8),
    "⅜": Fraction(3, 8),
    "⅝": Fraction(5, 8),
    "⅞": Fraction(7, 8),
}
NUMBER_PATTERN = (
    r"[0-9]+[ \u00a0]+[0-9]+[/\u2044][0-9]+"
    r"|[0-9]+[/\u2044][0-9]+"
    r"|[0-9]*[ \u00a0]?[" + "".join(VULGAR) + r"]"
    r"|[0-9]+(?:[.,][0-9]+)?"
    r"|[.,][0-9]+"
)
_WHOLE = re.compile(rf"(?P<sign>[-\u2212+]?)(?P<number>{NUMBER_PATTERN})\Z")
_MIXED = re.compile(r"(?:([0-9]+)[ \u00a0]+)?([0-9]+)[/\u2044]([0-9]+)\Z")
_THOUSANDS = re.compile(r"[1-9][0-9]{0,2}(?:,[0-9]{3})+\Z")


class NumberRefused(ValueError):
    """Text that is not a number: `wrong` says why, `right` what would do."""

    def __init__(self, wrong: str, right: str) -> None:
        super().__init__(f"{wrong}; {right}")
        self.wrong = wrong
        self.right = right


def read_number(text: str, right: str = "write a number such as 22, 22.5 or 1 1/2") -> Decimal:
    """Returns the exact number written in `text`; a third is cut after 12 places.

    Accepts a decimal point or comma, fractions ('1 1/2', '¾', '5½') and a sign. Refuses
    exponents, 'nan', 'inf', underscores, digits of other scripts, and '1,200', which could
    mean either 1200 or 1.2. Raises NumberRefused.
    """
    stripped = text.strip()
    if not stripped:
        raise NumberRefused("nothing is written here", right)
    if len(stripped) > LONGEST:
        raise NumberRefused(f"a number of {len(stripped)} characters is too long", right)
    match = _WHOLE.match(stripped)
    if match is None:
        raise NumberRefused(f"'{stripped}' is not a number", right)
    number = match["number"]
    if _THOUSANDS.match(number):
        plain = number.replace(",", "")
        raise NumberRefused(
            f"'{number}' can be read in two ways", f"write {plain} or {number.replace(',', '.', 1)}"
        )
    value = _value_of(number, right)
    return -value if match["sign"] in ("-", "\u2212") else value


def _value_of(number: str, right: str) -> Decimal:
    if number[-1] in VULGAR:
        whole = number[:-1].strip()
        return _decimal(Fraction(int(whole or 0)) + VULGAR[number[-1]])
    mixed = _MIXED.match(number)
    if mixed is None:
        return Decimal(number.replace(",", "."))
    units, top, bottom = int(mixed[1] or 0), int(mixed[2]), int(mixed[3])
    if bottom == 0:
        raise NumberRefused(f"'{number}' divides by zero", right)
    return _decimal(units + Fraction(top, bottom))


def _decimal(fraction: Fraction) -> Decimal:
    exact = Decimal(fraction.numerator) / Decimal(fraction.denominator)
    return exact if exact == exact.quantize(Decimal(10) ** -12) else round(exact, 12)
