"""Between stored columns and plain yarns, both ways; prices as whole minor units."""

from collections.abc import Iterable
from decimal import Decimal
from typing import Any

from sqlalchemy import Row

from shopdesk.craft.errors import InputError
from shopdesk.craft.messages import message
from shopdesk.craft.money import in_minor, minor_units
from shopdesk.craft.yarn import (
    BandGauge,
    CareLabel,
    Construction,
    Craft,
    FibreShare,
    LabelFacts,
    Measurement,
    MeasurementKind,
    PutUp,
    YarnCount,
)

HIGHEST_MINOR = 2_000_000_000


class PriceRefused(InputError):
    """An amount that is no price."""


def to_minor(amount: Decimal, currency: str) -> int:
    """Returns the amount in minor units, so 6.50 EUR is 650. Raises PriceRefused."""
    minor = in_minor(amount, currency)
    if minor != minor.to_integral_value() or not 0 <= minor <= HIGHEST_MINOR:
        raise PriceRefused(
            message("problem_shelf.no_price", amount=f"{amount:f}", currency=currency),
            message("problem_shelf.write_price", count=minor_units(currency)),
        )
    return int(minor)


CARE_AXES = (
    "wash_c",
    "wash_action",
    "bleach",
    "tumble",
    "natural_drying",
    "iron_c",
    "dry_clean",
    "wet_clean",
)


def label_of(row: Row[Any], fibres: Iterable[FibreShare], attributes: Iterable[str]) -> LabelFacts:
    """Returns what the band says, from a row with the columns of Yarn."""
    return LabelFacts(
        weight_name=row.weight_name,
        put_up=_put_up(row),
        printed_put_up=row.put_up_printed,
        count=YarnCount(row.count_written, row.count_system) if row.count_written else None,
        net_grams=row.put_up_g if row.put_up_m is None else None,
        gauge=_knit_gauge(row),
        crochet_gauge=_crochet_gauge(row),
        plies=row.plies,
        construction=Construction(row.construction) if row.construction else None,
        fibres=tuple(fibres),
        attributes=frozenset(attributes),
        care=care_of(row),
    )


def label_values(label: LabelFacts) -> dict[str, Any]:
    """Returns the columns of Yarn that hold a label; fibres and attributes have own tables."""
    care = label.care or CareLabel()
    return {
        "weight_name": label.weight_name,
        "put_up_printed": label.printed_put_up,
        "put_up_g": label.put_up.grams if label.put_up else label.net_grams,
        "put_up_m": label.put_up.metres if label.put_up else None,
        "count_written": label.count.written if label.count else None,
        "count_system": label.count.system if label.count else None,
        **_gauge_values("knit", "needle", label.gauge),
        **_gauge_values("crochet", "hook", label.crochet_gauge),
        "plies": label.plies,
        "construction": label.construction.value if label.construction else None,
        **{axis: getattr(care, axis) for axis in CARE_AXES},
    }


def care_of(row: Row[Any]) -> CareLabel | None:
    """Returns the care in a row's columns; None where the label says nothing at all."""
    care = CareLabel(
        row.wash_c,
        row.wash_action,
        row.bleach,
        row.tumble,
        row.natural_drying,
        row.iron_c,
        row.dry_clean,
        row.wet_clean,
    )
    return None if care == CareLabel() else care


def measurement_of(row: Row[Any]) -> Measurement:
    """Returns a measurement, from a row with the columns of YarnMeasurement."""
    return Measurement(
        kind=MeasurementKind(row.kind),
        on=row.taken_on,
        by=row.taken_by,
        wraps_per_inch=row.wraps_per_inch,
        stitches=row.stitches,
        rows=row.stitch_rows,
        tool_mm=row.tool_mm,
        washed=row.washed,
        stitch_pattern=row.stitch_pattern,
        craft=Craft(row.craft),
        length_m=row.length_m,
        mass_g=row.mass_g,
        from_customer=row.from_customer,
        hand=row.hand,
        strands=row.strands,
        slip_number=row.slip_number,
        asked_for=row.asked_for,
    )


def measurement_values(measured: Measurement) -> dict[str, Any]:
    """Returns the columns of YarnMeasurement that hold a measurement."""
    return {
        "kind": measured.kind.value,
        "taken_on": measured.on,
        "taken_by": measured.by,
        "wraps_per_inch": measured.wraps_per_inch,
        "stitches": measured.stitches,
        "stitch_rows": measured.rows,
        "tool_mm": measured.tool_mm,
        "washed": measured.washed,
        "stitch_pattern": measured.stitch_pattern,
        "craft": measured.craft.value,
        "length_m": measured.length_m,
        "mass_g": measured.mass_g,
        "from_customer": measured.from_customer,
        "hand": measured.hand,
        "strands": measured.strands,
        "slip_number": measured.slip_number,
        "asked_for": measured.asked_for,
    }


def _put_up(row: Row[Any]) -> PutUp | None:
    if row.put_up_g is None or row.put_up_m is None:
        return None
    return PutUp(row.put_up_g, row.put_up_m)


def _knit_gauge(row: Row[Any]) -> BandGauge | None:
    if row.knit_stitches_low is None:
        return None
    return BandGauge(
        row.knit_stitches_low,
        row.knit_stitches_high,
        row.knit_rows,
        row.needle_mm_low,
        row.needle_mm_high,
        Craft.KNIT,
    )


def _crochet_gauge(row: Row[Any]) -> BandGauge | None:
    if row.crochet_stitches_low is None:
        return None
    return BandGauge(
        row.crochet_stitches_low,
        row.crochet_stitches_high,
        row.crochet_rows,
        row.hook_mm_low,
        row.hook_mm_high,
        Craft.CROCHET,
    )


def _gauge_values(craft: str, tool: str, gauge: BandGauge | None) -> dict[str, float | None]:
    return {
        f"{craft}_stitches_low": gauge.stitches_low if gauge else None,
        f"{craft}_stitches_high": gauge.stitches_high if gauge else None,
        f"{craft}_rows": gauge.rows if gauge else None,
        f"{tool}_mm_low": gauge.tool_mm_low if gauge else None,
        f"{tool}_mm_high": gauge.tool_mm_high if gauge else None,
    }
