"""What the label check finds, as plain data, and how bad it is."""

from dataclasses import dataclass
from enum import IntEnum, StrEnum

from shopdesk.craft.messages import Message


class Gravity(IntEnum):
    """How much a finding weighs, the worst first."""

    MEASURED = 0
    BAND = 1
    UNUSUAL = 2
    UNSAID = 3


class Facet(StrEnum):
    """What of the yarn a finding is about."""

    NAME = "name"
    GAUGE = "gauge"
    LENGTH = "length"
    WRAPS = "wraps"
    TOOL = "tool"
    FIBRE = "fibre"
    CARE = "care"


GRAVITY_WORDS = {
    Gravity.MEASURED: "a measurement speaks against the band",
    Gravity.BAND: "the band speaks against itself",
    Gravity.UNUSUAL: "unusual",
    Gravity.UNSAID: "the band does not say",
}


@dataclass(frozen=True, slots=True)
class LabelFinding:
    """One thing to look at: `facets` are what speaks against what.

    `apart` is how far the two are from each other as a share of the yarn's thickness (0.1 is a
    tenth); 0 for what has no measure.
    """

    message: Message
    gravity: Gravity
    facets: frozenset[Facet]
    apart: float = 0.0


class MeasureKind(StrEnum):
    """What the shop can do to settle a finding; each has its page and its text."""

    WEIGH = "weigh a length"
    WRAP = "wrap it"
    SWATCH = "swatch it"
    READ_BAND = "read the band again"


@dataclass(frozen=True, slots=True)
class MeasureNext:
    """One thing to do next, and what is to be expected if the band is right."""

    kind: MeasureKind
    message: Message
