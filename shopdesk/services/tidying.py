"""What the clock does: holds that ran out are noted, old names go, old form words go.

Nothing waits for it: what ran out stops counting by itself.
"""

from dataclasses import dataclass

from shopdesk.services.holds import sweep_holds
from shopdesk.services.privacy import Forgotten, forget_old
from shopdesk.shop.shop import Shop
from shopdesk.store.request_keys import forget_forms


@dataclass(frozen=True, slots=True)
class TidyingResult:
    """How many holds ran out, and where names were forgotten."""

    holds: int
    names: Forgotten


def tidy(shop: Shop) -> TidyingResult:
    """Does all of it in one short transaction."""
    moment = shop.clock()
    with shop.write() as session:
        forget_forms(session, moment)
        return TidyingResult(sweep_holds(session, moment), forget_old(session, moment))
