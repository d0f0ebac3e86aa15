"""How much yarn each part needs: the pattern's words, else an estimate; own yarn; allowance."""

from collections.abc import Iterator
from decimal import Decimal

from shopdesk.answering.model.answer import Need
from shopdesk.answering.model.ask import AmountKind, Ask, Part
from shopdesk.answering.supply.own_yarn import (
    own_length,
    own_sayings,
    own_strands,
    own_told,
    with_own,
)
from shopdesk.answering.supply.rough_needs import ToldNeed, estimated_need, per_strand, rough_need
from shopdesk.craft.figures import Basis, Figure
from shopdesk.craft.messages import Message, message
from shopdesk.craft.quantity import (
    in_skeins_m,
    need_from_balls,
    need_from_mass,
    planning_m,
    with_allowance,
)
from shopdesk.reference.tables import constant


def needs_of(ask: Ask, allowance_percent: Decimal, country: str = "") -> tuple[Need, ...]:
    """Returns the need of every part, in metres of the fabric's path (one strand's length).

    `country` is the shop's, whose cautions are told of a yarn in hand; '' takes the strictest.
    """
    return tuple(_need(ask, part, allowance_percent, country) for part in ask.parts)


def _need(ask: Ask, part: Part, allowance_percent: Decimal, country: str) -> Need:
    told = _pattern_need(ask, part)
    figure, own, strands = told.figure, own_length(part.own), own_strands(ask, part.own)
    allowance = 0.0
    if figure is not None:
        planned = planning_m(figure)
        allowance = with_allowance(planned, allowance_percent) - planned
    need = Need(
        part=part.name,
        pattern_m=figure,
        own_m=own.low,
        allowance_percent=allowance_percent,
        allowance_m=allowance,
        plan_m=None,
        why=told.why
        if figure is None
        else (
            *told.why,
            *_why_there(told, allowance_percent),
            *own_sayings(part.own, strands),
        ),
        rough=told.rough,
        own_sku=part.own.sku if part.own else None,
        own_told=own_told(ask, part, country),
    )
    return with_own(need, own.low / strands)


def _why_there(told: ToldNeed, percent: Decimal) -> Iterator[Message]:
    """Where in a wide range is planned for, and why there."""
    figure, wide = told.figure, constant("item_models", "wide_ratio").value
    if figure is None or figure.basis is not Basis.ESTIMATE:
        return
    if told.rough or figure.high > wide * figure.low:
        planned = in_skeins_m(figure, percent)
        yield message("needs.why_there", planned_m=planned, likely_m=figure.value)


def _pattern_need(ask: Ask, part: Part) -> ToldNeed:
    amount = part.amount
    if amount.kind is AmountKind.LENGTH and amount.length_m is not None:
        stated = amount.length_m
        figure = Figure(stated, stated, stated, Basis.PATTERN)
        return ToldNeed(per_strand(ask, figure), (message("needs.from_length", need_m=stated),))
    put_up = amount.put_up or (ask.designer_yarn.put_up if ask.designer_yarn else None)
    if put_up is None and (amount.balls is not None or amount.mass_g is not None):
        return rough_need(ask, part)
    if put_up is not None and amount.balls is not None:
        figure = need_from_balls(amount.balls, put_up)
        said = message("needs.from_balls", balls=amount.balls)
        return ToldNeed(per_strand(ask, figure), (said, *figure.notes))
    if put_up is not None and amount.mass_g is not None:
        figure = need_from_mass(amount.mass_g, put_up)
        said = message("needs.from_mass", mass_g=amount.mass_g)
        return ToldNeed(per_strand(ask, figure), (said, *figure.notes))
    return estimated_need(ask)
