"""Builders of yarns, labels, measurements and asks with only the fields that a test is about."""

from dataclasses import replace
from datetime import date
from decimal import Decimal
from typing import Any

from shopdesk.answering.model.answer import ShopTerms
from shopdesk.answering.model.ask import (
    AmountKind,
    Ask,
    ItemKind,
    Part,
    PatternAmount,
    PatternGauge,
)
from shopdesk.craft.yarn import (
    BandGauge,
    CareLabel,
    Craft,
    FibreShare,
    LabelFacts,
    LotStock,
    Measurement,
    MeasurementKind,
    PutUp,
    ShelfYarn,
)
from shopdesk.store.settings import ShopSettings

A_DAY = date(2026, 3, 2)


def a_blend(text: str = "wool 100") -> tuple[FibreShare, ...]:
    """Returns the blend written as 'wool 75, polyamide 25'; names are keys of fibres.csv."""
    pairs = (line.rsplit(maxsplit=1) for line in text.split(",") if line.strip())
    return tuple(FibreShare(fibre.strip(), Decimal(percent)) for fibre, percent in pairs)


def a_band_gauge(
    stitches: float = 22,
    rows: float | None = None,
    mm: float | None = 4.0,
    *,
    to: float | None = None,
    craft: Craft = Craft.KNIT,
) -> BandGauge:
    """Returns a band's gauge per 10 cm; `to` is the upper end of a range of stitches."""
    return BandGauge(stitches, to or stitches, rows, mm, mm, craft)


def a_care(wash_c: int | None = 30, action: str | None = "hand", **axes: Any) -> CareLabel:
    """Returns a care label that says these axes and leaves the others unknown."""
    return CareLabel(wash_c=wash_c, wash_action=action, **axes)


def a_label(
    weight_name: str | None = "DK",
    metres_per_100g: float | None = 225,
    grams: float = 50,
    fibres: str = "wool 100",
    **facts: Any,
) -> LabelFacts:
    """Returns a band: by default DK wool, 225 m per 100 g in 50 g balls, no gauge, no care."""
    if metres_per_100g is not None:
        facts.setdefault("put_up", PutUp(grams, metres_per_100g * grams / 100))
    return LabelFacts(weight_name=weight_name, fibres=a_blend(fibres), **facts)


def a_lot(
    available: int = 10,
    lot: str | None = "L1",
    colour: str = "01",
    *,
    name: str = "Slate",
    family: str = "grey",
    **facts: Any,
) -> LotStock:
    """Returns so many skeins of one dye lot of a colour."""
    return LotStock(colour, name, family, lot, available, **facts)


def a_yarn(sku: str = "T-1", *, price: str = "6.50", **facts: Any) -> ShelfYarn:
    """Returns a house yarn: by default DK wool with one lot of ten balls and no measurements.

    `label`, `lots`, `measurements`, `hand_dyed` and the rest of ShelfYarn's fields can be given.
    """
    facts.setdefault("name", f"Yarn {sku}")
    facts.setdefault("label", a_label())
    facts.setdefault("lots", (a_lot(),))
    return ShelfYarn(sku=sku, price=Decimal(price), **facts)


def a_wraps(wraps_per_inch: float = 11, on: date = A_DAY, **facts: Any) -> Measurement:
    """Returns the shop's own wraps per inch."""
    return Measurement(MeasurementKind.WRAPS, on, wraps_per_inch=wraps_per_inch, **facts)


def a_swatch(
    stitches: float = 22, rows: float | None = 30, mm: float = 4.0, on: date = A_DAY, **facts: Any
) -> Measurement:
    """Returns a swatch's stitches and rows per 10 cm on a tool in mm."""
    return Measurement(
        MeasurementKind.SWATCH, on, stitches=stitches, rows=rows, tool_mm=mm, **facts
    )


def a_weighing(length_m: float, mass_g: float, on: date = A_DAY, **facts: Any) -> Measurement:
    """Returns a measured length with its weight."""
    return Measurement(MeasurementKind.LENGTH, on, length_m=length_m, mass_g=mass_g, **facts)


def a_length(metres: float) -> PatternAmount:
    """Returns an amount given as a total length."""
    return PatternAmount(AmountKind.LENGTH, length_m=metres)


def shop_terms(**facts: Any) -> ShopTerms:
    """Returns the terms of a shop that has set nothing but `facts`."""
    return replace(ShopSettings().terms(), **facts)


def an_ask(
    stitches: float | None = 22,
    rows: float | None = 30,
    metres: float | None = 1000,
    **facts: Any,
) -> Ask:
    """Returns an ask: by default a knitted pullover at 22 x 30 that takes 1,000 m."""
    if stitches is not None:
        facts.setdefault("gauge", PatternGauge(stitches, rows))
    amount = PatternAmount() if metres is None else a_length(metres)
    facts.setdefault("parts", (Part("main", amount),))
    facts.setdefault("item", ItemKind.PULLOVER)
    facts.setdefault("title", "test pattern")
    return Ask(craft=facts.pop("craft", Craft.KNIT), **facts)
