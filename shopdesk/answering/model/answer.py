"""The answer as plain immutable data, the shop's terms it depends on, and what is selected."""

from dataclasses import dataclass
from decimal import Decimal
from enum import StrEnum

from shopdesk.craft.figures import Figure
from shopdesk.craft.messages import Message
from shopdesk.craft.yarn import CareLabel


@dataclass(frozen=True, slots=True)
class ShopTerms:
    """Currency (ISO 4217), tax wording, allowance on the need, and the country whose rules apply.

    `country` is an ISO 3166 code such as 'GB', 'US', 'DE'; '' takes the strictest texts. `branch`
    is the one that plans the lots, by its code; '' where every branch is as good as the other.
    """

    currency: str
    tax_included: bool
    allowance_percent: Decimal
    country: str
    branch: str = ""


@dataclass(frozen=True, slots=True)
class LotTaken:
    """So many skeins of one dye lot (None: a yarn without lots)."""

    lot: str | None
    skeins: int


@dataclass(frozen=True, slots=True)
class SelectedPart:
    """The colour and lots of one part; `part` is the part's name in the ask."""

    part: str
    colour_code: str
    lots: tuple[LotTaken, ...]


@dataclass(frozen=True, slots=True)
class Selection:
    """The chosen yarn; `told` holds the codes of the flagged cautions the customer was told."""

    sku: str
    parts: tuple[SelectedPart, ...]
    told: frozenset[str] = frozenset()


class Suitability(StrEnum):
    """Where a yarn stands for this ask, best first."""

    AS_IT_IS = "will do as it is"
    SWATCH_FIRST = "will do, swatch first"
    WITH_A_CHANGE = "will do with a change"
    NOT_FOR_THIS = "not for this"


@dataclass(frozen=True, slots=True)
class Profile:
    """What a yarn is, by all its evidence. None means the evidence does not reach that far.

    `loft`, its thickness over that of its fibre packed solid, is for readers of the JSON answer.
    """

    tex: Figure | None
    metres_per_100g: Figure | None
    natural_stitches: Figure | None
    natural_rows: Figure | None
    wraps_per_inch: Figure | None
    thickness_mm: Figure | None
    loft: Figure | None
    density: Figure | None
    categories: tuple[int, ...]
    disagreements: tuple[Message, ...]
    behaviour: tuple[Message, ...]


@dataclass(frozen=True, slots=True)
class StartTool:
    """The needle or hook to start the swatch with; US and UK numbers where they exist."""

    mm: float
    us: str | None
    uk: str | None
    why: tuple[Message, ...]


@dataclass(frozen=True, slots=True)
class Fabric:
    """The fabric this yarn makes at the pattern's gauge, beside the original's where known."""

    loop_mm: float | None
    firmness: Figure | None
    reference_firmness: Figure | None
    grams_per_m2: Figure | None
    item_grams: Figure | None
    original_item_grams: Figure | None
    thickness_mm: float | None
    original_thickness_mm: float | None
    words: tuple[Message, ...]


@dataclass(frozen=True, slots=True)
class Need:
    """Length needed of one part: plausible range, the allowance, and what to plan for.

    `own_m` is what the customer holds of it in all, `own_strand_m` what that is worth for each
    strand; `own_sku` is the house yarn that it is, None for the pattern's own, and `own_told` what
    is told of it. `skein_m` is what whole skeins must hold of each strand, and `bare_m` what is
    likely, both less what is in hand. A `rough` need stands for something that is not known by
    what is usual for it.
    """

    part: str
    pattern_m: Figure | None
    own_m: float
    allowance_percent: Decimal
    allowance_m: float
    plan_m: float | None
    why: tuple[Message, ...]
    rough: bool = False
    skein_m: float | None = None
    bare_m: float | None = None
    own_strand_m: float = 0.0
    own_sku: str | None = None
    own_told: tuple[Message, ...] = ()


@dataclass(frozen=True, slots=True)
class PartAmount:
    """Skeins of one yarn for one part. None where the need is unknown.

    The spare is what is left of all skeins if the likely need holds; `prudent_extra` is how many
    more the counter may offer where it is thin, for the reason in `why`.
    """

    part: str
    need: Need
    skeins: int | None
    strands: int
    spare_m: float | None
    spare_g: float | None
    prudent_extra: int
    why: tuple[Message, ...]


@dataclass(frozen=True, slots=True)
class LotQuantity:
    """So many skeins out of one dye lot (None: a yarn without lots)."""

    lot: str | None
    skeins: int
    left_in_lot: int


@dataclass(frozen=True, slots=True)
class ColourSupply:
    """How one colour of the yarn would be supplied for one part.

    `bring_over` says that its lots lie in other branches only, where they do.
    """

    part: str
    colour_code: str
    colour_name: str
    colour_family: str
    gtin: str | None
    available: int
    picks: tuple[LotQuantity, ...]
    one_lot: bool
    short_by: int
    advice: tuple[Message, ...]
    dark: bool = False
    bring_over: Message | None = None


@dataclass(frozen=True, slots=True)
class Price:
    """Money for the whole item in one yarn; None where the count is unknown."""

    currency: str
    each: Decimal
    total: Decimal | None
    per_100m: Decimal | None
    per_100g: Decimal | None
    tax_included: bool


@dataclass(frozen=True, slots=True)
class Caution:
    """One thing the customer is told. `law` tells law from advice; `where` is where it holds.

    `flag` means that it needs an explicit 'told the customer' before the slip is made. `topic`
    is what it is about; cautions of one topic stand together.
    """

    code: str
    text: Message
    law: bool
    where: str
    by_whom: str
    flag: bool
    topic: str = ""


@dataclass(frozen=True, slots=True)
class ItemCare:
    """How the item made of this yarn may be washed.

    `differences` says where it does not stand what this customer will do to it, `changes` what
    is otherwise than with the designer's yarn.
    """

    label: CareLabel
    by_default: bool
    words: tuple[Message, ...]
    differences: tuple[Message, ...]
    changes: tuple[Message, ...] = ()


@dataclass(frozen=True, slots=True)
class Companion:
    """A second house yarn held together with the first."""

    sku: str
    name: str
    skeins: int | None
    price: Price


@dataclass(frozen=True, slots=True)
class Candidate:
    """One house yarn, judged for this ask. `reasons` has the deciding one first.

    `change` is the gravest change that the knitter makes, `also_change` are the others in order.
    """

    sku: str
    name: str
    weight_name: str | None
    group: Suitability
    strands: int
    companion: Companion | None
    profile: Profile
    reasons: tuple[Message, ...]
    change: Message | None
    start_tool: StartTool | None
    fabric: Fabric | None
    amounts: tuple[PartAmount, ...]
    colours: tuple[ColourSupply, ...]
    price: Price
    care: ItemCare
    cautions: tuple[Caution, ...]
    also_change: tuple[Message, ...] = ()


@dataclass(frozen=True, slots=True)
class Target:
    """What a substitute is measured against, and whether that is the designer's yarn.

    `fabric_stitches` is the usual gauge of yarns that make the pattern's fabric, as tight as such
    an item is usually worked. `usual_metres` is the length per 100 g that a weight name lets
    expect where none is stated; it serves the order alone.
    """

    from_designer_yarn: bool
    natural_stitches: Figure | None
    metres_per_100g: Figure | None
    thickness_mm: Figure | None
    density: Figure | None
    categories: tuple[int, ...]
    why: tuple[Message, ...]
    fabric_stitches: Figure | None = None
    usual_metres: float | None = None


@dataclass(frozen=True, slots=True)
class RuledOut:
    """The yarns that one wish of the customer took away; `skus` names those that were judged."""

    wish: Message
    count: int
    skus: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Answer:
    """The whole answer to one ask.

    `beyond` counts the yarns that are neither listed nor ruled out by a wish: they are no
    proposal beside those that are listed; of a large shelf also those behind them or not for
    this. It is `cut` where so many are
    listed as were asked for, so that others may do as well. `wearer` says who it is for and
    what that was taken from, where nobody said it; `left_in` which fibres of animals a wish for
    no wool leaves in.
    """

    title: str
    target: Target
    needs: tuple[Need, ...]
    candidates: tuple[Candidate, ...]
    ruled_out: tuple[RuledOut, ...]
    unknown: tuple[Message, ...]
    cautions: tuple[Caution, ...]
    beyond: int = 0
    cut: bool = False
    wearer: Message | None = None
    left_in: Message | None = None

    def in_group(self, group: Suitability) -> tuple[Candidate, ...]:
        """Returns the candidates of one group, in order."""
        return tuple(c for c in self.candidates if c.group is group)

    def candidate(self, sku: str) -> Candidate | None:
        """Returns what was judged of one yarn, or None if the shelf does not have it."""
        return next((c for c in self.candidates if c.sku == sku), None)
