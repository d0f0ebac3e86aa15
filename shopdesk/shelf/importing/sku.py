"""What a line is about: the article number, and the code of its colour."""

from shopdesk.shelf.importing.cells import text_cell
from shopdesk.shelf.importing.fields import Field

SKU = Field(
    "sku",
    text_cell("sku", 40, needed=True),
    ("article", "article number", "art nr", "art.-nr", "artikel", "artikelnummer", "item number",
     "référence"),
)  # fmt: skip
COLOUR_CODE = Field(
    "colour",
    text_cell("colour", 40, needed=True),
    (
        "color",
        "code",
        "colour code",
        "color code",
        "shade",
        "farbe",
        "farbnummer",
        "couleur",
        "coloris",
    ),
)
