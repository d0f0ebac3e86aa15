"""One shop: its database, the branch that it is asked from, and its clock."""

from collections.abc import Callable, Iterator
from contextlib import AbstractContextManager, contextmanager
from dataclasses import dataclass, replace
from datetime import date, datetime
from typing import TYPE_CHECKING

from sqlalchemy import Engine
from sqlalchemy.orm import Session

from shopdesk.shop.location import CounterBranch, DataLocation
from shopdesk.store.database import open_shelf, reading
from shopdesk.store.settings import ShopSettings, load_settings
from shopdesk.store.tables.stock import FIRST_BRANCH
from shopdesk.store.types import now
from shopdesk.store.upgrading import check_version

if TYPE_CHECKING:
    from typing import Self


class ShopMissing(RuntimeError):
    """There is no database yet where it is looked for."""


def day_of(moment: datetime) -> date:
    """Returns the day that it is at the counter at a moment."""
    return moment.astimezone().date()


@dataclass(frozen=True, slots=True)
class Shop:
    """What every use case starts from; `branch` is where the counter or the command stands.

    `clock` gives the present moment in UTC; a test hands in its own. `known_settings` gives
    settings that were read already; else each look reads them.
    """

    engine: Engine
    branch: str = FIRST_BRANCH
    clock: Callable[[], datetime] = now
    known_settings: Callable[[], ShopSettings] | None = None

    def read(self) -> AbstractContextManager[Session]:
        """Gives a session that sees one moment of the shop and cannot change it."""
        return reading(self.engine)

    def write(self) -> AbstractContextManager[Session]:
        """Gives a session whose work is kept as a whole at the end, or not at all on an error."""
        from shopdesk.shelf.writing import writing

        return writing(self.engine)

    def settings(self) -> ShopSettings:
        """Returns the shop's settings as they are now, or as they are known already."""
        if self.known_settings is not None:
            return self.known_settings()
        with self.read() as session:
            return load_settings(session)

    def today(self) -> date:
        """Returns the day it is at the counter."""
        return day_of(self.clock())

    def in_branch(self, code: str) -> "Self":
        """Returns the same shop as asked from another branch."""
        return replace(self, branch=code)


def open_shop(location: DataLocation) -> Shop:
    """Returns a shop that is set up, asked from its counter's branch. Creates nothing.

    Raises ShopMissing and ShelfFault.
    """
    file = location.database_file
    if file is not None and not file.exists():
        raise ShopMissing(
            f"there is no shop at {file}; `shopdesk serve` sets one up, "
            "or name its folder with --data"
        )
    engine = open_shelf(location.url)
    try:
        check_version(engine)
    except BaseException:
        engine.dispose()
        raise
    return Shop(engine, CounterBranch(location.folder).code())


@contextmanager
def opened_shop(location: DataLocation) -> Iterator[Shop]:
    """Gives a shop that is set up, and closes it at the end."""
    shop = open_shop(location)
    try:
        yield shop
    finally:
        shop.engine.dispose()
