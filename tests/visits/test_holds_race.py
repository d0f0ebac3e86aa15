"""Eight counters on one shelf: no skein promised twice, none lost, nobody told 'locked'."""

import json
import subprocess
import sys
from collections import Counter
from pathlib import Path

import pytest
from sqlalchemy import Engine, func, select

from shopdesk.shelf.database import reading, writing
from shopdesk.shelf.models import Hold, StockMovement
from shopdesk.shelf.shelved import Shelved
from shopdesk.shelf.stock import available
from shopdesk.shelf.stock_check import discrepancies
from shopdesk.visits.holding import open_holds
from tests.factories import a_lot
from tests.shelf.rows import put_yarn

COUNTERS = 8
ATTEMPTS = 250
SKEINS = 300
LOTS = ("L1", "L2", "L3")
PATIENCE_SECONDS = 300

COUNTER = """
import json, random, sys
from shopdesk.shelf.database import open_shelf, writing
from shopdesk.shelf.shelved import Shelved, StockRefused
from shopdesk.visits.holds import HoldRefused, HoldTerms, collect, put_by, release
url, seed, attempts = sys.argv[1], int(sys.argv[2]), int(sys.argv[3])
engine, chance = open_shelf(url), random.Random(seed)
mine, said = [], {"held": [], "collected": [], "released": [], "refused": 0, "faults": []}
for attempt in range(attempts):
    lots = chance.sample(["L1", "L2", "L3"], chance.choice((1, 1, 2)))
    what = chance.random() if mine else 0
    try:
        with writing(engine) as session:
            if what < 0.7:
                picks = [(Shelved("T-1", "01", lot), chance.randint(1, 3)) for lot in lots]
                made = [(one.number, one.skeins) for one in put_by(session, picks, HoldTerms())]
            elif what < 0.85:
                made, number = [], mine.pop(chance.randrange(len(mine)))
                collect(session, number, f"counter {seed}")
            else:
                made, number = [], mine.pop(chance.randrange(len(mine)))
                release(session, number)
    except (HoldRefused, StockRefused):
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


@pytest.mark.slow
def test_eight_counters_make_two_thousand_attempts(shelf: Engine, shelf_url: str) -> None:
    with writing(shelf) as session:
        put_yarn(session, "T-1", lots=tuple(a_lot(SKEINS // 3, lot, "01") for lot in LOTS))
    ends = at_once(shelf_url)
    held = {number: skeins for end in ends for number, skeins in end["held"]}
    assert [fault for end in ends for fault in end["faults"]] == []
    assert len(held) == sum(len(end["held"]) for end in ends), "a number was given twice"
    assert sum(end["refused"] for end in ends) > 100, "the shelf was never empty"
    collected = [number for end in ends for number in end["collected"]]
    released = [number for end in ends for number in end["released"]]
    sold = sum(held[number] for number in collected)
    kept = set(held) - set(collected) - set(released)
    with reading(shelf) as session:
        assert {one.number: one.skeins for one in open_holds(session)} == {
            number: held[number] for number in kept
        }
        free = sum(available(session, Shelved("T-1", "01", lot)) for lot in LOTS)
        assert free + sum(held[number] for number in kept) + sold == SKEINS
        assert session.scalar(select(func.count(Hold.id))) == len(held)
        assert moved_by_counters(session) == Counter(f"hold {number}" for number in collected)
        assert list(discrepancies(session)) == []


def at_once(url: str) -> list[dict[str, list[list[int]]]]:
    """Lets every counter work at the same time and returns what each says it did."""
    counters = [
        subprocess.Popen(
            [sys.executable, "-c", COUNTER, url, str(seed), str(ATTEMPTS)],
            stdout=subprocess.PIPE,
            stderr=subprocess.PIPE,
            text=True,
            cwd=Path(__file__).parents[2],
        )
        for seed in range(COUNTERS)
    ]
    ends = [counter.communicate(timeout=PATIENCE_SECONDS) for counter in counters]
    assert [errors for _, errors in ends] == [""] * COUNTERS
    return [json.loads(words) for words, _ in ends]


def moved_by_counters(session: object) -> Counter[str]:
    notes = session.scalars(select(StockMovement.note).where(StockMovement.reason == "sold"))  # type: ignore[attr-defined]
    return Counter(notes)
