"""The yarn that an item takes at the gauge got: by the gauge, and by a weighed swatch."""

from collections.abc import Iterator, Sequence
from dataclasses import replace
from decimal import Decimal

from shopdesk.answering.model.answer import Need
from shopdesk.answering.model.ask import Ask
from shopdesk.answering.supply.own_yarn import need_in
from shopdesk.answering.swatch.swatch_reading import MeasuredSwatch
from shopdesk.answering.swatch.swatch_result import PartNow, TakenLine, Weighed
from shopdesk.craft.figures import Figure
from shopdesk.craft.item_needs import CM2_PER_M2
from shopdesk.craft.items import item_area_cm2, item_models
from shopdesk.craft.messages import Message, message
from shopdesk.craft.quantity import in_skeins_m, skeins_for, with_allowance
from shopdesk.craft.swatch import (
    Gauge,
    grams_by_swatch,
    grams_per_cm2,
    need_by_swatch,
    need_now,
    yarn_saying,
)
from shopdesk.craft.yarn import PutUp


def parts_now(
    needs: Sequence[Need], lines: Sequence[TakenLine], wanted: Gauge, got: Gauge
) -> tuple[PartNow, ...]:
    """Returns what each line that went home has to give now, at the same finished size."""
    skus = list(dict.fromkeys(line.sku for line in lines))
    return tuple(_part_now(line, needs, wanted, got, _other(skus, line.sku)) for line in lines)


def _other(skus: Sequence[str], sku: str) -> str | None:
    """The yarn that is held with this one, if there are two."""
    return next((other for other in skus if other != sku), None)


def _part_now(
    line: TakenLine, needs: Sequence[Need], wanted: Gauge, got: Gauge, beside: str | None
) -> PartNow:
    mine = [
        need_in(need, line.sku, line.strands, beside)
        for need in needs
        if line.part in ("", need.part) or need.part in line.parts
    ]
    figures = [need.pattern_m for need in mine]
    known = [figure for figure in figures if figure is not None]
    if not known or len(known) != len(figures):
        unknown = message("swatch.need_unknown")
        return PartNow(line.part, None, None, None, line.skeins, None, unknown)
    before_m = _sum(known)
    now_m = replace(need_now(before_m, wanted, got), notes=())
    of_part = list(zip(mine, known, strict=True))
    planned = sum(_planned(need, figure) for need, figure in of_part) * line.strands
    plan = sum(_planned(need, need_now(figure, wanted, got)) for need, figure in of_part)
    plan *= line.strands
    if line.put_up is None:
        said = message("swatch.skeins_unknown", need_m=plan)
        return PartNow(line.part, before_m, now_m, plan, line.skeins, None, said)
    needed = skeins_for(plan, line.put_up.metres)
    said = yarn_saying(planned, plan, line.skeins, needed)
    return PartNow(line.part, before_m, now_m, plan, line.skeins, needed, said)


def _planned(need: Need, figure: Figure) -> float:
    """Metres that whole skeins must hold, without what the customer has of it."""
    return max(0.0, in_skeins_m(figure, need.allowance_percent) - need.own_strand_m)


def _sum(figures: Sequence[Figure]) -> Figure:
    first, *rest = figures
    for figure in rest:
        first = Figure(
            first.value + figure.value,
            first.low + figure.low,
            first.high + figure.high,
            first.basis,
            (*first.notes, *figure.notes),
        )
    return first


def regardless_need(
    needs: Sequence[Need], lines: Sequence[TakenLine], wanted: Gauge, got: Gauge
) -> Iterator[Message]:
    """Yields how much the pattern's counts take at the gauge got, where the need is known.

    Both amounts are planned as those of the parts are: with the allowance, over all strands.
    """
    figures = [need.pattern_m for need in needs]
    known = [figure for figure in figures if figure is not None]
    if not known or len(known) != len(figures):
        return
    before_m = now_m = 0.0
    for need, figure in zip(needs, known, strict=True):
        strands = _strands_of(need, lines)
        before_m += strands * _planned(need, figure)
        now_m += strands * _planned(need, need_now(figure, wanted, got, same_size=False))
    yield message("swatch.regardless_yarn", need_m=now_m, before_m=before_m)


def _strands_of(need: Need, lines: Sequence[TakenLine]) -> int:
    """How many strands a part is worked with, all its yarns together."""
    return sum(line.strands for line in lines if line.part in ("", need.part)) or 1


def weighed(
    ask: Ask | None,
    needs: Sequence[Need],
    lines: Sequence[TakenLine],
    wanted: Gauge | None,
    swatch: MeasuredSwatch,
) -> Weighed | None:
    """Returns what a weighed swatch says, or None if it was not weighed."""
    piece = swatch.weighed
    if piece is None:
        return None
    per_m2 = grams_per_cm2(piece).scaled(CM2_PER_M2)
    area = item_area_cm2(ask.item.value, ask.measurements) if ask else None
    if ask is None or area is None:
        said = (message("swatch.weighed_no_area"),) if ask else ()
        return Weighed(per_m2, None, None, said)
    trim, ball = item_models()[ask.item.value].trim, _one_ball(lines)
    item = grams_by_swatch(area, piece, trim)
    if ball is None:
        said = (message("swatch.weighed_grams", low_g=item.low, high_g=item.high),)
        return Weighed(per_m2, item, None, said)
    need = need_by_swatch(area, piece, ball, trim)
    skeins = message(
        "swatch.weighed_skeins",
        low=skeins_for(_planned_in_all(need.low, needs, lines), ball.metres),
        high=skeins_for(_planned_in_all(need.high, needs, lines), ball.metres),
    )
    beside = _beside(need, needs, lines, wanted, swatch.gauge)
    return Weighed(per_m2, item, need, (*need.notes, skeins, *beside))


def _planned_in_all(metres: float, needs: Sequence[Need], lines: Sequence[TakenLine]) -> float:
    """Metres of the whole item as those of the parts are planned, so that both can be compared."""
    percent = max((need.allowance_percent for need in needs), default=Decimal(0))
    own = sum(need.own_strand_m * _strands_of(need, lines) for need in needs)
    return max(0.0, with_allowance(metres, percent) - own)


def _one_ball(lines: Sequence[TakenLine]) -> PutUp | None:
    """The put-up of the item's yarn; None for two yarns held together, whose shares differ."""
    balls = {line.put_up for line in lines}
    return balls.pop() if len(balls) == 1 and len({line.sku for line in lines}) == 1 else None


def _beside(
    by_scale: Figure,
    needs: Sequence[Need],
    lines: Sequence[TakenLine],
    wanted: Gauge | None,
    got: Gauge,
) -> Iterator[Message]:
    """Whether the scale and the gauge agree on the whole item's yarn."""
    figures = [need.pattern_m for need in needs]
    known = [figure for figure in figures if figure is not None]
    if wanted is None or not known or len(known) != len(figures):
        return
    by_gauge = need_now(_sum(known), wanted, got).scaled(lines[0].strands)
    agree = by_scale.overlaps(by_gauge)
    code = "swatch.weighed_agrees" if agree else "swatch.weighed_differs"
    yield message(code, need_m=by_gauge.value)
