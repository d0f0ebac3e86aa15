"""A price limit as a shelf can look for it, before it is known how a yarn would be held."""

from dataclasses import dataclass

from shopdesk.answering.answer import RuledOut
from shopdesk.answering.candidates import Counted
from shopdesk.answering.windows import HAIR
from shopdesk.answering.wishes import unmet_price
from shopdesk.craft.money import minor_units
from shopdesk.craft.sayings import Saying


@dataclass(frozen=True, slots=True)
class PriceBound:
    """The limit in minor units, and the metres that are needed of one strand; None is unknown.

    A yarn whose metres alone cost more is too dear in any way it may be held: whole skeins and
    more strands only add to that.
    """

    limit_minor: float
    length_m: float | None
    too_dear: Saying
    unknown: Saying

    def lines(self, dear: int, unknown: int) -> tuple[RuledOut, ...]:
        """Returns what the limit rules out: so many too dear, so many of unknown price."""
        both = ((self.too_dear, dear), (self.unknown, unknown))
        return tuple(RuledOut(wish, number, ()) for wish, number in both if number)


def price_bound(asked: Counted) -> PriceBound | None:
    """Returns the bound of an ask; None if the customer sets no limit."""
    wishes = asked.wanted.ask.wishes
    limit = wishes.price_limit
    if limit is None:
        return None
    too_dear, unknown = unmet_price(limit + 1, wishes), unmet_price(None, wishes)
    assert too_dear is not None
    assert unknown is not None
    minor = float(limit.scaleb(minor_units(asked.terms.currency))) * (1 + HAIR)
    return PriceBound(minor, _length_m(asked), too_dear, unknown)


def _length_m(asked: Counted) -> float | None:
    plans = [need.plan_m for need in asked.needs]
    known = [plan for plan in plans if plan is not None]
    return sum(known) if plans and len(known) == len(plans) else None
