"""Every stored table of the shelf, under one name."""

from shopdesk.shelf.base import Base
from shopdesk.shelf.brief_keeping import keep_briefs
from shopdesk.shelf.tables.asks import KeptAsk
from shopdesk.shelf.tables.briefs import YarnBrief
from shopdesk.shelf.tables.forms import DoneForm
from shopdesk.shelf.tables.holds import Contact, Hold, SlipReturn
from shopdesk.shelf.tables.imports import (
    Delivered,
    ImportChange,
    ImportHeading,
    ImportRun,
    ImportUpload,
)
from shopdesk.shelf.tables.keeping import Setting, UnmetAsk
from shopdesk.shelf.tables.slips import Slip
from shopdesk.shelf.tables.stock import Branch, Stock, StockMovement
from shopdesk.shelf.tables.swatches import Swatch
from shopdesk.shelf.tables.words import YarnWord
from shopdesk.shelf.tables.yarns import (
    Colourway,
    DyeLot,
    Yarn,
    YarnAttribute,
    YarnFibre,
    YarnMeasurement,
)
from shopdesk.shelf.words import keep_words

keep_words()
keep_briefs()

__all__ = [
    "Base",
    "Branch",
    "Colourway",
    "Contact",
    "Delivered",
    "DoneForm",
    "DyeLot",
    "Hold",
    "ImportChange",
    "ImportHeading",
    "ImportRun",
    "ImportUpload",
    "KeptAsk",
    "Setting",
    "Slip",
    "SlipReturn",
    "Stock",
    "StockMovement",
    "Swatch",
    "UnmetAsk",
    "Yarn",
    "YarnAttribute",
    "YarnBrief",
    "YarnFibre",
    "YarnMeasurement",
    "YarnWord",
]
