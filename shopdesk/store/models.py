"""Every stored table of the shelf, under one name."""

from shopdesk.store.tables.imports import (
    Delivered,
    ImportChange,
    ImportHeading,
    ImportRun,
    ImportUpload,
)
from shopdesk.store.tables.settings import Setting, UnmetAsk
from shopdesk.store.tables.stock import Branch, Contact, Hold, SlipReturn, Stock, StockMovement
from shopdesk.store.tables.visits import SavedAsk, Slip, Swatch, UsedRequestKey
from shopdesk.store.tables.yarns import (
    Colourway,
    DyeLot,
    Yarn,
    YarnAttribute,
    YarnFibre,
    YarnIndex,
    YarnMeasurement,
    YarnWord,
)
from shopdesk.store.types import Base

__all__ = [
    "Base",
    "Branch",
    "Colourway",
    "Contact",
    "Delivered",
    "DyeLot",
    "Hold",
    "ImportChange",
    "ImportHeading",
    "ImportRun",
    "ImportUpload",
    "SavedAsk",
    "Setting",
    "Slip",
    "SlipReturn",
    "Stock",
    "StockMovement",
    "Swatch",
    "UnmetAsk",
    "UsedRequestKey",
    "Yarn",
    "YarnAttribute",
    "YarnFibre",
    "YarnIndex",
    "YarnMeasurement",
    "YarnWord",
]
