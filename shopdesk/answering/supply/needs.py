"""How much yarn each part needs: the pattern's words, else an estimate; own yarn; allowance."""

from decimal import Decimal

from shopdesk.answering.model.answer import Need
from shopdesk.answering.model.ask import AmountKind, Ask, OwnYarn, Part
from shopdesk.craft.figures import Basis, Figure
from shopdesk.craft.item_needs import need_from_item
from shopdesk.craft.messages import Message, message
from shopdesk.craft.quantity import need_from_balls, need_from_mass, planning_m, with_allowance


def needs_of(ask: Ask, allowance_percent: Decimal) -> tuple[Need, ...]:
    """Returns the need of every part, in metres of the fabric's path (one strand's length)."""
    return tuple(_need(ask, part, allowance_percent) for part in ask.parts)


def _need(ask: Ask, part: Part, allowance_percent: Decimal) -> Need:
    figure, why = _pattern_need(ask, part)
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


def _pattern_need(ask: Ask, part: Part) -> tuple[Figure | None, tuple[Message, ...]]:
    amount = part.amount
    if amount.kind is AmountKind.LENGTH and amount.length_m is not None:
        stated = amount.length_m
        figure = Figure(stated, stated, stated, Basis.PATTERN)
        return _per_strand(ask, figure), (message("needs.from_length", need_m=stated),)
    if amount.put_up is not None and amount.balls is not None:
        figure = need_from_balls(amount.balls, amount.put_up)
        said = message("needs.from_balls", balls=amount.balls)
        return _per_strand(ask, figure), (said, *figure.notes)
    if amount.put_up is not None and amount.mass_g is not None:
        figure = need_from_mass(amount.mass_g, amount.put_up)
        said = message("needs.from_mass", mass_g=amount.mass_g)
        return _per_strand(ask, figure), (said, *figure.notes)
    return _estimated_need(ask)


def _per_strand(ask: Ask, figure: Figure) -> Figure:
    """A pattern with strands held together states the length of all of them."""
    strands = ask.designer_yarn.strands if ask.designer_yarn else 1
    return figure if strands == 1 else figure.scaled(1 / strands)


def _estimated_need(ask: Ask) -> tuple[Figure | None, tuple[Message, ...]]:
    if len(ask.parts) > 1:
        return None, (message("needs.unknown_parts"),)
    if ask.gauge is None:
        return None, (message("needs.unknown_gauge"),)
    figure = need_from_item(
        ask.item.value,
        ask.measurements,
        ask.gauge.stitches,
        ask.gauge.rows,
        ask.gauge.stitch_pattern.value,
        ask.wearer.value,
    )
    if figure is None:
        return None, (message("needs.unknown_measurements"),)
    said = message("needs.estimated", low_m=figure.low, high_m=figure.high)
    return figure, (said, *figure.notes)
