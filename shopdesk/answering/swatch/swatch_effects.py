"""What a swatch changes: size, tool, other sizes, rows, yarn and firmness, each with its basis."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from decimal import Decimal

from shopdesk.answering.judging.companions import StrandCombination
from shopdesk.answering.model.answer import Need
from shopdesk.answering.model.ask import STOCKINETTE, Ask
from shopdesk.answering.profile.profile import designer_profile
from shopdesk.answering.supply.needs import needs_of
from shopdesk.answering.swatch.swatch_amounts import parts_now, regardless_need, weighed
from shopdesk.answering.swatch.swatch_reading import MeasuredSwatch
from shopdesk.answering.swatch.swatch_result import (
    Firmness,
    MeasureOutcome,
    OwnGauge,
    SwatchResult,
    TakenLine,
)
from shopdesk.craft.figures import Basis, Figure
from shopdesk.craft.messages import Message, message, term_code
from shopdesk.craft.swatch import (
    Fit,
    Gauge,
    NextTool,
    SizeOutcome,
    firmness,
    firmness_change,
    fit,
    gauge_sayings,
    next_tool,
    other_size,
    other_size_saying,
    regardless_cm,
    rows_advice,
    size_outcomes,
    size_saying,
    trust_sayings,
)
from shopdesk.craft.yarn import Craft


@dataclass(frozen=True, slots=True)
class SwatchCase:
    """What a swatch is held against: the ask, what went home, and what is on the needles.

    Without a slip there is no ask and no line, and the swatch only tells of the yarn.
    """

    ask: Ask | None
    lines: tuple[TakenLine, ...]
    held: StrandCombination
    allowance_percent: Decimal
    own_gauge: OwnGauge


def swatch_result(case: SwatchCase, swatch: MeasuredSwatch) -> SwatchResult:
    """Returns everything a swatch says about its item and its yarn."""
    ask, got = case.ask, swatch.gauge
    wanted = _wanted(ask, swatch)
    needs = needs_of(ask, case.allowance_percent) if ask else ()
    measure = _measure(ask, wanted, got) if ask else None
    sizes, other = _sizes(ask, wanted, got)
    tool = _next_tool(ask, wanted, swatch)
    return SwatchResult(
        wanted=wanted,
        got=got,
        fit=fit(wanted.stitches, got.stitches) if wanted else None,
        gauge=gauge_sayings(wanted, got) if wanted else _not_compared(ask, swatch),
        trust=tuple(_trust(ask, swatch)),
        tool=tool,
        advice=_advice(ask, wanted, got, tool),
        measure=measure,
        regardless=tuple(_regardless(case, wanted, got, needs, measure)),
        sizes=sizes,
        other_size=other,
        rows=tuple(_rows(ask, wanted, got, needs)),
        parts=parts_now(needs, case.lines, wanted, got) if wanted else (),
        weighed=weighed(ask, needs, case.lines, wanted, swatch),
        firmness=_firmness(case, wanted, swatch),
        own_gauge=case.own_gauge,
    )


def _wanted(ask: Ask | None, swatch: MeasuredSwatch) -> Gauge | None:
    """The pattern's gauge, if the swatch is worked in the stitch pattern that it is counted in."""
    if ask is None or ask.gauge is None or ask.gauge.stitch_pattern is not swatch.stitch_pattern:
        return None
    return Gauge(ask.gauge.stitches, ask.gauge.rows)


def _not_compared(ask: Ask | None, swatch: MeasuredSwatch) -> tuple[Message, ...]:
    got = swatch.gauge.stitches
    if ask is None:
        return (message("swatch.for_the_yarn", got_st=got),)
    if ask.gauge is None:
        return (message("swatch.no_pattern_gauge", got_st=got),)
    return (
        message(
            "swatch.other_pattern",
            swatch_term=term_code("stitch", swatch.stitch_pattern),
            pattern_term=term_code("stitch", ask.gauge.stitch_pattern),
        ),
    )


def _trust(ask: Ask | None, swatch: MeasuredSwatch) -> Iterator[Message]:
    before_washing = ask is not None and ask.gauge is not None and ask.gauge.after_washing is False
    if before_washing and swatch.washed:
        yield message("swatch.pattern_unwashed")
    yield from trust_sayings(swatch.washed, swatch.over_cm)


def _next_tool(ask: Ask | None, wanted: Gauge | None, swatch: MeasuredSwatch) -> NextTool | None:
    if ask is None or wanted is None or swatch.tool_mm is None:
        return None
    return next_tool(swatch.tool_mm, wanted.stitches, swatch.gauge.stitches, ask.craft)


def _advice(
    ask: Ask | None, wanted: Gauge | None, got: Gauge, tool: NextTool | None
) -> tuple[Message, ...]:
    if tool is not None:
        return tool.advice
    if ask is None or wanted is None:
        return ()
    unnamed = {
        Fit.RIGHT: "swatch.keep_tool",
        Fit.TIGHT: "swatch.larger_unnamed",
        Fit.LOOSE: "swatch.smaller_unnamed",
    }
    return (message(unnamed[fit(wanted.stitches, got.stitches)]),)


def _measure(ask: Ask, wanted: Gauge | None, got: Gauge) -> MeasureOutcome | None:
    """The item's measure across the stitches: its chest, else its width, else around."""
    if wanted is None:
        return None
    for which in ("chest", "width", "around"):
        cm = getattr(ask.measurements, f"{which}_cm")
        if cm is not None:
            finished = regardless_cm(cm, wanted.stitches, got.stitches)
            said = size_saying(cm, wanted.stitches, got.stitches)
            return MeasureOutcome(which, cm, finished, said)
    return None


def _regardless(
    case: SwatchCase,
    wanted: Gauge | None,
    got: Gauge,
    needs: Sequence[Need],
    measure: MeasureOutcome | None,
) -> Iterator[Message]:
    """What happens if the pattern's counts are worked at the gauge got."""
    if wanted is None:
        return
    if measure is not None:
        yield measure.said
    else:
        percent = (wanted.stitches / got.stitches - 1) * 100
        way = fit(wanted.stitches, got.stitches)
        if way is not Fit.RIGHT:
            code = "swatch.wider_by" if way is Fit.LOOSE else "swatch.narrower_by"
            yield message(code, off_percent=abs(percent))
    yield from regardless_need(needs, case.lines, wanted, got)


def _rows(
    ask: Ask | None, wanted: Gauge | None, got: Gauge, needs: Sequence[Need]
) -> Iterator[Message]:
    if ask is None or wanted is None:
        return
    yield from rows_advice(ask.item.value, wanted, got)
    unknown = wanted.rows is None or got.rows is None
    if unknown and any(need.pattern_m is not None for need in needs):
        yield message("swatch.rows_assumed")


def _sizes(
    ask: Ask | None, wanted: Gauge | None, got: Gauge
) -> tuple[tuple[SizeOutcome, ...], Message | None]:
    if ask is None or wanted is None or not ask.size_chests_cm or ask.chosen_size is None:
        return (), None
    sizes = list(zip(ask.size_names, ask.size_chests_cm, strict=True))
    outcomes = size_outcomes(sizes, wanted.stitches, got.stitches)
    if fit(wanted.stitches, got.stitches) is Fit.RIGHT:
        return outcomes, None
    found = other_size(sizes, ask.chosen_size, wanted.stitches, got.stitches)
    return outcomes, other_size_saying(found)


def _firmness(case: SwatchCase, wanted: Gauge | None, swatch: MeasuredSwatch) -> Firmness | None:
    """Plain knitting only: held against the original's fabric, else this yarn as it was meant."""
    ask, held = case.ask, case.held
    plain = swatch.stitch_pattern is STOCKINETTE
    if ask is None or wanted is None or ask.craft is not Craft.KNIT or not plain:
        return None
    now = _cover(held.tex, held.density, swatch.gauge)
    if now is None:
        return None
    original = _originals(ask, wanted)
    if original is not None:
        return Firmness(now, original, firmness_change(original.value, now.value))
    meant = _cover(held.tex, held.density, wanted)
    assert meant is not None
    change = firmness_change(meant.value, now.value)
    return Firmness(now, meant, _THAN_MEANT[change.code])


_THAN_MEANT = {
    "swatch.as_firm": message("swatch.as_firm_than_meant"),
    "swatch.firmer": message("swatch.firmer_than_meant"),
    "swatch.looser": message("swatch.looser_than_meant"),
}


def _originals(ask: Ask, wanted: Gauge) -> Figure | None:
    designer = ask.designer_yarn
    if designer is None or designer.strands > 1:
        return None
    profile = designer_profile(designer)
    return _cover(profile.tex, profile.density.value if profile.density else None, wanted)


def _cover(tex: Figure | None, density: float | None, gauge: Gauge) -> Figure | None:
    """Returns the firmness, as unsure as the yarn's thickness and the rows make it."""
    if tex is None or density is None:
        return None
    low, value, high = (firmness(each, density, gauge) for each in (tex.low, tex.value, tex.high))
    basis = max((tex.basis, value.basis), key=list(Basis).index)
    return Figure(value.value, low.low, high.high, basis, (*tex.notes, *value.notes))
