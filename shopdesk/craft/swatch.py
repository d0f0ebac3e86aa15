"""What a swatch says: how far off, whether to try a needle one size larger, and what follows."""

from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum
from math import hypot

from shopdesk.craft.fabric import loop_mm, volume_cover
from shopdesk.craft.figures import Basis, Figure, exactly, product
from shopdesk.craft.gauge import (
    length_same_counts,
    length_same_size,
    require_positive,
    rows_guess,
    size_same_counts_cm,
    tool_mm_for,
)
from shopdesk.craft.items import RowGauge, row_gauge_of
from shopdesk.craft.messages import Message, message
from shopdesk.craft.pooling import pooled_stitches as pooled_stitches
from shopdesk.craft.quantity import length_of_weighed
from shopdesk.craft.tools import nearest_made, stepped
from shopdesk.craft.yarn import Craft, PutUp
from shopdesk.reference.tables import constant


@dataclass(frozen=True, slots=True)
class Gauge:
    """Stitches and rows per 10 cm; None where the rows were not counted."""

    stitches: float
    rows: float | None = None


class Fit(StrEnum):
    """How a gauge got stands to the gauge wanted."""

    RIGHT = "right"
    TIGHT = "tight"
    LOOSE = "loose"


def fit(wanted: float, got: float) -> Fit:
    """Returns whether a count per 10 cm is right, too high (tight) or too low (loose).

    A difference within what one reading may be off (2 %, half a stitch at DK) is right.
    """
    require_positive(wanted=wanted, got=got)
    if abs(got / wanted - 1) <= constant("gauge_models", "gauge_reading").value:
        return Fit.RIGHT
    return Fit.TIGHT if got > wanted else Fit.LOOSE


def count_off(wanted: float, got: float) -> float:
    """Returns by how many stitches or rows per 10 cm the swatch is off, above 0 for too many."""
    return got - wanted


def regardless_cm(cm: float, wanted: float, got: float) -> float:
    """Returns the measure in cm that comes out if the pattern's counts are worked regardless."""
    return size_same_counts_cm(cm, wanted, got)


@dataclass(frozen=True, slots=True)
class NextTool:
    """The tool to try next: the estimate in mm, and the made size (None: there is none)."""

    way: Fit
    estimate_mm: Figure
    made_mm: float | None
    advice: tuple[Message, ...]


def next_tool(tool_mm: float, wanted: float, got: float, craft: Craft = Craft.KNIT) -> NextTool:
    """Returns which tool to try after a swatch on `tool_mm` gave `got` stitches per 10 cm.

    Too many stitches want a larger tool, too few a smaller one, by at least one made size. The
    estimate's basis is in its notes.
    """
    way = fit(wanted, got)
    if way is Fit.RIGHT:
        return NextTool(way, exactly(tool_mm, Basis.SHOP), tool_mm, (message("swatch.keep_tool"),))
    estimate = tool_mm_for(tool_mm, got, wanted)
    made = _made_beyond(tool_mm, estimate.value, way, craft)
    if made is None:
        return NextTool(way, estimate, None, (message("swatch.no_such_tool"), *estimate.notes))
    code = "swatch.try_larger" if way is Fit.TIGHT else "swatch.try_smaller"
    values = {"tool_mm": made, "low_mm": estimate.low, "high_mm": estimate.high}
    return NextTool(way, estimate, made, (Message(code, values), *estimate.notes))


def _made_beyond(tool_mm: float, wanted_mm: float, way: Fit, craft: Craft) -> float | None:
    larger = way is Fit.TIGHT
    for made in (nearest_made(wanted_mm, craft), stepped(tool_mm, 1 if larger else -1, craft)):
        if made != tool_mm and (made > tool_mm) is larger:
            return made
    return None


@dataclass(frozen=True, slots=True)
class SizeOutcome:
    """What one size of the pattern comes out as at the gauge got, both in cm."""

    name: str
    pattern_cm: float
    finished_cm: float


def size_outcomes(
    sizes: Sequence[tuple[str, float]], wanted: float, got: float
) -> tuple[SizeOutcome, ...]:
    """Returns what each (name, finished cm) of the pattern comes out as at the gauge got."""
    return tuple(SizeOutcome(name, cm, regardless_cm(cm, wanted, got)) for name, cm in sizes)


def other_size(
    sizes: Sequence[tuple[str, float]], chosen: str, wanted: float, got: float
) -> SizeOutcome | None:
    """Returns the size that comes out nearest to what the chosen one should measure.

    None if the chosen size is itself the nearest, or if the nearest is not within 3 %. Raises
    KeyError if the chosen size is not listed.
    """
    target = dict(sizes)[chosen]
    best = min(size_outcomes(sizes, wanted, got), key=lambda size: abs(size.finished_cm - target))
    fits = constant("swatch_models", "size_fits").value * target
    if best.name == chosen or abs(best.finished_cm - target) > fits:
        return None
    return best


def other_size_saying(found: SizeOutcome | None) -> Message:
    """Returns which other size of the pattern comes out right, or that none does."""
    if found is None:
        return message("swatch.no_other_size")
    return message("swatch.other_size", size=found.name, finished_cm=found.finished_cm)


def need_now(need: Figure, wanted: Gauge, got: Gauge, same_size: bool = True) -> Figure:
    """Returns the metres needed at the gauge got, from the need at the gauge wanted.

    `same_size` keeps the finished size, else the pattern's counts are worked regardless. Rows
    count where both are known (Munden 1959).
    """
    change = length_same_size if same_size else length_same_counts
    return need.scaled(change(1.0, wanted.stitches, wanted.rows, got.stitches, got.rows))


@dataclass(frozen=True, slots=True)
class WeighedSwatch:
    """A swatch's mass in g and its sides in cm."""

    mass_g: float
    width_cm: float
    height_cm: float


def grams_per_cm2(swatch: WeighedSwatch) -> Figure:
    """Returns the fabric's g per cm2 with what scale, ruler and edges leave open.

    Errors are judged: 1 g either way, 0.3 cm for each side, 3 % for the edges.
    """
    require_positive(mass_g=swatch.mass_g, width_cm=swatch.width_cm, height_cm=swatch.height_cm)
    scale, side, edges = (
        constant("swatch_models", name).value for name in ("scale_g", "side_cm", "edges")
    )
    off = hypot(scale / swatch.mass_g, side / swatch.width_cm, side / swatch.height_cm, edges)
    value = swatch.mass_g / (swatch.width_cm * swatch.height_cm)
    return Figure(value, value * max(0.0, 1 - off), value * (1 + off), Basis.SHOP)


def grams_by_swatch(item_area_cm2: Figure, swatch: WeighedSwatch, trim: Figure) -> Figure:
    """Returns the grams of yarn in an item of this area, by the weighed swatch.

    `trim` is what ribs, seams and ends add to an item of its kind, as in an estimate from
    measurements.
    """
    return product(Basis.SHOP, item_area_cm2, grams_per_cm2(swatch), trim)


def need_by_swatch(
    item_area_cm2: Figure, swatch: WeighedSwatch, put_up: PutUp, trim: Figure
) -> Figure:
    """Returns the metres of a yarn of this put-up that the item takes, by the weighed swatch."""
    grams = grams_by_swatch(item_area_cm2, swatch, trim)
    metres_per_g = length_of_weighed(1.0, put_up)
    bare = Figure(metres_per_g.value, metres_per_g.low, metres_per_g.high, Basis.LABEL)
    need = product(Basis.SHOP, grams, bare)
    note = message("swatch.weighed_need", low_m=need.low, high_m=need.high)
    return Figure(need.value, need.low, need.high, need.basis, (note, *need.notes))


def firmness(tex: float, density: float, gauge: Gauge) -> Figure:
    """Returns the volume cover of the swatch's fabric: root of (tex over g/cm3) over loop in cm.

    Rows that were not counted are guessed, which widens the interval.
    """
    rows = rows_guess(gauge.stitches) if gauge.rows is None else exactly(gauge.rows)
    low, value, high = (
        volume_cover(tex, density, loop_mm(gauge.stitches, of))
        for of in (rows.low, rows.value, rows.high)
    )
    return Figure(value, low, high, Basis.SHOP if gauge.rows else Basis.ESTIMATE, rows.notes)


def firmness_change(reference: float, now: float) -> Message:
    """Returns whether the fabric is clearly firmer or looser than the reference's, or alike."""
    require_positive(reference=reference, now=now)
    clear = constant("swatch_models", "firm_change").value
    if abs(now / reference - 1) < clear:
        return message("swatch.as_firm")
    return message("swatch.firmer" if now > reference else "swatch.looser")


def gauge_sayings(wanted: Gauge, got: Gauge) -> tuple[Message, ...]:
    """Returns how far the stitches are off, and the rows where both are known."""
    return (_stitches_saying(wanted.stitches, got.stitches), *_rows_off(wanted, got))


def _stitches_saying(wanted: float, got: float) -> Message:
    way, off = fit(wanted, got), abs(count_off(wanted, got))
    if way is Fit.RIGHT:
        return message("swatch.right", got_st=got)
    if way is Fit.TIGHT:
        return message("swatch.too_many", off_st=off, got_st=got, wanted_st=wanted)
    return message("swatch.too_few", off_st=off, got_st=got, wanted_st=wanted)


def _rows_off(wanted: Gauge, got: Gauge) -> tuple[Message, ...]:
    if wanted.rows is None or got.rows is None or fit(wanted.rows, got.rows) is Fit.RIGHT:
        return ()
    return (message("swatch.rows_off", got_st=got.rows, wanted_st=wanted.rows),)


def size_saying(cm: float, wanted: float, got: float) -> Message:
    """Returns what a measure of the pattern in cm comes out as if they go on regardless."""
    finished = regardless_cm(cm, wanted, got)
    if fit(wanted, got) is Fit.RIGHT:
        return message("swatch.comes_out_right", finished_cm=finished)
    off, larger = abs(finished - cm), finished > cm
    code = "swatch.comes_out_larger" if larger else "swatch.comes_out_smaller"
    return Message(code, {"wanted_cm": cm, "finished_cm": finished, "off_cm": off})


def rows_advice(kind: str, wanted: Gauge, got: Gauge) -> tuple[Message, ...]:
    """Returns what to do about the rows in an item of this kind (common practice).

    Nothing where they match or where the pattern states none; where the stitches match and the
    rows do not, the stitches are to be kept.
    """
    matters = row_gauge_of(kind)
    if wanted.rows is None:
        return ()
    if got.rows is None:
        return () if matters is RowGauge.LENGTH else (message("swatch.count_rows"),)
    if fit(wanted.rows, got.rows) is Fit.RIGHT:
        return ()
    advice = {
        RowGauge.SHAPES: message("swatch.rows_shape"),
        RowGauge.LENGTH: message("swatch.rows_to_length"),
        RowGauge.UNKNOWN: message("swatch.rows_may_shape"),
    }[matters]
    if fit(wanted.stitches, got.stitches) is Fit.RIGHT:
        return (message("swatch.keep_the_stitches"), advice)
    return (advice,)


def trust_sayings(washed: bool | None, over_cm: float | None) -> tuple[Message, ...]:
    """Returns why this swatch is to be trusted less: not washed, or measured over too little."""
    said = [] if washed else [message("swatch.wash_it" if washed is False else "swatch.if_washed")]
    least = constant("swatch_models", "swatch_across_cm").value
    if over_cm is not None and over_cm < least:
        said.append(message("swatch.measure_over_more", over_cm=over_cm, least_cm=least))
    return tuple(said)


def yarn_saying(before_m: float, now_m: float, skeins: int, skeins_needed: int) -> Message:
    """Returns whether the skeins in hand still do now that the need in metres has changed.

    Both needs are planned alike, with the allowance.
    """
    if skeins_needed > skeins:
        return message("swatch.more_skeins", need_m=now_m, count=skeins_needed - skeins)
    if now_m > before_m:
        return message("swatch.more_yarn_still_enough", need_m=now_m, before_m=before_m)
    return message("swatch.still_enough", need_m=now_m)
