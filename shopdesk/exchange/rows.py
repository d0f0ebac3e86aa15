"""A table's rows as they are read, whichever kind of file they come from."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

Row = tuple[int, Sequence[str]]


@dataclass(frozen=True, slots=True)
class Table:
    """Headings as written; rows as (line number, cells), read once; how the file was read.

    `lines` is the number of lines of the whole file, for showing progress.
    """

    headings: tuple[str, ...]
    rows: Iterator[Row]
    read_as: str
    lines: int


def blank(cells: Sequence[str]) -> bool:
    """True if nothing is written in any cell."""
    return not any(map(str.strip, cells))
