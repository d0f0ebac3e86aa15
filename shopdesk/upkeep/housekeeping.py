"""Tidies by the hour beside a counter that is being served."""

import logging
import threading

from shopdesk.services.tidying import tidy
from shopdesk.shop.shop import Shop
from shopdesk.store.faults import ShelfFault

LOG = logging.getLogger(__name__)
EVERY_SECONDS = 3600.0


class HourlyTidying(threading.Thread):
    """Tidies until it is ended; what fails is logged and tried again."""

    def __init__(self, shop: Shop, every_seconds: float = EVERY_SECONDS) -> None:
        super().__init__(name="tidying", daemon=True)
        self._shop = shop
        self._every_seconds = every_seconds
        self._over = threading.Event()

    def run(self) -> None:
        """Tidies until `end` is called."""
        while True:
            try:
                tidy(self._shop)
            except ShelfFault as fault:
                LOG.warning("tidying failed: %s", type(fault).__name__)
            if self._over.wait(self._every_seconds):
                return

    def end(self) -> None:
        """Lets what is being done finish, and stops."""
        self._over.set()
        self.join()
