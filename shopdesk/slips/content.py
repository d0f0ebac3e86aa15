"""What a slip says, as frozen plain data: every paper, language and page renders this.

Sentences are Messages; numbers are in the units their names end in. Money is in the shop's
currency. The customer's name is kept apart in the record and only joins the slip when it is drawn.
"""

from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from typing import TYPE_CHECKING

from shopdesk.answering.model.answer import Caution, StartTool
from shopdesk.craft.messages import Message
from shopdesk.craft.yarn import Craft

if TYPE_CHECKING:
    from shopdesk.store.settings import ShopSettings


@dataclass(frozen=True, slots=True)
class SlipShop:
    """The shop as the slip shows it."""

    name: str
    address: tuple[str, ...] = ()
    currency: str = "EUR"
    tax_included: bool = True
    return_wording: str = ""


def slip_shop(settings: "ShopSettings") -> SlipShop:
    """Returns the shop of a slip from its settings as they are now."""
    return SlipShop(
        name=settings.shop_name,
        address=tuple(settings.address.splitlines()),
        currency=settings.currency,
        tax_included=settings.tax_included,
        return_wording=settings.return_wording,
    )


@dataclass(frozen=True, slots=True)
class SlipHeader:
    """The slip's number in its shop, its date, who served, and the slip that it replaces."""

    number: int
    on: date
    staff: str = ""
    replaces: int | None = None


@dataclass(frozen=True, slots=True)
class Fact:
    """A name and what stands beside it, as in 'Gauge: 22 stitches'."""

    name: Message
    value: Message


@dataclass(frozen=True, slots=True)
class LotPrinted:
    """So many skeins of one dye lot (None: a yarn without lots)."""

    lot: str | None
    skeins: int


@dataclass(frozen=True, slots=True)
class SlipLine:
    """One thing to take to the till. `gtin` is fit to print, or None.

    `length_m` and `mass_g` are of all skeins of the line; `spare_m` is what will be left of it,
    negative if the line is short. `parts` are those that it is for, where there are several.
    """

    part: str
    yarn: str
    sku: str
    colour: str
    lots: tuple[LotPrinted, ...]
    skeins: int
    each: Decimal
    total: Decimal
    gtin: str | None = None
    strands: int = 1
    length_m: float | None = None
    mass_g: float | None = None
    spare_m: float | None = None
    spare_g: float | None = None
    notes: tuple[Message, ...] = ()
    parts: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class SwatchCard:
    """How to make and measure the swatch, and what to do with what it shows.

    `stitches` and `rows` are what is wanted per 10 cm; `cast_on` is for about 15 cm.
    """

    craft: Craft
    tool: StartTool | None
    cast_on: int | None
    stitches: float | None
    rows: float | None
    steps: tuple[Message, ...]
    outcomes: tuple[Message, ...]


@dataclass(frozen=True, slots=True)
class CautionNote:
    """A caution, and whether the customer was told it at the counter."""

    caution: Caution
    told: bool


@dataclass(frozen=True, slots=True)
class SlipContent:
    """Everything that one slip says. `warnings` are for staff and are not printed."""

    shop: SlipShop
    stamp: SlipHeader
    title: str
    pattern: tuple[Fact, ...]
    yarn: str
    standing: tuple[Message, ...]
    lines: tuple[SlipLine, ...]
    swatch: SwatchCard
    differences: tuple[Message, ...]
    care: tuple[Message, ...]
    care_by_default: bool
    cautions: tuple[CautionNote, ...]
    unknown: tuple[Message, ...] = ()
    held_until: date | None = None
    warnings: tuple[Message, ...] = ()
    customer_name: str | None = None

    @property
    def total(self) -> Decimal:
        """The price of all lines."""
        return sum((line.total for line in self.lines), Decimal(0))
