"""A derived figure that says what it rests on and how far it may be off."""

from dataclasses import dataclass
from enum import StrEnum

from shopdesk.craft.sayings import Saying


class Basis(StrEnum):
    """What a figure rests on, best first."""

    SHOP = "shop measurement"
    LABEL = "label"
    PATTERN = "pattern"
    ESTIMATE = "estimate"


@dataclass(frozen=True, slots=True)
class Figure:
    """A value with its plausible interval (low <= value <= high) and its basis.

    The unit is the one in the name of the field that holds it; `notes` says in words
    how the figure came about.
    """

    value: float
    low: float
    high: float
    basis: Basis
    notes: tuple[Saying, ...] = ()

    def __post_init__(self) -> None:
        if not self.low <= self.value <= self.high:
            raise ValueError(f"figure {self.value} outside its interval {self.low}..{self.high}")

    def scaled(self, factor: float) -> "Figure":
        """Returns the figure times a positive exact factor."""
        return Figure(
            self.value * factor, self.low * factor, self.high * factor, self.basis, self.notes
        )

    def overlaps(self, other: "Figure") -> bool:
        """True if the two plausible intervals share a value."""
        return self.low <= other.high and other.low <= self.high


def spread(value: float, share: float, basis: Basis, *notes: Saying) -> Figure:
    """Returns a Figure whose interval is value x (1 -/+ share)."""
    return Figure(value, value * (1 - share), value * (1 + share), basis, notes)
