"""One key for an article, whichever of its barcode's forms was typed or scanned."""

KEY_LENGTH = 14


def article_key(gtin: str) -> str:
    """Returns the 14 digits that GTIN-8, UPC-12, EAN-13 and GTIN-14 of one article share.

    GS1 General Specifications: a shorter GTIN is stored in a 14-digit field with leading
    zeros. Spaces and hyphens are left out; the check digit is not looked at here.
    """
    digits = gtin.replace(" ", "").replace("-", "").strip()
    return digits.rjust(KEY_LENGTH, "0")
