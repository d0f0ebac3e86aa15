"""Where a yarn stands among the others for an ask: what would go wrong first decides."""

from collections.abc import Sequence
from math import fsum
from typing import NamedTuple

from shopdesk.answering.judging.grades import Reason, grade, order_of
from shopdesk.answering.model.answer import Candidate, Caution, Suitability
from shopdesk.craft.messages import Message, message

FAR_OFF = 99.0
"""The distance of a yarn whose gauge or length was not compared."""


class SortKey(NamedTuple):
    """Sorts yarns: group, penalty in it, stock, small print, distance of gauge, of length, SKU.

    `group` is 0 for the best; `penalty` adds up the findings that hold the yarn back and the
    cautions that must be told; `short` means that no colour has enough; `small_print` counts
    what will be otherwise in washing and behaviour; `off_st` is in stitches per 10 cm,
    `off_percent` that of the length per 100 g in whole percent.
    """

    group: int
    penalty: float
    short: bool
    small_print: int
    off_st: float
    off_percent: float
    sku: str


def sort_key(
    findings: Sequence[Reason],
    differences: Sequence[Message],
    cautions: Sequence[Caution],
    sku: str,
    short: bool = False,
) -> SortKey:
    """Returns where a yarn stands by all that was found, `differences` in washing among it."""
    group = max(
        max((order_of(f.group) for f in findings), default=0),
        max((order_of(washing_group(said)) for said in differences), default=0),
    )
    weights = [f.weight for f in findings if f.group is not Suitability.AS_IT_IS]
    told = [caution_penalty() for caution in cautions if caution.flag]
    unlike = sum(f.said.code.startswith("behaviour.") for f in findings)
    return SortKey(
        group,
        round(fsum((*weights, *told)), 6),
        short,
        len(differences) + unlike,
        round(_off(findings), 6),
        _off_length(findings),
        sku,
    )


def caution_penalty() -> float:
    """Returns how much a caution that must be told weighs against a yarn."""
    return grade("caution_to_tell")[1]


def is_short(candidate: Candidate) -> bool:
    """True if there are colours, and none of them has enough."""
    return bool(candidate.colours) and all(c.short_by for c in candidate.colours)


LENGTH_CODES = {"judging.length_same", "judging.length_more", "judging.length_less"}
ANOTHER_BUTTON = {
    "washing.often",
    "washing.weak_when_wet",
    "washing.out_of_the_sun",
    "washing.gentler_programme",
    "washing.tumble_low",
    "washing.dry_flat",
    "washing.dark_and_pale",
    "washing.felting_and_not",
}
"""Differences that the household meets by another programme, place to dry or a washed swatch."""


def washing_findings(differences: Sequence[Message]) -> list[Reason]:
    """A yarn that cannot be washed as wanted will do only if it is washed otherwise."""
    change = message("judging.change_washing")
    found: list[Reason] = []
    for index, said in enumerate(differences):
        if washing_group(said) is Suitability.AS_IT_IS:
            group, weight = grade("another_button", index / 10)
            found.append(Reason(group, said, weight))
        else:
            group, weight = grade("washed_otherwise", index / 10)
            found.append(Reason(group, said, weight, change))
    return found


def washing_group(difference: Message) -> Suitability:
    """Returns the best group that a difference in washing leaves."""
    another = difference.code in ANOTHER_BUTTON or difference.code.endswith("not_known")
    return grade("another_button" if another else "washed_otherwise")[0]


def _off(findings: Sequence[Reason]) -> float:
    offs = [f.said.values["off_st"] for f in findings if "off_st" in f.said.values]
    return min((float(off) for off in offs if isinstance(off, float)), default=FAR_OFF)


def _off_length(findings: Sequence[Reason]) -> float:
    for said in (f.said for f in findings if f.said.code in LENGTH_CODES):
        percent = said.values.get("off_percent", 0)
        return float(percent) if isinstance(percent, int) else FAR_OFF
    return FAR_OFF
