"""What the clock does: holds that ran out are noted, old names go, old form words go.

Nothing waits for it: what ran out stops counting by itself.
"""

import logging
import threading
from dataclasses import dataclass
from datetime import datetime

from sqlalchemy import Engine

from shopdesk.services.holds import sweep_holds
from shopdesk.services.privacy import Forgotten, forget_old
from shopdesk.shelf.writing import writing
from shopdesk.store.faults import ShelfFault
from shopdesk.store.request_keys import forget_forms

LOG = logging.getLogger(__name__)
EVERY_SECONDS = 3600.0


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


class HourlyTidying(threading.Thread):
    """Tidies beside a counter that is being served; what fails is logged and tried again."""

    def __init__(self, engine: Engine, every_seconds: float = EVERY_SECONDS) -> None:
        super().__init__(name="tidying", daemon=True)
        self._engine = engine
        self._every_seconds = every_seconds
        self._over = threading.Event()

    def run(self) -> None:
        """Tidies until `end` is called."""
        while True:
            try:
                tidy(self._engine)
            except ShelfFault as fault:
                LOG.warning("tidying failed: %s", type(fault).__name__)
            if self._over.wait(self._every_seconds):
                return

    def end(self) -> None:
        """Lets what is being done finish, and stops."""
        self._over.set()
        self.join()
