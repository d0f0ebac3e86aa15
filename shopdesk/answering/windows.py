"""Windows of a figure, a hair wider than they are meant."""

Window = tuple[float, float]
HAIR = 1e-9
"""Windows are wider by this share, so that no rounding leaves out what lies at their edge."""


def wider(low: float, high: float) -> Window:
    """Returns the window from `low` to `high`, both above zero, a hair wider."""
    return low * (1 - HAIR), high * (1 + HAIR)
