"""Bar codes as runs of modules: EAN-13 and EAN-8, only ever from a checked number."""

from dataclasses import dataclass

from shopdesk.reading.gtins import Gtin, GtinRefused, read_gtin
from shopdesk.reference.tables import table

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
        raise GtinRefused(f"{gtin.digits} is the number of a case", "give the skein's own number")
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
        parity = table("ean_patterns")[int(digits[0])]["parity"]
        left = "".join(_left(d, p) for d, p in zip(digits[1:7], parity, strict=True))
        right = "".join(_right(digit) for digit in digits[7:])
    return Barcode(digits, f"101{left}01010{right}101")


def _left(digit: str, parity: str) -> str:
    odd = table("ean_patterns")[int(digit)]["left_odd"]
    return odd if parity == "L" else _right(digit)[::-1]


def _right(digit: str) -> str:
    odd = table("ean_patterns")[int(digit)]["left_odd"]
    return odd.translate(str.maketrans("01", "10"))
