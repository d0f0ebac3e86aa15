"""Article numbers (GTIN): checked whole, never repaired; a shop's own numbers are recognised."""

from dataclasses import dataclass

from shopdesk.craft.errors import InputError
from shopdesk.craft.messages import message
from shopdesk.reference.tables import table

LENGTHS = (8, 12, 13, 14)


class GtinRefused(InputError):
    """Not an article number."""


@dataclass(frozen=True, slots=True)
class Gtin:
    """A checked article number as written, without spaces: 8, 12, 13 or 14 digits."""

    digits: str

    @property
    def scanned(self) -> str:
        """What a till reads: 8 or 13 digits; 14 for a case's number.

        A number of 12 digits (UPC-A) is the one of 13 with a leading 0, and so is one of 14
        digits that begins with 0.
        """
        if len(self.digits) == 12:
            return "0" + self.digits
        if len(self.digits) == 14 and self.digits[0] == "0":
            return self.digits[1:]
        return self.digits

    @property
    def is_case(self) -> bool:
        """True for the number of a case of several: 14 digits that do not begin with 0."""
        return len(self.scanned) == 14

    @property
    def in_store(self) -> bool:
        """True for a number of restricted circulation, which only one shop's till knows."""
        return any(
            len(self.scanned) == int(row["digits"]) and self.scanned.startswith(row["prefix"])
            for row in table("in_store_prefixes")
        )


def read_gtin(text: str) -> Gtin:
    """Returns the checked number; spaces and hyphens are left out. Raises GtinRefused."""
    # Here, since who reads the shelf's tables needs `article_key` only.
    from stdnum import ean
    from stdnum.exceptions import ValidationError

    right = message("problem_reading.write_gtin")
    digits = text.strip().replace(" ", "").replace("-", "")
    if not digits or not digits.isascii() or not digits.isdigit():
        raise GtinRefused(message("problem_reading.gtin_letters", text=text.strip()[:40]), right)
    if len(digits) not in LENGTHS:
        raise GtinRefused(message("problem_reading.gtin_length", count=len(digits)), right)
    try:
        ean.validate(digits)
    except ValidationError:
        last = ean.calc_check_digit(digits[:-1])
        raise GtinRefused(
            message("problem_reading.gtin_check", digits=digits, last=last),
            message("problem_reading.compare_band"),
        ) from None
    return Gtin(digits)


KEY_LENGTH = 14


def article_key(gtin: str) -> str:
    """Returns the 14 digits that GTIN-8, UPC-12, EAN-13 and GTIN-14 of one article share.

    GS1 General Specifications: a shorter GTIN is stored in a 14-digit field with leading
    zeros. Spaces and hyphens are left out; the check digit is not looked at here.
    """
    digits = gtin.replace(" ", "").replace("-", "").strip()
    return digits.rjust(KEY_LENGTH, "0")
