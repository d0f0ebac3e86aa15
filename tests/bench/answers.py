"""The full answer against a plain SELECT of the yarns' columns from the same file."""

import random
import sqlite3
import sys
import time
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from statistics import median, quantiles

from sqlalchemy.orm import Session

from shopdesk.answering.ask.ask_reading import read_ask
from shopdesk.answering.ask.document import AskRefused
from shopdesk.answering.model.answer import Answer, ShopTerms
from shopdesk.answering.model.ask import Ask
from shopdesk.services.answers import answer_from_shelf
from shopdesk.store.database import reading
from shopdesk.store.models import Yarn
from shopdesk.store.settings import load_settings
from shopdesk.store.tables.stock import FIRST_BRANCH
from tests.bench.lines import Line, in_time
from tests.bench.shelves import Shelves, database_of, opened
from tests.random_asks import random_ask

SEED = 11
COLUMNS = ", ".join(column.name for column in Yarn.__table__.columns)
FLOOR = "SELECT of the yarns' columns"


@dataclass(frozen=True, slots=True)
class Timed:
    """One answer, how long it took, and how long the floor took just before it."""

    ask: Ask
    answer: Answer
    seconds: float
    floor_seconds: float


def whole_answer(session: Session, ask: Ask, terms: ShopTerms) -> Answer:
    """Returns the answer from the shelf, stock included, as the page shows it."""
    return answer_from_shelf(session, ask, terms, FIRST_BRANCH)


def asks_by_chance(number: int) -> list[Ask]:
    """Returns so many asks, always the same ones."""
    chance, asks = random.Random(SEED), list[Ask]()
    while len(asks) < number:
        try:
            asks.append(read_ask(random_ask(chance)))
        except AskRefused:
            continue
    return asks


@contextmanager
def plain(data: Path) -> Iterator[sqlite3.Connection]:
    """Gives a plain connection to the shelf's file."""
    connection = sqlite3.connect(database_of(data))
    yield connection
    connection.close()


def select_seconds(connection: sqlite3.Connection) -> float:
    """Returns how long it takes to fetch all columns of all yarns."""
    begun = time.perf_counter()
    rows = connection.execute(f"SELECT {COLUMNS} FROM yarn").fetchall()
    seconds = time.perf_counter() - begun
    assert rows
    return seconds


def timed_answers(data: Path, asks: Sequence[Ask]) -> list[Timed]:
    """Answers each ask in a new session, after one answer that is not counted."""
    with opened(data) as engine, plain(data) as connection:
        timed = []
        for ask in (asks[0], *asks):
            floor = select_seconds(connection)
            with reading(engine) as session:
                terms = load_settings(session).terms()
                begun = time.perf_counter()
                answered = whole_answer(session, ask, terms)
                seconds = time.perf_counter() - begun
            timed.append(Timed(ask, answered, seconds, floor))
    return timed[1:]


def measure(shelves: Shelves) -> Iterator[Line]:
    """Yields the median answer, the slow ones and the slowest."""
    asks = asks_by_chance(shelves.scale.asks)
    timed = timed_answers(shelves.design(), asks)
    floor = FLOOR, median(one.floor_seconds for one in timed)
    seconds = [one.seconds for one in timed]
    what = f"full answer, {shelves.scale.design.words}, median of {len(timed)} asks"
    yield in_time("answer", what, median(seconds), floor, "at most 1")
    slow = quantiles(seconds, n=10, method="inclusive")[-1]
    yield in_time("answer", "the same, nine of ten asks are answered within", slow, floor)
    yield in_time("answer", "the same, the slowest of them", max(seconds), floor)
    counts = list(counted_all(shelves.design(), asks[: shelves.scale.counted_asks]))
    what = f"all that would do counted on request, median of {len(counts)} asks"
    yield in_time("answer", what, median(counts), floor)


def counted_all(data: Path, asks: Sequence[Ask]) -> Iterator[float]:
    """Yields how long it takes for each ask to count every yarn that would be proposed."""
    with opened(data) as engine:
        for ask in asks:
            with reading(engine) as session:
                terms = load_settings(session).terms()
                begun = time.perf_counter()
                answer_from_shelf(session, ask, terms, FIRST_BRANCH, sys.maxsize)
            yield time.perf_counter() - begun
