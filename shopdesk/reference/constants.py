"""Named constants out of a reference table with the columns name, value, low and high."""

from dataclasses import dataclass
from functools import cache

from shopdesk.reference.tables import table


@dataclass(frozen=True, slots=True)
class Constant:
    """One constant with the range it is known to."""

    value: float
    low: float
    high: float


@cache
def constant(table_name: str, name: str) -> Constant:
    """Returns the constant `name` of reference/<table_name>.csv. Raises KeyError."""
    for row in table(table_name):
        if row["name"] == name:
            value, low, high = (float(row[column]) for column in ("value", "low", "high"))
            return Constant(value, low, high)
    raise KeyError(f"{table_name}.csv has no constant '{name}'")
