"""Reads a reference table, a CSV file whose every row carries its source and its status.

Constants stand in tables with the columns name, value, low and high.
"""

import csv
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from importlib.resources import files
from types import MappingProxyType

STATUSES = {
    "S": "seen in the source",
    "M": "from memory, not seen",
    "D": "derived by exact arithmetic",
    "CP": "common practice, no source",
}


class TableFault(RuntimeError):
    """A shipped table lacks a source or a known status."""


def yes_or_no(row: Mapping[str, str], column: str) -> bool:
    """Returns what a column of yes and no says in a row. Raises TableFault."""
    if row[column] not in ("yes", "no"):
        raise TableFault(f"{column} is '{row[column]}'; write yes or no")
    return row[column] == "yes"


@cache
def table(name: str) -> tuple[Mapping[str, str], ...]:
    """Returns the rows of reference/<name>.csv, read once. Raises TableFault."""
    text = files(__package__).joinpath(f"{name}.csv").read_text(encoding="utf-8")
    rows = tuple(MappingProxyType(row) for row in csv.DictReader(text.splitlines()))
    for number, row in enumerate(rows, 2):
        if not row.get("source") or row.get("status") not in STATUSES:
            raise TableFault(f"{name}.csv line {number} has no source or no known status")
    return rows


@dataclass(frozen=True, slots=True)
class Constant:
    """One constant with the range it is known to, which is the value alone where none is given."""

    value: float
    low: float
    high: float


@cache
def constant(table_name: str, name: str) -> Constant:
    """Returns the constant `name` of reference/<table_name>.csv. Raises KeyError."""
    for row in table(table_name):
        if row["name"] == name:
            low, high = (row.get(column) or row["value"] for column in ("low", "high"))
            return Constant(float(row["value"]), float(low), float(high))
    raise KeyError(f"{table_name}.csv has no constant '{name}'")
