"""The house's limits for judging a yarn, read once from reference/judgement.csv."""

from functools import cache

from shopdesk.reference.tables import table


@cache
def limit(name: str) -> float:
    """Returns one limit as a share, such as 0.045; its meaning and status stand in the table."""
    return next(float(row["value"]) for row in table("judgement") if row["name"] == name)
