"""Which yarns of a large shelf are too dear however they are held, told before one is judged."""

from dataclasses import dataclass
from typing import ClassVar

from shopdesk.answering.answer.candidates import PreparedAsk
from shopdesk.answering.model.answer import RuledOut
from shopdesk.answering.supply.own_yarn import least_need
from shopdesk.answering.supply.wishes import unmet_price
from shopdesk.answering.thresholds import HAIR
from shopdesk.craft.messages import Message, message
from shopdesk.craft.money import in_minor
from shopdesk.craft.quantity import ONE_MILLIMETRE


@dataclass(frozen=True, slots=True)
class PriceBound:
    """The limit in minor units, and the metres that are needed of one strand; None is unknown.

    A yarn of which one strand's whole skeins cost more, rounded up once for all parts, is too dear
    in any way it may be held: parts that are rounded up apart and more strands only add to that.
    """

    limit_minor: float
    length_m: float | None
    too_dear: Message
    unknown: Message

    UP: ClassVar[float] = 0.5 - 1e-9
    """Added before rounding to the nearest, so that what is left of a skein counts as one."""

    def lines(self, dear: int, unknown: int) -> tuple[RuledOut, ...]:
        """Returns what the limit rules out: so many too dear, so many of unknown price."""
        both = ((self.too_dear, dear), (self.unknown, unknown))
        return tuple(RuledOut(wish, number, ()) for wish, number in both if number)


def price_bound(asked: PreparedAsk) -> PriceBound | None:
    """Returns the bound of an ask; None if the customer sets no limit."""
    wishes = asked.wanted.ask.wishes
    limit = wishes.price_limit
    if limit is None:
        return None
    too_dear, unknown = message("wishes.price", limit_price=limit), unmet_price(None, wishes)
    assert unknown is not None
    minor = float(in_minor(limit, asked.terms.currency)) * (1 + HAIR)
    return PriceBound(minor, _priced_length_m(asked), too_dear, unknown)


def _priced_length_m(asked: PreparedAsk) -> float | None:
    """Returns the metres of all parts, each less what may be short of a skein's end."""
    plans = [least_need(need).skein_m for need in asked.needs]
    known = [plan for plan in plans if plan is not None]
    if not plans or len(known) < len(plans):
        return None
    return max(0.0, sum(known) - len(known) * float(ONE_MILLIMETRE))
