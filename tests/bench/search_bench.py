"""Search as one types and barcode lookup against a full scan of the table, in the same run.

Run it alone on a quiet machine: python -m tests.bench.search_bench [YARNS]
The scan reads every row of the yarns through the same session and looks into each name; the
bare scan is what SQLite itself needs to look into every name.
"""

import random
import sys
import time
from collections.abc import Callable, Iterator
from pathlib import Path
from statistics import median
from tempfile import TemporaryDirectory

from sqlalchemy import Engine, insert, select, update
from sqlalchemy.orm import Session

from shopdesk.shelf.index_keeping import plain_words
from shopdesk.shelf.search import sku_of, suggest
from shopdesk.shelf.writing import writing
from shopdesk.store.database import open_shelf, reading
from shopdesk.store.models import Colourway, Yarn, YarnWord
from shopdesk.store.upgrading import upgrade

YARNS, COLOURS, ROUNDS = 10_000, 20, 25
ENDINGS = ("beck", "dale", "fell", "thwaite", "scar", "mere", "rigg", "ghyll")
STARTS = ("amber", "birk", "craven", "dapple", "ewe", "fenner", "gallow", "hallow", "inger")


def put_many_yarns(engine: Engine, yarns: int) -> None:
    """Puts so many yarns with 20 colours each on an empty shelf; every colour has a barcode."""
    chance = random.Random(7)
    names = [f"{chance.choice(STARTS)}{chance.choice(ENDINGS)} {n}".title() for n in range(yarns)]
    with writing(engine) as session:
        rows = [
            {"sku": f"SKU-{n:05d}", "name": name, "price_minor": 500, "version_id": 1,
             "notes": "Kept by the window. " * 10}
            for n, name in enumerate(names)
        ]  # fmt: skip
        session.execute(insert(Yarn), rows)
        for first in range(0, yarns, 500):
            session.execute(insert(Colourway), _colours(first, min(first + 500, yarns)))
        session.execute(update(Yarn).values(gtin_key=None))
        session.execute(insert(YarnWord), list(_words(names)))


def _words(names: list[str]) -> Iterator[dict[str, object]]:
    for n, name in enumerate(names):
        for word in {*plain_words(name), *plain_words(f"SKU-{n:05d}")}:
            yield {"yarn_id": n + 1, "word": word}


def _colours(first: int, end: int) -> list[dict[str, object]]:
    return [
        {"yarn_id": n + 1, "code": f"{c:02d}", "name": "Slate", "family": "grey", "dark": False,
         "retired": False, "gtin_key": _key(n * COLOURS + c)}
        for n in range(first, end)
        for c in range(COLOURS)
    ]  # fmt: skip


def _number(place: int) -> str:
    """Returns an in-store number of 13 digits with its check digit (GS1 General Specifications)."""
    digits = f"21{place:010d}"
    total = sum(int(digit) * (3, 1)[n % 2] for n, digit in enumerate(reversed(digits)))
    return digits + str(-total % 10)


def _key(place: int) -> str:
    return _number(place).rjust(14, "0")


def _seconds(work: Callable[[], object]) -> float:
    times = []
    for _ in range(ROUNDS):
        begun = time.perf_counter()
        work()
        times.append(time.perf_counter() - begun)
    return median(times)


def scan(session: Session, letters: str) -> list[str]:
    """Reads every yarn and looks for the letters in its name."""
    rows = session.execute(select(Yarn.__table__)).all()
    return [row.sku for row in rows if letters in row.name.casefold()]


def main(yarns: int = YARNS) -> None:
    """Prints the seconds of each and their share of the scan."""
    with TemporaryDirectory() as folder:
        engine = open_shelf(f"sqlite:///{Path(folder) / 'shelf.sqlite3'}")
        upgrade(engine)
        put_many_yarns(engine, yarns)
        with reading(engine) as session:
            full = _seconds(lambda: scan(session, "hallow"))
            bare = select(Yarn.sku).where(Yarn.name.icontains("no such name"))
            bare_seconds = _seconds(lambda: session.execute(bare).all())
            print(f"{yarns} yarns of {COLOURS} colours, median of {ROUNDS}, {sys.platform}")
            print(f"full scan of the table     {full * 1000:8.2f} ms")
            print(f"bare scan inside SQLite    {bare_seconds * 1000:8.2f} ms")
            scanned = _number(yarns * COLOURS // 2)
            assert sku_of(session, scanned) == f"SKU-{yarns // 2:05d}"
            for name, work in (
                ("one letter", lambda: suggest(session, "h")),
                ("six letters", lambda: suggest(session, "hallow")),
                ("two words", lambda: suggest(session, "hallow 12")),
                ("barcode", lambda: sku_of(session, scanned)),
            ):
                seconds = _seconds(work)
                print(f"{name:26} {seconds * 1000:8.2f} ms  {seconds / full:7.2%} of the scan")
        engine.dispose()


if __name__ == "__main__":
    main(*map(int, sys.argv[1:2]))
