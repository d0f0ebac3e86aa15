"""The house's thresholds for judging a yarn, and windows a hair wider than they are meant."""

from functools import cache

from shopdesk.reference.tables import table


@cache
def threshold(name: str) -> float:
    """Returns one limit, such as 0.045; its unit, meaning and status stand in the table."""
    return next(float(row["value"]) for row in table("judgement") if row["name"] == name)


Window = tuple[float, float]
HAIR = 1e-9
"""Windows are wider by this share, so that no rounding leaves out what lies at their edge."""


def wider(low: float, high: float) -> Window:
    """Returns the window from `low` to `high`, both above zero, a hair wider."""
    return low * (1 - HAIR), high * (1 + HAIR)
