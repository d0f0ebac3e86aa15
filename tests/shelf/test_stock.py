"""Stock: never below zero, every change in the trail, and nothing lost between two counters."""

import subprocess
import sys
from datetime import UTC, date, datetime, timedelta
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from sqlalchemy import Engine, func, insert, select, text
from sqlalchemy.exc import IntegrityError

from shopdesk.services.hold_records import end_of
from shopdesk.services.holds import HoldOrder, hold_skeins
from shopdesk.shelf.branch_lots import LotAtBranch, StockRefused, lot_id
from shopdesk.shelf.stock import (
    Discrepancy,
    MovementKind,
    available,
    correct,
    count,
    discrepancies,
    on_hand,
    receive,
    sell,
    take_back,
    transfer,
)
from shopdesk.shelf.writing import writing
from shopdesk.shop.shop import Shop
from shopdesk.store.database import open_shelf, reading
from shopdesk.store.models import Branch, Stock, StockMovement
from shopdesk.store.types import now
from tests.factories import a_lot
from tests.machine import examples
from tests.shelf.rows import put_yarn

HERE = LotAtBranch("T-1", "01", "L1")
NORTH = LotAtBranch("T-1", "01", "L1", "north")


@pytest.fixture
def stocked_shelf(shelf: Engine) -> Engine:
    """Ten skeins of one lot in the first of two branches."""
    with writing(shelf) as session:
        put_yarn(session, "T-1", lots=(a_lot(10, "L1", "01"),))
        session.add(Branch(code="north", name="North"))
    return shelf


def trail(engine: Engine) -> list[tuple[int, str, str, str]]:
    with reading(engine) as session:
        rows = session.scalars(select(StockMovement).order_by(StockMovement.id))
        return [(row.change, row.reason, row.staff, row.note) for row in rows]


def test_every_change_is_in_the_trail(stocked_shelf: Engine) -> None:
    with writing(stocked_shelf) as session:
        assert receive(session, HERE, 5, "MB", "delivery 12") == 15
        assert sell(session, HERE, 4, "TK") == 11
        assert take_back(session, HERE, 1, "TK", "slip 3") == 12
        assert count(session, HERE, 11, "MB") == 11
        assert correct(session, HERE, -2, "RO", "moths") == 9
    assert trail(stocked_shelf) == [
        (10, "received", "", ""),
        (5, "received", "MB", "delivery 12"),
        (-4, "sold", "TK", ""),
        (1, "returned", "TK", "slip 3"),
        (-1, "counted", "MB", ""),
        (-2, "corrected", "RO", "moths"),
    ]
    with reading(stocked_shelf) as session:
        assert available(session, HERE) == 9
        assert list(discrepancies(session)) == []


def test_a_count_that_finds_the_same_is_still_in_the_trail(stocked_shelf: Engine) -> None:
    with writing(stocked_shelf) as session:
        count(session, HERE, 10, "MB")
    assert trail(stocked_shelf)[-1] == (0, "counted", "MB", "")


def test_a_new_lot_is_made_by_its_delivery(stocked_shelf: Engine) -> None:
    new = LotAtBranch("T-1", "01", "L2")
    with writing(stocked_shelf) as session:
        receive(session, new, 6)
    with reading(stocked_shelf) as session:
        assert (available(session, new), available(session, HERE)) == (6, 10)


def test_a_transfer_moves_skeins_between_branches(stocked_shelf: Engine) -> None:
    with writing(stocked_shelf) as session:
        assert transfer(session, HERE, "north", 4, "MB") == 6
    with reading(stocked_shelf) as session:
        assert (available(session, HERE), available(session, NORTH)) == (6, 4)
        assert list(discrepancies(session)) == []
    assert [row[1] for row in trail(stocked_shelf)[-2:]] == [
        MovementKind.SENT,
        MovementKind.ARRIVED,
    ]


REFUSALS = {
    "more than is there": (
        lambda s: sell(s, HERE, 11),
        "11 skeins of T-1 colour 01 lot L1 are more than the 10 that are free; take at most 10",
    ),
    "none": (lambda s: sell(s, HERE, 0), "0 is no number of skeins; give 1 or more"),
    "less than none": (lambda s: receive(s, HERE, -3), "-3 is no number of skeins; give 1 or more"),
    "a negative count": (
        lambda s: count(s, HERE, -1),
        "-1 skeins cannot lie on a shelf; give 0 or more",
    ),
    "a correction below zero": (
        lambda s: correct(s, HERE, -11, "MB", "moths"),
        "11 skeins are more than the 10 on hand; take at most 10",
    ),
    "a correction without a reason": (
        lambda s: correct(s, HERE, 1, "MB", " "),
        "a correction needs its reason; write why the stock changes",
    ),
    "an unknown lot": (
        lambda s: sell(s, LotAtBranch("T-1", "01", "L9"), 1),
        "there is no T-1 colour 01 lot L9; check the lot on the band",
    ),
    "an unknown colour": (
        lambda s: receive(s, LotAtBranch("T-1", "77", "L1"), 1),
        "there is no yarn T-1 in colour 77; check the article number and the colour's code",
    ),
    "an unknown branch": (
        lambda s: transfer(s, HERE, "south", 1),
        "there is no branch 'south'; give one of main, north",
    ),
    "a transfer to the same branch": (
        lambda s: transfer(s, HERE, "main", 1),
        "both branches are 'main'; give two different branches",
    ),
}


@pytest.mark.parametrize("why", REFUSALS)
def test_what_cannot_be_is_refused_and_changes_nothing(stocked_shelf: Engine, why: str) -> None:
    change, words = REFUSALS[why]
    with pytest.raises(StockRefused) as refused, writing(stocked_shelf) as session:
        change(session)
    assert str(refused.value) == words
    assert len(trail(stocked_shelf)) == 1
    with reading(stocked_shelf) as session:
        assert available(session, HERE) == 10


def test_the_last_skein_may_go_and_one_may_come(stocked_shelf: Engine) -> None:
    with writing(stocked_shelf) as session:
        assert receive(session, HERE, 1) == 11
        assert transfer(session, HERE, "north", 1) == 10
        assert sell(session, HERE, 10) == 0
        assert count(session, HERE, 1) == 1
        assert count(session, HERE, 0) == 0
        assert count(session, LotAtBranch("T-1", "01", "L2"), 0) == 0
        assert correct(session, LotAtBranch("T-1", "01", "L3"), 1, "MB", "found") == 1
        assert correct(session, NORTH, -1, "MB", "moths") == 0
    with reading(stocked_shelf) as session:
        assert (available(session, HERE), on_hand(session, HERE)) == (0, 0)
        assert list(discrepancies(session)) == []


def test_a_correction_by_hand_makes_no_lot_to_take_from(stocked_shelf: Engine) -> None:
    for where, change, words in (
        (LotAtBranch("T-1", "01", "L2"), -1, "there is no T-1 colour 01 lot L2"),
        (HERE, 0, "a change by 0 changes nothing"),
    ):
        with pytest.raises(StockRefused, match=words), writing(stocked_shelf) as session:
            correct(session, where, change, "MB", "moths")
    assert len(trail(stocked_shelf)) == 1


def test_a_lot_that_never_lay_in_a_branch_is_none_there(stocked_shelf: Engine) -> None:
    with writing(stocked_shelf) as session:
        put_yarn(session, "T-2", lots=(a_lot(3, None, "07"), a_lot(5, "L1", "01")))
    with reading(stocked_shelf) as session:
        assert (available(session, NORTH), on_hand(session, NORTH)) == (0, 0)
        for lot, skeins in (("L1", 5), (None, 3)):
            there = LotAtBranch("T-2", "01" if lot else "07", lot)
            assert (available(session, there), on_hand(session, there)) == (skeins, skeins)


def test_a_hold_counts_in_its_lot_and_branch_to_its_last_moment(stocked_shelf: Engine) -> None:
    other = LotAtBranch("T-1", "01", "L2")
    with writing(stocked_shelf) as session:
        receive(session, other, 6)
        receive(session, NORTH, 5)
    until = date(2026, 3, 2)
    shop = Shop(stocked_shelf, clock=lambda: end_of(until) - timedelta(days=1))
    hold_skeins(shop, HoldOrder(((HERE, 4),), until=until))
    end, instant = end_of(until), timedelta(microseconds=1)
    with reading(stocked_shelf) as session:
        free = [available(session, HERE, at) for at in (end - instant, end, None)]
        assert free == [6, 10, 10]
        elsewhere = [available(session, where, end - instant) for where in (other, NORTH)]
    assert elsewhere == [6, 5]


def test_a_movement_has_the_moment_that_is_given_or_the_present_one(stocked_shelf: Engine) -> None:
    then = datetime(2026, 3, 2, 12, tzinfo=UTC)
    before = now()
    with writing(stocked_shelf) as session:
        receive(session, HERE, 1, at=then)
        receive(session, HERE, 2)
    with reading(stocked_shelf) as session:
        rows = session.execute(select(StockMovement.change, StockMovement.at))
        moments = {row.change: row.at for row in rows}
    assert moments[1] == then
    assert before <= moments[2] <= now()


def test_the_database_itself_refuses_stock_below_zero(stocked_shelf: Engine) -> None:
    with pytest.raises(IntegrityError), writing(stocked_shelf) as session:
        session.execute(text("UPDATE stock SET on_hand = -1"))


def test_stock_that_its_trail_does_not_explain_is_found(stocked_shelf: Engine) -> None:
    with writing(stocked_shelf) as session:
        session.add(Branch(code="south", name="South"))
        receive(session, NORTH, 2)
        session.execute(text("UPDATE stock SET on_hand = 7 WHERE on_hand = 10"))
        session.execute(text("DELETE FROM stock WHERE on_hand = 2"))
        session.execute(
            insert(Stock), [{"lot_id": lot_id(session, HERE), "branch_id": 3, "on_hand": 4}]
        )
    with reading(stocked_shelf) as session:
        assert list(discrepancies(session)) == [
            Discrepancy(HERE, on_hand=7, moved=10),
            Discrepancy(NORTH, on_hand=0, moved=2),
            Discrepancy(LotAtBranch("T-1", "01", "L1", "south"), on_hand=4, moved=0),
        ]


STEPS = st.lists(
    st.tuples(st.sampled_from(["receive", "sell", "count", "correct"]), st.integers(-3, 12)),
    max_size=12,
)


@settings(max_examples=examples(25))
@given(STEPS)
def test_any_steps_leave_stock_that_is_the_sum_of_its_trail(
    sqlite_shelf: Engine, steps: list[tuple[str, int]]
) -> None:
    verbs = {
        "receive": lambda s, n: receive(s, HERE, n),
        "sell": lambda s, n: sell(s, HERE, n),
        "count": lambda s, n: count(s, HERE, n),
        "correct": lambda s, n: correct(s, HERE, n, "MB", "check"),
    }
    for verb, number in steps:
        try:
            with writing(sqlite_shelf) as session:
                on_hand = verbs[verb](session, number)
        except StockRefused:
            continue
        assert on_hand >= 0
    with reading(sqlite_shelf) as session:
        assert list(discrepancies(session)) == []
        stock = session.scalars(select(Stock.on_hand)).one()
        assert stock == session.scalar(select(func.sum(StockMovement.change)))


@pytest.fixture
def sqlite_shelf(tmp_path: Path, empty_shelf_file: Path) -> Engine:
    path = tmp_path / "shelf.sqlite3"
    path.write_bytes(empty_shelf_file.read_bytes())
    engine = open_shelf(f"sqlite:///{path}")
    with writing(engine) as session:
        put_yarn(session, "T-1", lots=(a_lot(10, "L1", "01"),))
    return engine


PATIENCE_SECONDS = 600
COUNTER = (
    f"""
import random, sys
from shopdesk.store import database
database.BUSY_SECONDS = {PATIENCE_SECONDS}
"""
    + """
from shopdesk.store.database import open_shelf
from shopdesk.shelf.writing import writing
from shopdesk.shelf.branch_lots import LotAtBranch, StockRefused
from shopdesk.shelf.stock import receive, sell
url, seed = sys.argv[1], int(sys.argv[2])
engine, chance, sold, brought = open_shelf(url), random.Random(seed), 0, 0
here = LotAtBranch("T-1", "01", "L1")
for visit in range(40):
    with writing(engine) as session:
        if chance.random() < 0.4:
            receive(session, here, 2)
            brought += 2
            continue
        try:
            sell(session, here, 1)
            sold += 1
        except StockRefused:
            pass
print(brought, sold)
"""
)


@pytest.mark.slow
def test_four_counters_at_once_lose_and_double_nothing(
    stocked_shelf: Engine, shelf_url: str
) -> None:
    counters = [
        subprocess.Popen(
            [sys.executable, "-c", COUNTER, shelf_url, str(seed)],
            stdout=subprocess.PIPE,
            stderr=subprocess.PIPE,
            text=True,
            cwd=Path(__file__).parents[2],
        )
        for seed in range(4)
    ]
    ends = [counter.communicate(timeout=PATIENCE_SECONDS) for counter in counters]
    assert [errors for _, errors in ends] == [""] * 4
    said = [tuple(map(int, words.split())) for words, _ in ends]
    brought, sold = (sum(numbers) for numbers in zip(*said, strict=True))
    assert sold > 40
    with reading(stocked_shelf) as session:
        assert available(session, HERE) == 10 + brought - sold
        assert list(discrepancies(session)) == []
        assert session.scalar(select(func.count(StockMovement.id))) == 1 + brought // 2 + sold
