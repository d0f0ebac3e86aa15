"""The article number that a line is about, in every kind of table."""

from shopdesk.shelf.importing.cells import text_cell
from shopdesk.shelf.importing.fields import Field

SKU = Field(
    "sku",
    text_cell("sku", 40, needed=True),
    ("article", "article number", "art nr", "art.-nr", "artikel", "artikelnummer", "item number",
     "référence"),
)  # fmt: skip
