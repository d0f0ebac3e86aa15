"""How much yarn each part needs: the pattern's words, else an estimate; own yarn; allowance."""

from decimal import Decimal

from shopdesk.answering.model.answer import Need
from shopdesk.answering.model.ask import AmountKind, Ask, OwnYarn, Part
from shopdesk.answering.supply.rough_needs import ToldNeed, estimated_need, per_strand, rough_need
from shopdesk.craft.figures import Basis, Figure
from shopdesk.craft.messages import message
from shopdesk.craft.quantity import need_from_balls, need_from_mass, planning_m, with_allowance


def needs_of(ask: Ask, allowance_percent: Decimal) -> tuple[Need, ...]:
    """Returns the need of every part, in metres of the fabric's path (one strand's length)."""
    return tuple(_need(ask, part, allowance_percent) for part in ask.parts)


def _need(ask: Ask, part: Part, allowance_percent: Decimal) -> Need:
    told = _pattern_need(ask, part)
    figure, why = told.figure, told.why
    own = own_metres(part.own)
    if figure is None:
        return Need(part.name, None, own, allowance_percent, 0.0, None, why)
    planned = planning_m(figure)
    total = with_allowance(planned, allowance_percent)
    if own > 0:
        why = (*why, message("needs.own_deducted", own_m=own))
    return Need(
        part=part.name,
        pattern_m=figure,
        own_m=own,
        allowance_percent=allowance_percent,
        allowance_m=total - planned,
        plan_m=max(0.0, total - own),
        why=why,
        rough=told.rough,
    )


def own_metres(own: OwnYarn | None) -> float:
    """Returns the length in hand in metres: as said, or weighed with its length per mass."""
    if own is None:
        return 0.0
    if own.length_m is not None:
        return own.length_m
    if own.mass_g is None or own.put_up is None:
        return 0.0
    return own.mass_g * own.put_up.metres / own.put_up.grams


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
