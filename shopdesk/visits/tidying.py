"""What the clock does: holds that ran out are noted, old names go, old form words go.

Nothing waits for it: what ran out stops counting by itself.
"""

from dataclasses import dataclass
from datetime import datetime

from sqlalchemy import Engine

from shopdesk.shelf.database import writing
from shopdesk.visits.holds import sweep_holds
from shopdesk.visits.once import forget_forms
from shopdesk.visits.privacy import Forgotten, forget_old


@dataclass(frozen=True, slots=True)
class Tidied:
    """How many holds ran out, and where names were forgotten."""

    holds: int
    names: Forgotten


def tidy(engine: Engine, at: datetime | None = None) -> Tidied:
    """Does all of it in one short transaction."""
    with writing(engine) as session:
        forget_forms(session)
        return Tidied(sweep_holds(session, at), forget_old(session, at))
