"""The panel's shelf as a shop, and what the shop answers to its asks."""

import csv
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path

from sqlalchemy import Engine

from shopdesk.answering.ask.ask_reading import read_ask
from shopdesk.answering.model.answer import Suitability
from shopdesk.exchange.importing import Source, import_file
from shopdesk.services.answers import answer_from_shelf
from shopdesk.store.database import open_shelf, reading
from shopdesk.store.settings import load_settings
from shopdesk.store.tables.stock import FIRST_BRANCH
from shopdesk.store.upgrading import upgrade
from tests.panel.panel import SHELF, Case
from tests.panel.scoring import FIRST, Score, scored

SKEINS = 200
"""Of one lot of every yarn, so that no ask fails for want of wool."""


@dataclass(frozen=True, slots=True)
class Answered:
    """A case, its score, and the first three that are proposed, with their groups in words."""

    case: Case
    score: Score
    first: tuple[str, ...]


def skus() -> frozenset[str]:
    """Returns the article numbers of the panel's shelf."""
    with SHELF.open(encoding="utf-8", newline="") as file:
        return frozenset(row["sku"] for row in csv.DictReader(file))


@contextmanager
def panel_shop(folder: Path) -> Iterator[Engine]:
    """Gives a shop in this empty folder with the panel's yarns, taken in as a shop's own lists."""
    engine = open_shelf(f"sqlite:///{folder / 'panel.sqlite3'}")
    try:
        upgrade(engine)
        colours, stock = folder / "colours.csv", folder / "stock.csv"
        named = sorted(skus())
        _write(colours, "sku,code,name,family", [(sku, "01", "Natural", "white") for sku in named])
        _write(stock, "sku,colour,lot,skeins", [(sku, "01", "1", SKEINS) for sku in named])
        for kind, path in (("yarns", SHELF), ("colours", colours), ("stock", stock)):
            import_file(engine, Source(path, path.name, kind))
        yield engine
    finally:
        engine.dispose()


def _write(path: Path, heading: str, rows: list[tuple[object, ...]]) -> None:
    with path.open("w", encoding="utf-8", newline="") as file:
        csv.writer(file).writerows([heading.split(","), *rows])


def answered(engine: Engine, case: Case) -> Answered:
    """Answers an ask of the panel and scores the answer."""
    with reading(engine) as session:
        terms = load_settings(session).terms()
        found = answer_from_shelf(session, read_ask(case.document), terms, FIRST_BRANCH)
    proposed = [one for one in found.candidates if one.group is not Suitability.NOT_FOR_THIS]
    promised = [one.sku for one in found.in_group(Suitability.AS_IT_IS)]
    score = scored([one.sku for one in proposed], promised, case.agreed)
    return Answered(case, score, tuple(f"{one.sku} {one.group.value}" for one in proposed[:FIRST]))
