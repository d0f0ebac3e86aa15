"""A yarn as plain data: what its label says and what the shop measured, kept apart."""

from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from enum import StrEnum
from typing import NamedTuple


class Craft(StrEnum):
    KNIT = "knit"
    CROCHET = "crochet"


class Construction(StrEnum):
    """How the yarn is made, as far as the trade has words for it."""

    PLIED = "plied"
    SINGLE = "single"
    CABLED = "cabled"
    CHAINETTE = "chainette"
    BRUSHED = "brushed"
    BOUCLE = "boucle"
    CHENILLE = "chenille"
    EYELASH = "eyelash"
    TAPE = "tape"
    CORESPUN = "corespun"
    ROVING = "roving"


@dataclass(frozen=True, slots=True)
class FibreShare:
    """One line of a fibre blend; `fibre` is a key of reference/fibres.csv."""

    fibre: str
    percent: Decimal


@dataclass(frozen=True, slots=True)
class PutUp:
    """What one ball, skein or cone holds: net grams and nominal metres."""

    grams: float
    metres: float


@dataclass(frozen=True, slots=True)
class YarnCount:
    """A yarn count as written ('2/28') and its system, a key of reference/counts.csv."""

    written: str
    system: str


@dataclass(frozen=True, slots=True)
class BandGauge:
    """The gauge a band or pattern states, per 10 cm, with its tool; a range if it gives one."""

    stitches_low: float
    stitches_high: float
    rows: float | None = None
    tool_mm_low: float | None = None
    tool_mm_high: float | None = None
    craft: Craft = Craft.KNIT


@dataclass(frozen=True, slots=True)
class CareLabel:
    """Care in words on its own axes; None on an axis means unknown.

    The values of each axis are in craft/care.py, from the mildest treatment to the most severe.
    """

    wash_c: int | None = None
    wash_action: str | None = None
    bleach: str | None = None
    tumble: str | None = None
    natural_drying: str | None = None
    iron_c: int | None = None
    dry_clean: str | None = None
    wet_clean: str | None = None


@dataclass(frozen=True, slots=True)
class LabelFacts:
    """What the band (or the cone's tag) says. Nothing here was measured by the shop.

    A cone's tag gives `count` and perhaps `net_grams` in place of a put-up.
    """

    weight_name: str | None = None
    put_up: PutUp | None = None
    printed_put_up: str = ""
    count: YarnCount | None = None
    net_grams: float | None = None
    gauge: BandGauge | None = None
    crochet_gauge: BandGauge | None = None
    plies: int | None = None
    construction: Construction | None = None
    fibres: tuple[FibreShare, ...] = ()
    attributes: frozenset[str] = frozenset()
    care: CareLabel | None = None


class MeasurementKind(StrEnum):
    WRAPS = "wraps"
    SWATCH = "swatch"
    LENGTH = "length"


@dataclass(frozen=True, slots=True)
class Measurement:
    """One thing the shop (or a customer of it) measured on the yarn itself.

    WRAPS fills wraps_per_inch; SWATCH fills stitches, rows (per 10 cm), tool_mm, washed, craft
    how many strands were held together and the slip it belongs to; LENGTH fills length_m and
    mass_g of a weighed piece. `asked_for`: the shop had asked how the swatch came out.
    """

    kind: MeasurementKind
    on: date
    by: str = ""
    wraps_per_inch: float | None = None
    stitches: float | None = None
    rows: float | None = None
    tool_mm: float | None = None
    washed: bool | None = None
    stitch_pattern: str = "stockinette"
    craft: Craft = Craft.KNIT
    length_m: float | None = None
    mass_g: float | None = None
    from_customer: bool = False
    hand: str | None = None
    strands: int = 1
    slip_number: int | None = None
    asked_for: bool = False


class LotStock(NamedTuple):
    """Skeins of one dye lot of one colour that may be promised now (on hand less on hold)."""

    colour_code: str
    colour_name: str
    colour_family: str
    lot: str | None
    available: int
    gtin: str | None = None
    branch: str = ""
    dark: bool = False


@dataclass(frozen=True, slots=True)
class ShelfYarn:
    """One house yarn as the shelf knows it. `price` is for one skein, in the shop's currency."""

    sku: str
    name: str
    label: LabelFacts
    price: Decimal
    measurements: tuple[Measurement, ...] = ()
    lots: tuple[LotStock, ...] = ()
    gtin: str | None = None
    hand_dyed: bool = False
    notes: str = ""
