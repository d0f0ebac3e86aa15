"""Papers and in-store barcodes, against ISO 216, the letter format and GS1."""

from reportlab.lib import pagesizes
from reportlab.lib.units import inch, mm

from tests.reference.published import Rows, published


@published(
    "papers", "ISO 216 and the American letter format, whole and halved, as ReportLab has them"
)
def sizes_of_the_sheets(rows: Rows) -> None:
    letter_width, letter_height = pagesizes.LETTER
    printed = {
        "A5": pagesizes.A5,
        "A6": pagesizes.A6,
        "half-letter": (letter_height / 2, letter_width),
        "A4": pagesizes.A4,
        "letter": pagesizes.LETTER,
    }
    sheets = {row["key"]: row for row in rows if row["status"] == "S"}
    assert sheets.keys() == printed.keys()
    assert printed["half-letter"] == (5.5 * inch, 8.5 * inch)
    for key, (width, height) in printed.items():
        assert abs(float(sheets[key]["width_mm"]) - width / mm) < 0.05
        assert abs(float(sheets[key]["height_mm"]) - height / mm) < 0.05
        assert sheets[key]["name"].lower().replace(" ", "-") == key.lower()


@published("in_store_prefixes", "GS1 General Specifications: prefixes 02, 04, 20 to 29")
def restricted_circulation(rows: Rows) -> None:
    thirteen = {row["prefix"] for row in rows if row["digits"] == "13"}
    assert thirteen == {"02", "04", "2"}
    assert {row["digits"] for row in rows} == {"13", "8"}
