"""The whole command `shopdesk answer` against a Python that only imports what it rests on."""

from collections.abc import Iterator, Sequence
from pathlib import Path

from tests.bench.lines import Line, in_time
from tests.bench.processes import alternating, python
from tests.bench.shelves import Shelves, typical_ask

IMPORTS = "import flask, sqlalchemy"


def command(data: Path) -> Sequence[str | Path]:
    """Returns what answers one ask of the demo shop in a process of its own."""
    return ("-m", "shopdesk", "--data", data, "answer", typical_ask())


def measure(shelves: Shelves) -> Iterator[Line]:
    """Yields the start-up."""
    answering = command(shelves.demo())
    ours, bare = alternating(
        shelves.scale.starts, lambda: python(*answering), lambda: python("-c", IMPORTS)
    )
    what = f"`shopdesk answer` on the demo shelf, whole process, median of {shelves.scale.starts}"
    floor = f"`python -c '{IMPORTS}'`", bare
    yield in_time("start", what, ours, floor, "at most 1.3")
