"""A derived figure that says what it rests on and how far it may be off."""

from collections.abc import Iterator
from dataclasses import dataclass
from enum import StrEnum
from math import hypot, prod

from shopdesk.craft.messages import Message


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
    notes: tuple[Message, ...] = ()

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


def spread(value: float, share: float, basis: Basis, *notes: Message) -> Figure:
    """Returns a Figure whose interval is value x (1 -/+ share)."""
    return Figure(value, value * (1 - share), value * (1 + share), basis, notes)


def exactly(value: float, basis: Basis = Basis.ESTIMATE) -> Figure:
    """Returns a Figure without any doubt about its value."""
    return Figure(value, value, value, basis)


def product(basis: Basis, *factors: Figure) -> Figure:
    """Returns the product of positive figures that are off independently of each other.

    Their relative half-widths add as squares, below and above the value apart; the notes of
    all are kept, each once.
    """
    value = prod(factor.value for factor in factors)
    below = hypot(*(1 - factor.low / factor.value for factor in factors))
    above = hypot(*(factor.high / factor.value - 1 for factor in factors))
    notes = tuple(dict.fromkeys(_notes_of(factors)))
    return Figure(value, value * max(0.0, 1 - below), value * (1 + above), basis, notes)


def _notes_of(figures: tuple[Figure, ...]) -> Iterator[Message]:
    for figure in figures:
        yield from figure.notes
