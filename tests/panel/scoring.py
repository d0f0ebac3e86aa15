"""How near an answer comes to what the panel's judges agree on."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from tests.panel.panel import Agreed

FIRST = 3
"""A customer is shown three."""


@dataclass(frozen=True, slots=True)
class Score:
    """Counts over some asks.

    `right` of `possible` good yarns stand among the first three (of as many as there are, three
    at most); `bad_first` are refused yarns among the first three; of `promised` yarns, said to do
    as they are, the judges refuse `bad_promised`; `whole` asks are wholly right.
    """

    asks: int = 0
    right: int = 0
    possible: int = 0
    bad_first: int = 0
    bad_promised: int = 0
    promised: int = 0
    whole: int = 0

    def __add__(self, other: "Score") -> "Score":
        return Score(
            self.asks + other.asks,
            self.right + other.right,
            self.possible + other.possible,
            self.bad_first + other.bad_first,
            self.bad_promised + other.bad_promised,
            self.promised + other.promised,
            self.whole + other.whole,
        )


def scored(ranked: Sequence[str], promised: Iterable[str], agreed: Agreed) -> Score:
    """Returns the score of one answer: its yarns as ranked, and those said to do as they are.

    A yarn that is promised though no two judges promise it keeps an ask from being wholly right.
    """
    first, as_it_is = ranked[:FIRST], frozenset(promised)
    possible = min(FIRST, len(agreed.good))
    right = min(possible, len(set(first) & set(agreed.good)))
    bad = sum(sku not in agreed.listed for sku in first)
    broken = as_it_is - agreed.listed
    whole = right == possible and not bad and as_it_is <= agreed.as_it_is
    return Score(1, right, possible, bad, len(broken), len(as_it_is), int(whole))
