"""What the customer took from an answer: one yarn, and for each part its colour and lots."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class ChosenLot:
    """So many skeins of one dye lot (None: a yarn without lots)."""

    lot: str | None
    skeins: int


@dataclass(frozen=True, slots=True)
class ChosenPart:
    """The colour and lots of one part; `part` is the part's name in the ask."""

    part: str
    colour_code: str
    lots: tuple[ChosenLot, ...]


@dataclass(frozen=True, slots=True)
class Choice:
    """The chosen yarn; `told` holds the codes of the flagged cautions the customer was told."""

    sku: str
    parts: tuple[ChosenPart, ...]
    told: frozenset[str] = frozenset()
