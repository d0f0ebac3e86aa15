"""What the customer and the pattern want, in fixed units: metres, grams, mm, stitches per 10 cm.

Everything is plain immutable data. None, an empty tuple and UNKNOWN mean what was not said.
The document models of `answering/ask` read an Ask from JSON.
"""

from dataclasses import dataclass, field, fields
from decimal import Decimal
from enum import StrEnum
from typing import TYPE_CHECKING

from shopdesk.craft.fabric import pattern_fabrics
from shopdesk.craft.items import Measurements, item_models, only_member
from shopdesk.craft.yarn import (
    BandGauge,
    CareLabel,
    Construction,
    Craft,
    FibreShare,
    PutUp,
    YarnCount,
)

if TYPE_CHECKING:

    class ItemKind(StrEnum):
        """A kind of item_kinds.csv, or whatever is none of them."""

    class StitchPattern(StrEnum):
        """The fabric's pattern; knit ones first, then crochet ones (US terms)."""
else:

    def _names(keys):
        return {key.upper().replace(" ", "_"): key for key in keys}

    ItemKind = StrEnum("ItemKind", _names((*item_models(), "other")), module=__name__)
    StitchPattern = StrEnum("StitchPattern", _names(pattern_fabrics()), module=__name__)
    StitchPattern.__doc__ = "The fabric's pattern; knit ones first, then crochet ones (US terms)."

OTHER_ITEM = ItemKind("other")
STOCKINETTE = StitchPattern("stockinette")
SINGLE_CROCHET = StitchPattern("single crochet")
OTHER_PATTERN = StitchPattern("other")


class Wearer(StrEnum):
    ADULT = "adult"
    CHILD = "child"
    BABY = only_member("baby", "wearer")
    GIFT = "gift"
    HOUSEHOLD = "household"
    UNKNOWN = "unknown"


class Washing(StrEnum):
    """How the household will wash the item."""

    MACHINE_60 = "machine 60"
    MACHINE_40 = "machine 40"
    MACHINE_30 = "machine 30"
    WOOL_PROGRAMME = "wool programme"
    HAND = "hand"
    DRY_CLEAN = "dry clean"
    UNKNOWN = "unknown"


class Drying(StrEnum):
    TUMBLE = "tumble"
    LINE = "line"
    FLAT = "flat"
    UNKNOWN = "unknown"


class Feature(StrEnum):
    """What else about the item matters for cautions and for the yarn."""

    RIBS = "ribs"
    CABLES = "cables"
    CORDS = "cords"
    BUTTONS = "buttons"
    TOY_EYES = "toy eyes"
    NIGHTWEAR = "nightwear"
    FOR_SLEEP = "for sleep"
    COVERS_FINGERS_OR_TOES = "covers fingers or toes"
    FLOATS_INSIDE = "floats inside"
    LONG = "long"
    FELTED = "felted"
    LIGHT_AND_DARK = "light and dark together"
    FOR_SALE = "to be sold"


MEASURES = tuple(each.name.removesuffix("_cm") for each in fields(Measurements))


@dataclass(frozen=True, slots=True)
class PatternGauge:
    """Stitches and rows per 10 cm that the pattern wants, and how they are to be measured."""

    stitches: float
    rows: float | None = None
    stitch_pattern: StitchPattern = STOCKINETTE
    after_washing: bool | None = None


@dataclass(frozen=True, slots=True)
class PatternTool:
    """The needle or hook the pattern names: always in mm, and as it was written."""

    mm: float
    written: str


@dataclass(frozen=True, slots=True)
class DesignerYarn:
    """The yarn the pattern was worked in, as far as it is known."""

    weight_names: tuple[str, ...] = ()
    put_up: PutUp | None = None
    count: YarnCount | None = None
    gauge: BandGauge | None = None
    wraps_per_inch: float | None = None
    fibres: tuple[FibreShare, ...] = ()
    attributes: frozenset[str] = frozenset()
    construction: Construction | None = None
    strands: int = 1
    care: CareLabel | None = None


class AmountKind(StrEnum):
    LENGTH = "length"
    BALLS = "balls"
    MASS = "mass"
    UNKNOWN = "unknown"


@dataclass(frozen=True, slots=True)
class PatternAmount:
    """How much the pattern says for the chosen size: metres, balls or grams of a stated put-up."""

    kind: AmountKind = AmountKind.UNKNOWN
    length_m: float | None = None
    balls: float | None = None
    mass_g: float | None = None
    put_up: PutUp | None = None


@dataclass(frozen=True, slots=True)
class OwnYarn:
    """Yarn of this part that the customer already holds: by length, or weighed with its put-up.

    It is the yarn that the pattern names, or the house yarn `sku`. `strands` says how many of it
    are held together; None: as many as in the pattern.
    """

    length_m: float | None = None
    mass_g: float | None = None
    put_up: PutUp | None = None
    sku: str | None = None
    strands: int | None = None
    fibres: tuple[FibreShare, ...] = ()
    attributes: frozenset[str] = frozenset()
    care: CareLabel | None = None


@dataclass(frozen=True, slots=True)
class Part:
    """One colour or part of the item that is counted by itself."""

    name: str
    amount: PatternAmount
    own: OwnYarn | None = None


@dataclass(frozen=True, slots=True)
class Wishes:
    """What the customer asks for beyond the pattern. Price limit is for the whole item."""

    avoid_fibres: frozenset[str] = frozenset()
    colour_family: str | None = None
    price_limit: Decimal | None = None
    one_lot_only: bool = False
    in_stock_only: bool = False


@dataclass(frozen=True, slots=True)
class Ask:
    """One question put to the shelf. Gauge or the designer's weight must be there.

    `size_chests_cm` is the finished chest (or width) of every size, in the order of `size_names`,
    or empty. `hand_percent` is by how much the knitter works tighter (below 0: looser) than usual.
    """

    title: str
    craft: Craft
    item: ItemKind = OTHER_ITEM
    measurements: Measurements = field(default_factory=Measurements)
    features: frozenset[Feature] = frozenset()
    gauge: PatternGauge | None = None
    tool: PatternTool | None = None
    designer_yarn: DesignerYarn | None = None
    size_names: tuple[str, ...] = ()
    chosen_size: str | None = None
    size_chests_cm: tuple[float, ...] = ()
    parts: tuple[Part, ...] = ()
    wearer: Wearer = Wearer.UNKNOWN
    washing: Washing = Washing.UNKNOWN
    drying: Drying = Drying.UNKNOWN
    wishes: Wishes = field(default_factory=Wishes)
    hand_percent: float = 0.0
