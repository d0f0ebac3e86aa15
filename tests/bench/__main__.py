"""Measures what must be quick, each against a floor in the same run, and prints the table.

Run it alone on a quiet machine: python -m tests.bench [ROW ...] [--keep DIR]
"""

import argparse
import sys
from collections.abc import Callable, Iterator, Mapping, Sequence
from contextlib import contextmanager
from pathlib import Path
from tempfile import TemporaryDirectory

from shopdesk.terminal.cycles import while_pages_are_served
from tests.bench import (
    amounts,
    answers,
    growth,
    memory,
    page,
    pandas_way,
    panel_bench,
    slips,
    start,
    visit,
)
from tests.bench.lines import Line, machine, markdown
from tests.bench.shelves import Scale, Shelves

ROWS: Mapping[str, Callable[[Shelves], Iterator[Line]]] = {
    "answer": answers.measure,
    "pandas": pandas_way.measure,
    "slip": slips.measure,
    "page": page.measure,
    "visit": visit.measure,
    "growth": growth.measure,
    "start": start.measure,
    "memory": memory.measure,
    "panel": panel_bench.measure,
    "amounts": amounts.measure,
}


def arguments_of(written: Sequence[str] | None) -> argparse.Namespace:
    """Returns the rows to measure and where shelves are kept."""
    parser = argparse.ArgumentParser(prog="python -m tests.bench", description=__doc__)
    parser.add_argument("rows", nargs="*", metavar="ROW", help=f"of {', '.join(ROWS)}; default all")
    parser.add_argument(
        "--keep", type=Path, help="keep the shelves in this folder for the next run"
    )
    given = parser.parse_args(written)
    unknown = [row for row in given.rows if row not in ROWS]
    if unknown:
        parser.error(f"there is no row {', '.join(unknown)}; the rows are {', '.join(ROWS)}")
    return given


@contextmanager
def folder_for_shelves(keep: Path | None) -> Iterator[Path]:
    """Gives the folder to keep, or one that is removed at the end."""
    if keep is not None:
        yield keep.absolute()
        return
    with TemporaryDirectory() as name:
        yield Path(name)


def main(written: Sequence[str] | None = None, scale: Scale | None = None) -> list[Line]:
    """Measures, prints the table, and returns its lines; each row is told as it is done."""
    given, lines = arguments_of(written), list[Line]()
    while_pages_are_served()
    head = machine()
    with folder_for_shelves(given.keep) as folder:
        shelves = Shelves(folder, scale or Scale())
        for row in given.rows or ROWS:
            for line in ROWS[row](shelves):
                print(f"{row}: {line.what}: {line.measured}", file=sys.stderr)
                lines.append(line)
    print(f"{head}\n\n{markdown(lines)}")
    return lines


if __name__ == "__main__":
    main()
