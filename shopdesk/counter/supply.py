"""In a few words, how the colours and lots on the shelf could supply a yarn's parts."""

from collections.abc import Iterator
from dataclasses import dataclass

from shopdesk.answering.model.answer import Candidate, ColourSupply, PartAmount

MOST_NAMES = 8


@dataclass(frozen=True, slots=True)
class SupplyLine:
    """How one part can be supplied: in words, with the names of the colours meant."""

    part: str
    words: str
    names: tuple[str, ...]
    more: int


def supply_lines(candidate: Candidate) -> tuple[SupplyLine, ...]:
    """Returns a line for each part, in the order of the ask."""
    return tuple(_supply_lines(candidate))


def _supply_lines(candidate: Candidate) -> Iterator[SupplyLine]:
    for amount in candidate.amounts:
        choices = [c for c in candidate.colours if c.part == amount.part]
        words, meant = _best(amount, choices)
        names = tuple(choice.colour_name for choice in meant)
        yield SupplyLine(amount.part, words, names[:MOST_NAMES], max(0, len(names) - MOST_NAMES))


def _best(amount: PartAmount, choices: list[ColourSupply]) -> tuple[str, list[ColourSupply]]:
    there = [choice for choice in choices if choice.available]
    if not there:
        return "nothing in stock", []
    if not amount.skeins:
        return "in stock", there
    whole = [choice for choice in there if choice.one_lot and not choice.short_by]
    if whole:
        return "enough in one lot", whole
    split = [choice for choice in there if not choice.short_by]
    if split:
        return "enough, split over lots", split
    least = min(choice.short_by for choice in there)
    return f"short by {least} at best", [c for c in there if c.short_by == least]
