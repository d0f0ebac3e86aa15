"""The whole command `shopdesk answer` against a Python that only imports what it rests on."""

import os
import subprocess
import sys
from collections.abc import Iterator, Sequence
from pathlib import Path

from shopdesk.bundled import bundled
from tests.bench.lines import Line, in_time
from tests.bench.shelves import ROOT, Shelves
from tests.bench.slips import ASK, alternating

IMPORTS = "import flask, sqlalchemy"


def python(*arguments: str | Path) -> str:
    """Runs a fresh Python in the project's folder and returns what it prints."""
    done = subprocess.run(
        [sys.executable, *map(str, arguments)],
        cwd=ROOT,
        env={name: value for name, value in os.environ.items() if "SHOPDESK" not in name},
        capture_output=True,
        text=True,
        check=True,
    )
    return done.stdout


def command(data: Path) -> Sequence[str | Path]:
    """Returns what answers one ask of the demo shop in a process of its own."""
    ask = bundled("seed_catalog") / "asks" / f"{ASK}.json"
    return ("-m", "shopdesk", "--data", data, "answer", ask)


def measure(shelves: Shelves) -> Iterator[Line]:
    """Yields the start-up."""
    answering = command(shelves.demo())
    ours, bare = alternating(
        shelves.scale.starts, lambda: python(*answering), lambda: python("-c", IMPORTS)
    )
    what = f"`shopdesk answer` on the demo shelf, whole process, median of {shelves.scale.starts}"
    floor = f"`python -c '{IMPORTS}'`", bare
    yield in_time("start", what, ours, floor, "at most 1.3")
