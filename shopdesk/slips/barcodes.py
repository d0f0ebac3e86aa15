"""Bar codes (EAN-13, EAN-8) from a checked number, as runs of modules and drawn in exact widths."""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache

from reportlab.lib.colors import black
from reportlab.lib.units import mm
from reportlab.platypus import Flowable

from shopdesk.craft.messages import message
from shopdesk.parsing.gtins import Gtin, GtinRefused, read_gtin
from shopdesk.reference.tables import table
from shopdesk.slips.fonts import REGULAR

MODULE_MM = 0.375
"""Width of the narrowest bar: three dots of a 203 dpi printer, well over the 0.30 it needs."""
QUIET_MODULES = 11


@dataclass(frozen=True, slots=True)
class Barcode:
    """The digits to print under the bars and the modules, '1' black; the quiet zone is outside."""

    digits: str
    modules: str

    @property
    def width_mm(self) -> float:
        """Width with both quiet zones."""
        return (len(self.modules) + 2 * QUIET_MODULES) * MODULE_MM

    def bars(self) -> tuple[tuple[int, int], ...]:
        """Returns each bar as (first module, modules wide), counted from the first bar."""
        found: list[tuple[int, int]] = []
        start = 0
        while (start := self.modules.find("1", start)) != -1:
            end = self.modules.find("0", start)
            end = len(self.modules) if end == -1 else end
            found.append((start, end - start))
            start = end
        return tuple(found)


def barcode(number: str) -> Barcode:
    """Returns the bar code of an article number. Raises GtinRefused; nothing is repaired.

    A case's number of 14 digits is refused: scanned at the till it would sell a whole case.
    """
    gtin = read_gtin(number)
    if gtin.is_case:
        raise GtinRefused(
            message("problem_shelf.case_number", digits=gtin.digits),
            message("problem_shelf.skein_number"),
        )
    return _of(gtin)


def printable(number: str | None) -> str | None:
    """Returns the digits that a till would read, or None if there is no number fit to print."""
    try:
        return barcode(number).digits if number else None
    except GtinRefused:
        return None


def _of(gtin: Gtin) -> Barcode:
    digits = gtin.scanned
    if len(digits) == 8:
        left = "".join(_left(digit, "L") for digit in digits[:4])
        right = "".join(_right(digit) for digit in digits[4:])
    else:
        parity = _patterns()[digits[0]]["parity"]
        left = "".join(_left(d, p) for d, p in zip(digits[1:7], parity, strict=True))
        right = "".join(_right(digit) for digit in digits[7:])
    return Barcode(digits, f"101{left}01010{right}101")


@cache
def _patterns() -> Mapping[str, Mapping[str, str]]:
    return {row["digit"]: row for row in table("ean_patterns")}


def _left(digit: str, parity: str) -> str:
    odd = _patterns()[digit]["left_odd"]
    return odd if parity == "L" else _right(digit)[::-1]


def _right(digit: str) -> str:
    odd = _patterns()[digit]["left_odd"]
    return odd.translate(str.maketrans("01", "10"))


HEIGHT_MM = 9.0
DIGITS_PT = 7.0
DIGITS_ROOM_PT = 10.0
"""What the digits take below the bars, with the space around them."""


class Bars(Flowable):
    """Draws one Barcode at the left of the space it is given."""

    def __init__(self, barcode: Barcode) -> None:
        super().__init__()
        self.barcode = barcode

    def wrap(self, available_width: float, available_height: float) -> tuple[float, float]:
        """Returns the size in points; the width has both quiet zones in it."""
        self.width = self.barcode.width_mm * mm
        self.height = HEIGHT_MM * mm + DIGITS_ROOM_PT
        return self.width, self.height

    def draw(self) -> None:
        """Draws bars and digits."""
        canvas, module = self.canv, MODULE_MM * mm
        canvas.setFillColor(black)
        for first, wide in self.barcode.bars():
            left = (QUIET_MODULES + first) * module
            canvas.rect(left, DIGITS_ROOM_PT, wide * module, HEIGHT_MM * mm, stroke=0, fill=1)
        canvas.setFont(REGULAR, DIGITS_PT)
        canvas.drawCentredString(self.width / 2, 2.2, self.barcode.digits)
