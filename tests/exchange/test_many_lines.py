"""Many lines of stock take little memory, and not a statement for each.

The design size, 400,000 lines in 200 MB, is measured by tests/bench/import_bench.py.
"""

import shutil
import subprocess
import sys
from pathlib import Path

from sqlalchemy import event

from shopdesk.exchange.importing import BATCH_BY_KIND
from shopdesk.store.database import ROOMY_KIB, open_shelf
from tests.exchange.import_files import counts, taken
from tests.exchange.many_lots import put_many_colours, stock_file
from tests.test_architecture import ROOT

MEASURED = """
import sys
from pathlib import Path
from shopdesk.store.database import open_shelf
from shopdesk.exchange.importing import Source, import_file
engine = open_shelf(sys.argv[1])
report = import_file(engine, Source(Path(sys.argv[2]), "stock.csv", "stock"))
status = Path("/proc/self/status").read_text()  # ru_maxrss would count the parent's memory too
print(report.new, status.split("VmHWM:")[1].split()[0])
"""


def peak_mib(folder: Path, empty: Path, yarns: int) -> float:
    """Returns the memory at most in use while 40 lines for each yarn are imported."""
    url = f"sqlite:///{shutil.copy(empty, folder / f'{yarns}.sqlite3')}"
    shelf = open_shelf(url)
    put_many_colours(shelf, yarns)
    shelf.dispose()
    path = stock_file(folder / f"{yarns}.csv", yarns)
    command = [sys.executable, "-c", MEASURED, url, str(path)]
    done = subprocess.run(command, capture_output=True, text=True, check=True, cwd=ROOT)
    new, kib = done.stdout.split()
    assert int(new) == yarns * 40
    return int(kib) / 1024


def test_memory_hardly_grows_with_the_file(empty_shelf_file: Path, tmp_path: Path) -> None:
    """Ten times the lines may fill SQLite's two caches (`ROOMY_KIB` each), and hold no lines."""
    small = peak_mib(tmp_path, empty_shelf_file, 100)
    large = peak_mib(tmp_path, empty_shelf_file, 1000)
    assert large - small < 2 * ROOMY_KIB / 1024
    assert large < 200


def test_lines_are_not_taken_one_by_one(empty_shelf_file: Path, tmp_path: Path) -> None:
    shelf = open_shelf(f"sqlite:///{shutil.copy(empty_shelf_file, tmp_path / 's.sqlite3')}")
    put_many_colours(shelf, 500)
    statements: list[str] = []

    @event.listens_for(shelf, "before_cursor_execute")
    def _note(*told: object) -> None:
        statements.append(str(told[2]))

    assert counts(taken(shelf, stock_file(tmp_path / "s.csv", 500), "stock")) == (20_000, 0, 0, 0)
    assert len(statements) < 20_000 / BATCH_BY_KIND["stock"] + 30
    shelf.dispose()
