"""Eight counters on one shelf: no skein promised twice, none lost, nobody told 'locked'."""

import json
import subprocess
import sys
from collections import Counter
from pathlib import Path
from typing import Any

import pytest
from sqlalchemy import Engine, func, select

from shopdesk.services.hold_records import open_holds
from shopdesk.shelf.branch_lots import LotAtBranch
from shopdesk.shelf.stock import available, discrepancies
from shopdesk.shelf.writing import writing
from shopdesk.store.database import reading
from shopdesk.store.models import Hold, StockMovement
from tests.factories import a_lot
from tests.shelf.rows import put_yarn

COUNTERS = 8
ATTEMPTS = 250
SKEINS = 300
FEW_SKEINS = 9
"""Enough for any one counter's first hold, and not for two lots of all of them."""
LOTS = ("L1", "L2", "L3")
PATIENCE_SECONDS = 1200
"""Guards against waiting for ever; nothing here is late on a slow machine."""

COUNTER = (
    f"""
import json, random, sys
from shopdesk.store import database
database.BUSY_SECONDS = {PATIENCE_SECONDS}
"""
    + """
from shopdesk.craft.errors import InputError
from shopdesk.services.holds import HoldOrder, collect_hold, hold_skeins, release_hold
from shopdesk.shelf.branch_lots import LotAtBranch
from shopdesk.shop.shop import Shop
from shopdesk.store.database import open_shelf
url, seed, attempts = sys.argv[1], int(sys.argv[2]), int(sys.argv[3])
print("ready", flush=True)
sys.stdin.readline()
shop, chance = Shop(open_shelf(url)), random.Random(seed)
mine, said = [], {"held": [], "collected": [], "released": [], "refused": 0, "faults": []}
for attempt in range(attempts):
    lots = chance.sample(["L1", "L2", "L3"], chance.choice((1, 1, 2)))
    what = chance.random() if mine else 0
    try:
        if what < 0.7:
            picks = tuple((LotAtBranch("T-1", "01", lot), chance.randint(1, 3)) for lot in lots)
            made = [(one.number, one.skeins) for one in hold_skeins(shop, HoldOrder(picks))]
        elif what < 0.85:
            made, number = [], mine.pop(chance.randrange(len(mine)))
            collect_hold(shop, number, f"counter {seed}")
        else:
            made, number = [], mine.pop(chance.randrange(len(mine)))
            release_hold(shop, number)
    except InputError:
        said["refused"] += 1
        continue
    except Exception as error:
        said["faults"].append(f"{type(error).__name__}: {error}")
        continue
    if made:
        mine += [number for number, _ in made]
        said["held"] += made
    else:
        said["collected" if what < 0.85 else "released"].append(number)
print(json.dumps(said))
"""
)


# Each counter has looked at the shelf, and writes when all the others have looked too.
MEETING = """
import sys
from sqlalchemy import Engine, event
def meet(connection, cursor, statement, *_):
    if statement.startswith(WRITES_FIRST) and not met:
        met.append(statement)
        print("looked", flush=True)
        sys.stdin.readline()
met = []
event.listen(Engine, "before_cursor_execute", meet)
"""
# The lock of each database taken away: BEGIN IMMEDIATE on SQLite, the row's on PostgreSQL.
UNLOCKED = {
    "sqlite": """
WRITES_FIRST = "INSERT"
from shopdesk.store import database
def begin(connection):
    connection.exec_driver_sql("PRAGMA query_only = OFF")
    connection.exec_driver_sql("BEGIN DEFERRED")
database._begin_sqlite = begin
""",
    "postgresql": """
WRITES_FIRST = "INSERT INTO hold "
from sqlalchemy import Select
Select.with_for_update = lambda query, *_, **__: query
""",
}


@pytest.mark.slow
def test_eight_counters_make_two_thousand_attempts(shelf: Engine, shelf_url: str) -> None:
    put_lots(shelf, SKEINS)
    ends = at_once(shelf_url, COUNTER, ATTEMPTS)
    assert broken_promises(shelf, ends, SKEINS) == []
    assert sum(end["refused"] for end in ends) > 100, "the shelf was never empty"


def test_without_the_lock_the_check_finds_broken_promises(shelf: Engine, shelf_url: str) -> None:
    put_lots(shelf, FEW_SKEINS)
    program = UNLOCKED[shelf.dialect.name] + MEETING + COUNTER
    ends = at_once(shelf_url, program, 1, signs=("ready", "looked"))
    found = broken_promises(shelf, ends, FEW_SKEINS)
    held = [end["held"] for end in ends if end["held"]]
    if shelf.dialect.name == "sqlite":  # it refuses to write upon what it read before
        faults = [fault.partition(":")[0] for end in ends for fault in end["faults"]]
        assert (len(held), faults) == (1, ["ShelfBusy"] * (COUNTERS - 1))
        assert found == ["a fault reached a counter"]
    else:
        assert len(held) == COUNTERS
        assert found == ["skeins are lost or doubled"]


def put_lots(shelf: Engine, skeins: int) -> None:
    with writing(shelf) as session:
        put_yarn(session, "T-1", lots=tuple(a_lot(skeins // 3, lot, "01") for lot in LOTS))


def broken_promises(shelf: Engine, ends: list[dict[str, Any]], skeins: int) -> list[str]:
    """Returns what the counters say that is not so on the shelf, and what they were told wrong."""
    held = {number: some for end in ends for number, some in end["held"]}
    collected = [number for end in ends for number in end["collected"]]
    released = [number for end in ends for number in end["released"]]
    kept = {number: held[number] for number in set(held) - {*collected, *released}}
    with reading(shelf) as session:
        on_shelf = {one.number: one.skeins for one in open_holds(session)}
        free = sum(available(session, LotAtBranch("T-1", "01", lot)) for lot in LOTS)
        accounted = free + sum(kept.values()) + sum(held[number] for number in collected)
        found = {
            "a fault reached a counter": any(end["faults"] for end in ends),
            "a number was given twice": len(held) != sum(len(end["held"]) for end in ends),
            "a hold is lost or not known": on_shelf != kept,
            "skeins are lost or doubled": accounted != skeins,
            "holds are more than were made": session.scalar(select(func.count(Hold.id)))
            != len(held),
            "a sale is lost or doubled": moved_by_counters(session)
            != Counter(f"hold {number}" for number in collected),
            "stock is not the sum of its movements": list(discrepancies(session)) != [],
        }
    return [what for what, is_so in found.items() if is_so]


def at_once(
    url: str, program: str, attempts: int, signs: tuple[str, ...] = ("ready",)
) -> list[dict[str, Any]]:
    """Lets every counter work at the same time and returns what each says it did.

    None goes on from one of the signs that the program gives before all have given it.
    """
    counters = [
        subprocess.Popen(
            [sys.executable, "-c", program, url, str(seed), str(attempts)],
            stdin=subprocess.PIPE,
            stdout=subprocess.PIPE,
            stderr=subprocess.PIPE,
            text=True,
            cwd=Path(__file__).parents[2],
        )
        for seed in range(COUNTERS)
    ]
    for sign in signs:
        for counter in counters:
            assert counter.stdout is not None
            assert counter.stdout.readline() == f"{sign}\n"
        for counter in counters:
            assert counter.stdin is not None
            counter.stdin.write("go\n")
            counter.stdin.flush()
    ends = [counter.communicate(timeout=PATIENCE_SECONDS) for counter in counters]
    assert [errors for _, errors in ends] == [""] * COUNTERS
    return [json.loads(words) for words, _ in ends]


def moved_by_counters(session: object) -> Counter[str]:
    notes = session.scalars(select(StockMovement.note).where(StockMovement.reason == "sold"))  # type: ignore[attr-defined]
    return Counter(notes)
