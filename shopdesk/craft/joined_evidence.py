"""One figure out of several pieces of evidence, each with its own spread and heavy tails.

Taken as draws around the truth with Student's t (4 degrees of freedom), so that what lies far off
the others moves little.
"""

from collections.abc import Sequence
from math import exp, log, sqrt

from shopdesk.craft.figures import Basis, Figure
from shopdesk.craft.messages import Message
from shopdesk.reference.tables import constant

NORMAL_95TH = 1.6449
ROUNDS = 25


def joined(pieces: Sequence[Figure], basis: Basis, *notes: Message) -> Figure:
    """Returns the value that positive pieces of evidence speak for together.

    The interval of each is read as its 5th to 95th percentile, on the log scale. A piece counts
    the less the further it lies off; where pieces disagree the interval grows by as much.
    Raises ValueError for no piece.
    """
    if not pieces:
        raise ValueError("no evidence to join")
    if len(pieces) == 1:
        (one,) = pieces
        return Figure(one.value, one.low, one.high, basis, (*notes, *one.notes))
    centres = [log(piece.value) for piece in pieces]
    scales = [log(piece.high / piece.low) / 2 / NORMAL_95TH for piece in pieces]
    middle = _weighted(centres, [1 / scale**2 for scale in scales])
    for _ in range(ROUNDS):
        middle = _weighted(centres, _weights(middle, centres, scales))
    weights = _weights(middle, centres, scales)
    within = 1 / sum(weights)
    apart = within * sum(w * (x - middle) ** 2 for w, x in zip(weights, centres, strict=True))
    half = NORMAL_95TH * sqrt(within + apart / len(pieces))
    said = tuple(dict.fromkeys(note for piece in pieces for note in piece.notes))
    return Figure(exp(middle), exp(middle - half), exp(middle + half), basis, (*notes, *said))


def _weighted(values: Sequence[float], weights: Sequence[float]) -> float:
    return sum(w * x for w, x in zip(weights, values, strict=True)) / sum(weights)


def _weights(middle: float, centres: Sequence[float], scales: Sequence[float]) -> list[float]:
    tails = constant("swatch_models", "tails").value
    offs = [(x - middle) / s for x, s in zip(centres, scales, strict=True)]
    each = zip(offs, scales, strict=True)
    return [(tails + 1) / (tails + off * off) / (s * s) for off, s in each]
