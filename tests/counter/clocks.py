"""A clock for tests of what takes time."""


class Clock:
    """A clock that is set by hand: seconds from any beginning."""

    def __init__(self, now: float = 0.0) -> None:
        self.now = now

    def __call__(self) -> float:
        return self.now
