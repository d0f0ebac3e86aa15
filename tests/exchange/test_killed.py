"""An import that is killed leaves the shelf as it was before, or as it is after; never between."""

import random
import shutil
import signal
import subprocess
import sys
import time
from pathlib import Path

from shopdesk.shelf.stock import discrepancies
from shopdesk.store.database import open_shelf, reading
from tests.exchange.import_files import exported, taken
from tests.exchange.many_lots import put_many_colours, stock_file
from tests.test_architecture import ROOT

YARNS = 50
KILLS = 8
CHILD = """
import sys
from pathlib import Path
from shopdesk.store.database import open_shelf
from shopdesk.exchange.importing import Source, import_file
engine = open_shelf(sys.argv[1])
print("ready", flush=True)
import_file(engine, Source(Path(sys.argv[2]), "stock.csv", "stock"))
print("acknowledged", flush=True)
"""


def test_a_killed_import_leaves_nothing_half_done(empty_shelf_file: Path, tmp_path: Path) -> None:
    url = f"sqlite:///{shutil.copy(empty_shelf_file, tmp_path / 'shelf.sqlite3')}"
    shelf = open_shelf(url)
    put_many_colours(shelf, YARNS)
    states = {stock_file(tmp_path / f"{n}.csv", YARNS, n): "" for n in range(2)}
    for path in states:
        started = time.monotonic()
        taken(shelf, path, "stock")
        needed = time.monotonic() - started
        states[path] = exported(shelf, "stock")
    chance, killed = random.Random(20261125), 0
    for turn in range(KILLS):
        path = list(states)[turn % 2]
        before = exported(shelf, "stock")
        acknowledged = import_and_kill(url, path, chance.uniform(0.05, 0.95) * needed)
        after = exported(shelf, "stock")
        assert after in (before, states[path])
        assert after == states[path] or not acknowledged
        killed += not acknowledged
        with reading(shelf) as session:
            assert list(discrepancies(session)) == []
            assert session.connection().exec_driver_sql("PRAGMA integrity_check").scalar() == "ok"
    assert killed > 0
    shelf.dispose()


def import_and_kill(url: str, path: Path, after_seconds: float) -> bool:
    """Returns whether the import was acknowledged before it was killed."""
    child = subprocess.Popen(
        [sys.executable, "-c", CHILD, url, str(path)], stdout=subprocess.PIPE, text=True, cwd=ROOT
    )
    assert child.stdout is not None
    assert child.stdout.readline() == "ready\n"
    time.sleep(after_seconds)
    child.send_signal(signal.SIGKILL)
    rest, _ = child.communicate(timeout=30)
    return "acknowledged" in rest
