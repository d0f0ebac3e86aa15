"""The shelves that are measured: built once in a folder, each in a data folder of its own."""

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path

from sqlalchemy import Engine

from shopdesk.bundled import bundled
from shopdesk.shelf.writing import writing
from shopdesk.shop.location import DATABASE_FILE
from shopdesk.store.database import open_shelf
from shopdesk.store.settings import read_settings, save_settings
from shopdesk.store.upgrading import HEAD, upgrade
from shopdesk.upkeep.seeding import seed_demo, shop_texts
from tests.big_shelf import put_big_shelf

ROOT = Path(__file__).resolve().parents[2]
DEMO = "demo"


@dataclass(frozen=True, slots=True)
class Size:
    """A shelf's yarns, the colours of each yarn, and the lots of each colour."""

    yarns: int
    colours: int = 20
    lots: int = 2

    @property
    def words(self) -> str:
        """How large it is."""
        rows = self.yarns * self.colours * self.lots
        return f"{self.yarns:,} yarns, {rows:,} stock rows"


@dataclass(frozen=True, slots=True)
class Scale:
    """How much is measured: the design size, the sizes of the growth, and how often."""

    design: Size = Size(10_000)
    growth: tuple[Size, ...] = tuple(
        Size(yarns, colours=2) for yarns in (300, 1_000, 3_000, 10_000, 30_000, 100_000)
    )
    asks: int = 30
    counted_asks: int = 9
    growth_asks: int = 15
    pandas_asks: int = 5
    slips: int = 40
    starts: int = 11
    clients: int = 8
    requests: int = 12


@dataclass(frozen=True, slots=True)
class Shelves:
    """Builds what is asked for and is not there yet."""

    folder: Path
    scale: Scale

    def design(self) -> Path:
        """Returns the data folder of the shelf of the design size."""
        return self.sized(self.scale.design)

    def demo(self) -> Path:
        """Returns the data folder of the shop with the demo catalog."""
        return self._built(DEMO, seed_demo)

    def sized(self, size: Size) -> Path:
        """Returns the data folder of a shelf of that size."""

        def fill(engine: Engine) -> None:
            put_big_shelf(engine, size.yarns, size.colours, size.lots)
            with writing(engine) as session:
                save_settings(session, read_settings(shop_texts()))

        return self._built(f"{size.yarns}x{size.colours}x{size.lots}", fill)

    def _built(self, name: str, fill: Callable[[Engine], object]) -> Path:
        """A shelf gets its name when it is whole; one of another schema has another name."""
        done = self.folder / f"{name}-schema-{HEAD}"
        if done.exists():
            return done
        draft = self.folder / f"{done.name}.draft"
        draft.mkdir(parents=True)
        with opened(draft) as engine:
            upgrade(engine)
            fill(engine)
        return draft.rename(done)


def typical_ask() -> Path:
    """Returns the file of an ordinary ask: a plain pullover, with its designer's yarn."""
    return bundled("seed_catalog") / "asks" / "plain-pullover.json"


def database_of(data: Path) -> Path:
    """Returns the SQLite file in a data folder."""
    return data / DATABASE_FILE


@contextmanager
def opened(data: Path) -> Iterator[Engine]:
    """Gives the engine of a data folder's shelf, closed at the end."""
    engine = open_shelf(f"sqlite:///{database_of(data)}")
    try:
        yield engine
    finally:
        engine.dispose()
