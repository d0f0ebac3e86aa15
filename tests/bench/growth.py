"""How the answer grows with the shelf: the exponent of a straight line through the logarithms."""

import time
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from math import log
from pathlib import Path
from statistics import linear_regression, median

from shopdesk.answering.model.ask import Ask
from shopdesk.store.database import reading
from shopdesk.store.settings import load_settings
from tests.bench.answers import asks_by_chance, plain, select_seconds, whole_answer
from tests.bench.lines import Line, in_time
from tests.bench.shelves import Shelves, opened
from tests.bench.sqlite_clock import clocked


@dataclass(frozen=True, slots=True)
class Step:
    """The medians at one size: the whole answer, its part outside SQLite, and the floor."""

    yarns: int
    seconds: float
    own_seconds: float
    floor_seconds: float


def step(data: Path, yarns: int, asks: Sequence[Ask]) -> Step:
    """Answers every ask on one shelf, after one answer that is not counted."""
    whole, own, floor = list[float](), list[float](), list[float]()
    with opened(data) as engine, plain(data) as connection:
        clock = clocked(engine)
        for ask in (asks[0], *asks):
            floor.append(select_seconds(connection))
            with reading(engine) as session:
                terms = load_settings(session).terms()
                in_sqlite, begun = clock.seconds, time.perf_counter()
                whole_answer(session, ask, terms)
                whole.append(time.perf_counter() - begun)
                own.append(whole[-1] - (clock.seconds - in_sqlite))
    return Step(yarns, median(whole[1:]), median(own[1:]), median(floor[1:]))


def exponent(points: Sequence[tuple[float, float]]) -> float:
    """Returns the exponent of the growth through points of a size and its seconds."""
    sizes, seconds = zip(*points, strict=True)
    return linear_regression([log(one) for one in sizes], [log(one) for one in seconds]).slope


def measure(shelves: Shelves) -> Iterator[Line]:
    """Yields the medians at every size, then the exponents of all three."""
    asks = asks_by_chance(shelves.scale.growth_asks)
    steps = [step(shelves.sized(size), size.yarns, asks) for size in shelves.scale.growth]
    for one in steps:
        floor = "SELECT", one.floor_seconds
        yield in_time("growth", f"full answer, {one.yarns:,} yarns", one.seconds, floor)
    answers = exponent([(one.yarns, one.seconds) for one in steps])
    own = exponent([(one.yarns, one.own_seconds) for one in steps])
    select = exponent([(one.yarns, one.floor_seconds) for one in steps])
    words = f"{steps[0].yarns:,} to {steps[-1].yarns:,} yarns"
    for what, its, goal in (
        (f"exponent of the answer's growth, {words}", answers, "exponent at most 1"),
        ("exponent of its part outside SQLite", own, "exponent below 1"),
    ):
        floor_words = f"SELECT: exponent {select:.2f}"
        yield Line("growth", what, f"exponent {its:.2f}", floor_words, its / select, goal)
