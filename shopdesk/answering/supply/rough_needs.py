"""How much yarn an item takes where the pattern gives no amount, or balls of no known size."""

from typing import NamedTuple

from shopdesk.answering.model.ask import SINGLE_CROCHET, STOCKINETTE, Ask, Part
from shopdesk.answering.model.asked_wearer import wearer_of
from shopdesk.answering.profile.profile import designer_profile
from shopdesk.craft.figures import Figure
from shopdesk.craft.item_needs import is_rough, need_from_item
from shopdesk.craft.messages import Message, message
from shopdesk.craft.rough_amounts import agreed, rough_by_gauge, rough_from_balls, rough_from_mass
from shopdesk.craft.weights import categories_by_gauge
from shopdesk.craft.yarn import Craft


class ToldNeed(NamedTuple):
    """The metres of one part and what they rest on; `rough` where something usual stands in."""

    figure: Figure | None
    why: tuple[Message, ...]
    rough: bool = False


def estimated_need(ask: Ask) -> ToldNeed:
    """Returns the need by item, size, wearer, stitch pattern and gauge, or why there is none."""
    if len(ask.parts) > 1:
        return ToldNeed(None, (message("needs.unknown_parts"),))
    if ask.gauge is None and not _weights(ask):
        return ToldNeed(None, (message("needs.unknown_gauge"),))
    figure = _by_item(ask)
    if figure is None:
        return ToldNeed(None, (message("needs.unknown_measurements"),))
    rough = ask.gauge is None or is_rough(figure)
    code = "needs.rough_estimate" if rough else "needs.estimated"
    said = message(code, low_m=figure.low, high_m=figure.high)
    return ToldNeed(figure, (said, *figure.notes), rough)


def rough_need(ask: Ask, part: Part) -> ToldNeed:
    """Returns what balls or grams of no known size may hold by what is usual for the weight."""
    amount, weights = part.amount, _weights(ask)
    if amount.balls is not None:
        guide = rough_from_balls(amount.balls, weights)
        said = message("needs.from_balls", balls=amount.balls)
    else:
        guide = rough_from_mass(amount.mass_g or 0.0, weights)
        said = message("needs.from_grams", mass_g=amount.mass_g or 0.0)
    if guide is None:
        found = estimated_need(ask)
        return found._replace(why=(said, *found.why))
    item = _by_item(ask) if len(ask.parts) == 1 else None
    figure = agreed(per_strand(ask, guide), item)
    rough = message("needs.rough_balls", low_m=figure.low, high_m=figure.high)
    return ToldNeed(figure, (said, rough, *figure.notes), True)


def per_strand(ask: Ask, figure: Figure) -> Figure:
    """A pattern with strands held together states the length of all of them."""
    strands = ask.designer_yarn.strands if ask.designer_yarn else 1
    return figure if strands == 1 else figure.scaled(1 / strands)


def _by_item(ask: Ask) -> Figure | None:
    gauge = ask.gauge
    if gauge is not None:
        return _need_at(ask, gauge.stitches, gauge.rows, gauge.stitch_pattern.value)
    pattern = STOCKINETTE if ask.craft is Craft.KNIT else SINGLE_CROCHET
    return rough_by_gauge(
        _weights(ask), ask.craft, lambda stitches: _need_at(ask, stitches, None, pattern.value)
    )


def _need_at(ask: Ask, stitches: float, rows: float | None, pattern: str) -> Figure | None:
    wearer = wearer_of(ask).wearer
    return need_from_item(ask.item.value, ask.measurements, stitches, rows, pattern, wearer)


def _weights(ask: Ask) -> tuple[int, ...]:
    """The weights of one strand: by the designer's yarn, else by the pattern's own gauge."""
    if ask.designer_yarn is not None:
        found = designer_profile(ask.designer_yarn).categories
        if found:
            return found
    if ask.gauge is None:
        return ()
    return categories_by_gauge(ask.gauge.stitches, ask.gauge.stitches, craft=ask.craft)
