"""The import of 400,000 lines of stock against sqlite3's executemany of the same rows.

Run it alone on a quiet machine: python -m tests.bench.import_bench [YARNS]
Both floors are measured in the same run, into a table without and with the key that stock has.
"""

import csv
import resource
import sqlite3
import sys
import time
from collections.abc import Callable
from pathlib import Path
from statistics import median
from tempfile import TemporaryDirectory

from shopdesk.exchange.importing import Source, dry_run, import_file
from shopdesk.store.database import open_shelf
from shopdesk.store.upgrading import upgrade
from tests.exchange.many_lots import put_many_colours, stock_file

YARNS = 10_000
ROUNDS = 3
KEY = ", PRIMARY KEY (sku, colour, lot)"


def measured(work: Callable[[], object]) -> tuple[float, float]:
    """Returns wall and processor seconds of one piece of work."""
    wall, cpu = time.perf_counter(), time.process_time()
    work()
    return time.perf_counter() - wall, time.process_time() - cpu


def floor(folder: Path, file: Path, key: str) -> tuple[float, float]:
    """Measures sqlite3's executemany of the file's rows into a new table, committed to disk."""
    with file.open(encoding="utf-8", newline="") as opened:
        rows = [tuple(row) for row in csv.reader(opened)][1:]
    path = folder / "floor.sqlite3"
    path.unlink(missing_ok=True)
    connection = sqlite3.connect(path, isolation_level=None)
    connection.execute("PRAGMA journal_mode = WAL")
    connection.execute("PRAGMA synchronous = FULL")
    connection.execute(f"CREATE TABLE t (sku TEXT, colour TEXT, lot TEXT, skeins INTEGER{key})")

    def insert() -> None:
        connection.execute("BEGIN")
        connection.executemany("INSERT INTO t VALUES (?, ?, ?, ?)", rows)
        connection.execute("COMMIT")

    seconds = measured(insert)
    connection.close()
    return seconds


def one_round(folder: Path, file: Path, yarns: int, number: int) -> dict[str, tuple[float, float]]:
    """Measures everything once on a new shelf."""
    engine = open_shelf(f"sqlite:///{folder / f'shelf{number}.sqlite3'}")
    upgrade(engine)
    put_many_colours(engine, yarns)
    source = Source(file, file.name, "stock")
    seconds = {
        "dry run": measured(lambda: dry_run(engine, source)),
        "import": measured(lambda: import_file(engine, source)),
    }
    peak = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
    seconds["same file again"] = measured(lambda: import_file(engine, source))
    if number == 0:
        print(f"memory at most, before the floors hold their rows: {peak:.0f} MiB")
    engine.dispose()
    seconds["floor"] = floor(folder, file, "")
    seconds["floor with key"] = floor(folder, file, KEY)
    return seconds


def main() -> None:
    """Prints the medians and their ratios to both floors."""
    yarns = int(sys.argv[1]) if len(sys.argv) > 1 else YARNS
    with TemporaryDirectory() as name:
        folder = Path(name)
        file = stock_file(folder / "stock.csv", yarns)
        rounds = [one_round(folder, file, yarns, number) for number in range(ROUNDS)]
    print(f"{yarns * 40:,} lines; seconds as median of {ROUNDS}; ratios of wall and processor time")
    print(f"{'':18}{'wall s':>8}{'cpu s':>8}{'x floor':>16}{'x floor with key':>20}")
    for what in rounds[0]:
        wall, cpu = (median(one[what][part] for one in rounds) for part in (0, 1))
        ratios = [
            tuple(median(one[what][part] / one[base][part] for one in rounds) for part in (0, 1))
            for base in ("floor", "floor with key")
        ]
        shown = "".join(f"{a:>10.2f} /{b:>5.2f}" for a, b in ratios)
        print(f"{what:18}{wall:8.2f}{cpu:8.2f}{shown}")


if __name__ == "__main__":
    main()
