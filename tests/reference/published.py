"""The register of published checks: each takes a table's rows and fails if they disagree.

A check stands in a `published_<area>.py` beside this file and names its publication:

    @published("weights", "Standard Yarn Weight System: knit gauge")
    def knit_gauge(rows): ...

Values marked S are held against publications. Values from memory, from practice and of our own
deriving have none; `recorded.py` keeps a copy of those, so that a slip is seen all the same.
"""

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from importlib import import_module
from pathlib import Path

Rows = Sequence[Mapping[str, str]]
Check = Callable[[Rows], None]

# Columns that explain a row; the texts behind the codes are checked with the wording.
DESCRIBING = frozenset(
    {"source", "status", "remark", "meaning", "text_code", "basis_code", "language", "unit"}
)

# Columns of our own choosing, which no publication has even where the row's others are S.
OUR_OWN = frozenset({"family", "reinforces", "for", "body_pt", "side_mm", "top_mm", "foot_mm"})


@dataclass(frozen=True)
class Published:
    """One check of one table against `source`."""

    name: str
    table: str
    source: str
    check: Check


_REGISTER: list[Published] = []


def published(table: str, source: str) -> Callable[[Check], Check]:
    """Registers a check of `table` under its function's name."""

    def register(check: Check) -> Check:
        _REGISTER.append(Published(check.__name__, table, source, check))
        return check

    return register


def published_checks() -> list[Published]:
    """Returns every registered check of every `published_*.py`."""
    for path in sorted(Path(__file__).parent.glob("published_*.py")):
        import_module(f"tests.reference.{path.stem}")
    return list(_REGISTER)


@dataclass(frozen=True)
class Swap:
    """The rows with two values exchanged; `seen` if every value touched has a publication."""

    what: str
    rows: Rows
    seen: bool


def swaps(rows: Rows) -> Iterator[Swap]:
    """Yields every exchange of two differing values, within a row and within a column."""
    columns = [column for column in rows[0] if column not in DESCRIBING]
    for index, row in enumerate(rows):
        for at, column in enumerate(columns):
            for other in columns[at + 1 :]:
                if row[column] != row[other]:
                    yield _swap(rows, (index, column), (index, other))
            for below in range(index + 1, len(rows)):
                if row[column] != rows[below][column] and not _alike(row, rows[below], column):
                    yield _swap(rows, (index, column), (below, column))


def _alike(one: Mapping[str, str], other: Mapping[str, str], column: str) -> bool:
    """True if the rows differ only in this column, so that a swap just moves them."""
    unimportant = {column, "source", "status"}
    return all(one[name] == other[name] for name in one.keys() - unimportant)


def _swap(rows: Rows, one: tuple[int, str], other: tuple[int, str]) -> Swap:
    copy = [dict(row) if index in (one[0], other[0]) else row for index, row in enumerate(rows)]
    a, b = rows[one[0]][one[1]], rows[other[0]][other[1]]
    copy[one[0]] = {**copy[one[0]], one[1]: b}
    copy[other[0]] = {**copy[other[0]], other[1]: a}
    published_rows = rows[one[0]]["status"] == rows[other[0]]["status"] == "S"
    seen = published_rows and OUR_OWN.isdisjoint((one[1], other[1]))
    return Swap(f"row {one[0] + 2} {one[1]}={a} with row {other[0] + 2} {other[1]}={b}", copy, seen)


def fails(check: Check, rows: Rows) -> bool:
    """True if the check finds these rows wrong, or cannot even read them."""
    try:
        check(rows)
    except (AssertionError, ValueError, TypeError, AttributeError, LookupError):
        return True
    return False
