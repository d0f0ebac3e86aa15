"""An import that is killed leaves the shelf as it was before, or as it is after; never between."""

import random
import shutil
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

from sqlalchemy import Engine, func, select

from shopdesk.shelf.stock import discrepancies
from shopdesk.store.database import open_shelf, reading
from shopdesk.store.models import ImportRun
from tests.exchange.import_files import exported, taken
from tests.exchange.many_lots import put_many_colours, stock_file
from tests.machine import times
from tests.moments import Moments, Way
from tests.test_architecture import ROOT

YARNS = 50
KILLS = 9
CHILD = """
import sys
from pathlib import Path
from shopdesk.store.database import open_shelf
from shopdesk.exchange.importing import Source, import_file
from tests.moments import Moments, Way
engine, moments = open_shelf(sys.argv[1]), Moments()
moments.watch_database(engine)
moments.choose(int(sys.argv[3]), Way(sys.argv[4]))
import_file(engine, Source(Path(sys.argv[2]), "stock.csv", "stock"))
print("acknowledged", flush=True)
sys.stdin.read()
"""


def test_a_killed_import_leaves_nothing_half_done(empty_shelf_file: Path, tmp_path: Path) -> None:
    url = f"sqlite:///{shutil.copy(empty_shelf_file, tmp_path / 'shelf.sqlite3')}"
    shelf, moments = open_shelf(url), Moments()
    moments.watch_database(shelf)
    put_many_colours(shelf, YARNS)
    states = {stock_file(tmp_path / f"{n}.csv", YARNS, n): "" for n in range(2)}
    for path in states:
        moments.choose(0)
        taken(shelf, path, "stock")
        after_commit = moments.passed
        states[path] = exported(shelf, "stock")
    ends = []
    for path, moment, way in kills(list(states), after_commit):
        runs, before = imports(shelf), exported(shelf, "stock")
        acknowledged = import_and_kill(url, path, moment, way)
        kept = imports(shelf) > runs
        assert (imports(shelf), exported(shelf, "stock")) == (
            (runs + 1, states[path]) if kept else (runs, before)
        )
        assert kept or not acknowledged
        if way is Way.HERE:
            assert not acknowledged
            assert kept == (moment == after_commit)
        ends.append(kept)
        with reading(shelf) as session:
            assert list(discrepancies(session)) == []
            assert session.connection().exec_driver_sql("PRAGMA integrity_check").scalar() == "ok"
    assert len(ends) == KILLS * times()
    assert set(ends) == {True, False}
    shelf.dispose()


def imports(shelf: Engine) -> int:
    """Returns how many imports the shelf remembers."""
    with reading(shelf) as session:
        return session.scalar(select(func.count(ImportRun.id))) or 0


def kills(paths: list[Path], after_commit: int) -> Iterator[tuple[Path, int, Way]]:
    """Yields the file, the moment of the import and the way of each kill.

    The import dies before the commit, is killed anywhere, dies after the commit.
    """
    chance, here = random.Random(20261125), 0
    for number in range(KILLS * times()):
        moment = (chance.randrange(1, after_commit), chance.randrange(1, after_commit + 1))
        way = Way.SOON if number % 3 == 1 else Way.HERE
        yield paths[here], (*moment, after_commit)[number % 3], way
        here = 1 - here if number % 3 == 2 else here


def import_and_kill(url: str, path: Path, moment: int, way: Way) -> bool:
    """Returns whether the import was acknowledged before it was killed."""
    child = subprocess.Popen(
        [sys.executable, "-c", CHILD, url, str(path), str(moment), way],
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
        text=True,
        cwd=ROOT,
    )
    assert child.stdout is not None
    assert child.stdout.readline() == f"{way}\n"
    child.kill()
    rest, _ = child.communicate()
    return "acknowledged" in rest
