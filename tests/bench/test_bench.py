"""The measurements on shelves so small that they take seconds: each is of something real."""

import re
from math import isfinite
from pathlib import Path

import pytest

from shopdesk.answering.model.answer import Suitability
from shopdesk.slips.papers import paper_named
from tests.bench import growth, memory, visit
from tests.bench.__main__ import ROWS, main
from tests.bench.answers import asks_by_chance, plain, timed_answers
from tests.bench.growth import exponent
from tests.bench.lines import Line, markdown, shown
from tests.bench.pandas_way import pandas_answer
from tests.bench.shelves import Scale, Shelves, Size
from tests.bench.slips import empty_page, typical_slip
from tests.slip_factories import slip_pdf
from tests.slip_reading import text_by_pypdf

TINY = Scale(
    design=Size(60, colours=3),
    growth=(Size(20, colours=2), Size(60, colours=2)),
    asks=3, growth_asks=1, pandas_asks=2, slips=1, starts=1, clients=2, requests=1,
)  # fmt: skip


@pytest.fixture(scope="module")
def shelves(tmp_path_factory: pytest.TempPathFactory) -> Shelves:
    """Shelves that all tests here share."""
    return Shelves(tmp_path_factory.mktemp("shelves"), TINY)


@pytest.mark.parametrize("row", ROWS)
def test_each_row_has_a_ratio(
    row: str, shelves: Shelves, capsys: pytest.CaptureFixture[str]
) -> None:
    lines = main([row, "--keep", str(shelves.folder)], TINY)
    assert lines
    # How steeply a tiny shelf's times grow may be told as below zero on a busy machine.
    assert all(line.ratio > 0 or "exponent" in line.what for line in lines)
    assert all(line.row == row and isfinite(line.ratio) for line in lines)
    printed = capsys.readouterr().out
    assert re.search(r"Measured on 20\d\d-\d\d-\d\d, \d+ cores .* Python 3\..* SQLite 3\.", printed)
    assert all(f"| {line.ratio:.2f} |" in printed for line in lines)


def test_the_answers_that_are_timed_are_real_ones(shelves: Shelves) -> None:
    timed = timed_answers(shelves.design(), asks_by_chance(6))
    assert [one.ask for one in timed] == asks_by_chance(6)
    assert all(one.seconds > 0 and one.floor_seconds > 0 for one in timed)
    suiting = [
        candidate
        for one in timed
        for candidate in one.answer.candidates
        if candidate.group is not Suitability.NOT_FOR_THIS
    ]
    assert len({candidate.sku for candidate in suiting}) > 5
    assert any(colour.available for candidate in suiting for colour in candidate.colours)


def test_pandas_finds_yarns_with_their_stock(shelves: Shelves) -> None:
    with plain(shelves.design()) as connection:
        found = [pandas_answer(connection, ask) for ask in asks_by_chance(6)]
    assert any(len(one) and one.on_hand.sum() for one in found)
    assert all(one.off.is_monotonic_increasing for one in found)


def test_the_slip_is_a_whole_one_and_the_floor_has_its_fonts(shelves: Shelves) -> None:
    content, reader = typical_slip(shelves.demo())
    paper = paper_named("A5")
    text = text_by_pypdf(slip_pdf(content, paper, reader))
    assert content.yarn in text
    assert len(text) > 800
    empty = empty_page(paper)
    assert text_by_pypdf(empty).split() == ["a", "a"]
    assert empty.count(b"/FontFile2") == 2


def test_a_visit_judges_the_shelf_once_and_the_chosen_yarn_for_its_page_and_slip(
    shelves: Shelves,
) -> None:
    with plain(shelves.demo()) as connection:
        (on_offer,) = connection.execute("SELECT count(*) FROM yarn WHERE NOT retired").fetchone()
    with visit.a_counter(shelves.demo()) as app:
        traces = visit.traced(app)
    judged = {name: trace.named("judge_one") for name, trace in traces.items()}
    assert {name: number for name, number in judged.items() if number} == {
        "send the ask": on_offer,
        "look at one yarn": 1,
        "make the slip": 1,
    }
    for once in ("read_ask", "load_settings", "branches"):
        assert all(trace.named(once) <= 1 for trace in traces.values()), once


def test_the_part_outside_sqlite_is_less_than_all(shelves: Shelves) -> None:
    one = growth.step(shelves.design(), 60, asks_by_chance(2))
    assert 0 < one.own_seconds < one.seconds


def test_the_exponent_of_known_powers() -> None:
    assert exponent([(n, 3e-6 * n**1.5) for n in (10, 100, 4000)]) == pytest.approx(1.5)
    assert exponent([(n, 2.0) for n in (10, 100, 4000)]) == pytest.approx(0)


def test_memory_is_that_of_this_process() -> None:
    before = memory.highest_mib()
    filled = bytearray(b"x" * 150_000_000)
    assert memory.highest_mib() - before > 100
    assert len(filled) == 150_000_000


def test_an_unfinished_shelf_is_not_taken_for_a_whole_one(tmp_path: Path) -> None:
    shelves = Shelves(tmp_path, TINY)
    size = Size(5, colours=1, lots=1)
    built = shelves.sized(size)
    assert shelves.sized(size) == built
    assert [path.name for path in tmp_path.iterdir()] == [built.name]


def test_an_unknown_row_is_refused(capsys: pytest.CaptureFixture[str]) -> None:
    with pytest.raises(SystemExit):
        main(["tea"], TINY)
    assert "there is no row tea" in capsys.readouterr().err


def test_the_table_is_markdown() -> None:
    table = markdown([Line("slip", "what", shown(0.0123), "floor", 1.234, "at most 3")])
    assert table.splitlines()[-1] == "| slip | what | 12.3 ms | floor | 1.23 | at most 3 |"
    assert shown(2.5) == "2.5 s"
