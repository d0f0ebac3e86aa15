"""A rough guide at an amount where no ball's size is known: what is usual for the weight.

Both ends of the weight's usual put-ups are kept, so that the range is wide; common practice.
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import cache
from math import sqrt

from shopdesk.craft.figures import Basis, Figure, product
from shopdesk.craft.gauge import require_positive
from shopdesk.craft.messages import Message, message, term_code
from shopdesk.craft.quantity import least_balls
from shopdesk.craft.weights import category
from shopdesk.craft.yarn import Craft
from shopdesk.reference.tables import table


@dataclass(frozen=True, slots=True)
class UsualPutUp:
    """What a ball of a weight usually holds, from the smallest to the largest."""

    grams_low: float
    grams_high: float
    metres_per_100g_low: float
    metres_per_100g_high: float


@cache
def usual_put_up(weight: int) -> UsualPutUp:
    """Returns the usual put-up of a weight category, 0 to 7. Raises KeyError."""
    for row in table("usual_put_ups"):
        if row["weight"] == str(weight):
            found, open_end = category(weight), row["open_end_m"]
            ends = (found.metres_low or open_end, found.metres_high or open_end)
            grams = (row["grams_low"], row["grams_high"])
            return UsualPutUp(*(float(number) for number in (*grams, *ends)))
    raise KeyError(weight)


def rough_from_balls(balls: float, weights: Sequence[int]) -> Figure | None:
    """Returns the metres that so many balls of unknown size may hold; None for no weight.

    From one ball less of the smallest to all of the largest of these weights.
    """
    require_positive(balls=balls)
    if not weights:
        return None
    usual = [usual_put_up(weight) for weight in weights]
    low = min(each.grams_low * each.metres_per_100g_low for each in usual) / 100
    high = max(each.grams_high * each.metres_per_100g_high for each in usual) / 100
    said = message("amount.usual_ball", weight_terms=_names(weights), low_m=low, high_m=high)
    return _between(least_balls(balls) * low or low / 2, balls * high, said)


def rough_from_mass(grams: float, weights: Sequence[int]) -> Figure | None:
    """Returns the metres in so many grams of these weights; None for no weight."""
    require_positive(grams=grams)
    if not weights:
        return None
    usual = [usual_put_up(weight) for weight in weights]
    low = min(each.metres_per_100g_low for each in usual)
    high = max(each.metres_per_100g_high for each in usual)
    said = message("amount.usual_length_of", weight_terms=_names(weights), low_m=low, high_m=high)
    return _between(grams * low / 100, grams * high / 100, said)


def rough_by_gauge(
    weights: Sequence[int], craft: Craft, need_at: Callable[[float], Figure | None]
) -> Figure | None:
    """Returns the need at the usual gauge of these weights, given what it is at a gauge.

    `need_at` takes stitches per 10 cm and returns metres. None for no weight, or where it is.
    """
    ends = [end for weight in weights for end in _usual_stitches(weight, craft)]
    if not ends:
        return None
    fewest, most = min(ends), max(ends)
    loose, middle, tight = need_at(fewest), need_at((fewest + most) / 2), need_at(most)
    if loose is None or middle is None or tight is None:
        return None
    usual = Figure(1.0, loose.value / middle.value, tight.value / middle.value, Basis.ESTIMATE)
    said = message("amount.usual_gauge", weight_terms=_names(weights), low_st=fewest, high_st=most)
    found = product(Basis.ESTIMATE, middle, usual)
    return Figure(found.value, found.low, found.high, found.basis, (said, *found.notes))


def agreed(guide: Figure, estimate: Figure | None) -> Figure:
    """Returns the guide, narrowed to what the item's own estimate leaves of it.

    Where the two do not meet, or there is no estimate, it is the guide.
    """
    if estimate is None or not guide.overlaps(estimate):
        return guide
    low, high = max(guide.low, estimate.low), min(guide.high, estimate.high)
    said = message("amount.as_the_item_takes", low_m=estimate.low, high_m=estimate.high)
    value = min(max(estimate.value, low), high)
    return Figure(value, low, high, Basis.ESTIMATE, (*guide.notes, said))


def _usual_stitches(weight: int, craft: Craft) -> tuple[float, ...]:
    found = category(weight)
    knit, crochet = (found.knit_low, found.knit_high), (found.crochet_low, found.crochet_high)
    ends = knit if craft is Craft.KNIT else crochet
    return tuple(end for end in ends if end is not None)


def _between(low: float, high: float, said: Message) -> Figure:
    """A range with its likely value where it is as many times over one end as under the other."""
    return Figure(sqrt(low * high), low, high, Basis.ESTIMATE, (said,))


def _names(weights: Sequence[int]) -> tuple[str, ...]:
    return tuple(term_code("weight", weight) for weight in weights)
