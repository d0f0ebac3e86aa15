"""Where a yarn stands among the others for an ask: what would go wrong first decides."""

from collections.abc import Sequence
from math import floor, fsum, inf
from typing import NamedTuple

from shopdesk.answering.judging.grades import Grade, Reason, grade, order_of
from shopdesk.answering.model.answer import Candidate, Caution, Suitability
from shopdesk.answering.thresholds import threshold
from shopdesk.craft.messages import Message, message

MOST_COLOURS = 10**6
"""More colours than any yarn has: what a bound promises of a yarn whose stock is not read."""


class SortKey(NamedTuple):
    """Sorts yarns: group, penalty in it, stock, price, colours, what is left of the penalty, SKU.

    `group` is 0 for the best; `penalty` adds up the findings that hold the yarn back, the cautions
    that must be told and how unlike the original it is, in steps of a quarter, so that what is as
    good as alike is told apart by stock and price; `stock` is 0 where a colour has enough in one
    lot, 1 where only in several, 2 where none has enough; `price` is that of a metre of the main
    yarn's strands, infinite where its length is not known; `fewer_colours` is below zero by as
    many as have enough; `exact` is the penalty to six places.
    """

    group: int
    penalty: float
    stock: int
    price: float
    fewer_colours: int
    exact: float
    sku: str


class Supplied(NamedTuple):
    """What stock and price add to a sort key, as there."""

    stock: int = 0
    price: float = 0.0
    fewer_colours: int = -MOST_COLOURS


AT_BEST = Supplied()


def sort_key(
    findings: Sequence[Reason],
    differences: Sequence[Message],
    cautions: Sequence[Caution],
    sku: str,
    unlike: float = 0.0,
    supplied: Supplied = AT_BEST,
) -> SortKey:
    """Returns where a yarn stands by all that was found, `differences` in washing among it.

    `unlike` is what `original.unlike_original` gives. Without `supplied` it stands as well as the
    best stock and price could place it.
    """
    washed = [washing_grade(said, differences) for said in differences]
    group = max(
        max((order_of(f.group) for f in findings), default=0),
        max((order_of(group) for group, _ in washed), default=0),
    )
    weights = [f.weight for f in findings if _holds_back(f)]
    told = [caution_penalty() for caution in cautions if caution.flag]
    exact = round(fsum((*weights, *told, *(weight for _, weight in washed), unlike)), 6)
    return SortKey(group, stepped(exact), *supplied, exact, sku)


def stepped(penalty: float) -> float:
    """Returns a penalty in steps of a quarter, rounded down."""
    return floor(penalty * 4) / 4


def is_proposed(one: SortKey, wide: bool) -> bool:
    """True if a yarn is worth proposing, few and right.

    What needs a swatch or a change, and differs in much from what is wanted, is none. The limits
    are `wide` for the best there is, and where the original itself is ruled out: then any yarn
    that is not must differ in more.
    """
    if one.group not in (1, 2):
        return one.group == 0
    limit = "proposed_with_swatch" if one.group == 1 else "proposed_with_change"
    return one.exact <= threshold(f"{limit}_wide" if wide else limit)


def is_needless(one: SortKey) -> bool:
    """True if a yarn needs a change and more, and is no proposal beside one that needs none."""
    return one.group == 2 and one.exact > threshold("proposed_with_change_beside")


def is_proposed_beside(one: SortKey, best: SortKey | None, original_ruled_out: bool) -> bool:
    """True if a yarn is proposed behind the best that is; None: it would be the best itself.

    The best there is may differ in more than those behind it. Where it will do as it is, nobody
    wants one that needs a change and is unlike it too.
    """
    if best is not None and best.group == 0 and is_needless(one):
        return False
    return is_proposed(one, wide=original_ruled_out or best is None)


def _holds_back(finding: Reason) -> bool:
    """What is only told of size and gauge does not; what the yarn does otherwise does."""
    unlike = finding.said.code.startswith("behaviour.")
    return unlike or finding.group is not Suitability.AS_IT_IS


def caution_penalty() -> float:
    """Returns how much a caution that must be told weighs against a yarn."""
    return grade("caution_to_tell")[1]


def price_of_a_metre(price_minor: int, metres: float | None, strands: int) -> float:
    """Returns the price in minor units of a metre of so many strands; infinite if unknown."""
    return price_minor * strands / metres if metres else inf


def supplied_by(candidate: Candidate, price: float) -> Supplied:
    """Returns how stock and the price of a metre place a candidate."""
    enough = [colour for colour in candidate.colours if not colour.short_by]
    in_one_lot = any(colour.one_lot for colour in enough)
    stock = 0 if in_one_lot or not candidate.colours else 1 if enough else 2
    return Supplied(stock, price, -len(enough))


ANOTHER_BUTTON = {
    "washing.often",
    "washing.weak_when_wet",
    "washing.out_of_the_sun",
    "washing.gentler_programme",
    "washing.may_felt_when_rougher",
    "washing.tumble_low",
    "washing.dark_and_pale",
    "washing.felting_and_not",
}
"""Differences that the household meets by another programme, place to dry or a washed swatch."""


NOT_STOOD = {
    "washing.must_not_be_washed",
    "washing.felts_in_machine",
    "washing.may_felt_in_machine",
    "washing.hand_only",
    "washing.too_hot",
    "washing.no_dry_clean",
    "washing.felts_in_dryer",
    "washing.no_tumble",
}
"""Differences that spoil the item if the customer does what was asked."""
OF_THE_DRYER = {"washing.felts_in_dryer", "washing.no_tumble"}
"""Differences in drying, which is compared only where it is asked."""


def washing_findings(differences: Sequence[Message]) -> list[Reason]:
    """Returns what the differences in washing leave of a yarn, with the change where there is one.

    A yarn that does not stand what the customer said is not for this. Where the washing was not
    said but taken to be usual, it will do if it is washed otherwise.
    """
    change = message("judging.change_washing")
    found: list[Reason] = []
    for index, said in enumerate(differences):
        group, weight = washing_grade(said, differences, index)
        found.append(
            Reason(group, said, weight, change if group is Suitability.WITH_A_CHANGE else None)
        )
    return found


def washing_group(difference: Message, among: Sequence[Message]) -> Suitability:
    """Returns the best group that a difference in washing leaves, `among` all that were found."""
    return washing_grade(difference, among)[0]


def washing_grade(difference: Message, among: Sequence[Message], told_before: int = 0) -> Grade:
    """Returns group and weight of a difference in washing, `among` all that were found."""
    code = difference.code
    if code == "washing.dry_flat":
        return grade("another_place_to_dry", told_before / 10)
    if code in ANOTHER_BUTTON or code.endswith("not_known"):
        return grade("another_button", told_before / 10)
    asked = code in OF_THE_DRYER or all(said.code != "washing.often" for said in among)
    scale = "not_stood" if code in NOT_STOOD and asked else "washed_otherwise"
    return grade(scale, told_before / 10)
