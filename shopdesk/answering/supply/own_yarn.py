"""What the customer brings: how much of a part it covers, in which yarn, and what is told of it."""

from dataclasses import replace

from shopdesk.answering.judging.item_care import care_cautions, care_differences
from shopdesk.answering.model.answer import Need
from shopdesk.answering.model.ask import Ask, DesignerYarn, OwnYarn, Part
from shopdesk.answering.profile.summary import WearAndCare, label_wear_and_care
from shopdesk.craft.counts import sold_put_up
from shopdesk.craft.figures import Basis, Figure, exactly
from shopdesk.craft.messages import Message, message
from shopdesk.craft.quantity import in_skeins_m, length_of_weighed, likely_m, planning_m
from shopdesk.craft.yarn import LabelFacts, ShelfYarn

_ON_THE_SKIN = frozenset({"shedding", "may shed", "prickle"})
"""The cautions that a yarn in hand brings beside what its washing says."""


def own_length(own: OwnYarn | None) -> Figure:
    """Returns the length in hand in metres: as said, or weighed with its length per mass.

    What was weighed may hold less by what the damp of the air does to its mass; what can be told
    in neither way is no length.
    """
    if own is not None and own.length_m is not None:
        return exactly(own.length_m, Basis.PATTERN)
    if own is not None and own.mass_g and own.put_up is not None:
        return length_of_weighed(own.mass_g, own.put_up)
    return exactly(0.0, Basis.PATTERN)


def own_sayings(own: OwnYarn | None, strands: int) -> tuple[Message, ...]:
    """Returns how the yarn in hand was counted, if there is any that can be counted."""
    length = own_length(own)
    if own is None or not length.value:
        return (message("needs.own_unknown"),) if own and own.mass_g else ()
    said = [message("needs.own_deducted", own_m=length.low)]
    if length.low < length.value:
        said.append(message("needs.own_weighed", weighed_m=length.value))
    if strands > 1:
        said.append(message("needs.own_strands", count=strands, strand_m=length.low / strands))
    return tuple(said)


def own_strands(ask: Ask, own: OwnYarn | None) -> int:
    """Returns how many strands of it are held together: as many as in the pattern if unsaid."""
    if own is not None and own.strands is not None:
        return own.strands
    return ask.designer_yarn.strands if ask.designer_yarn else 1


def own_told(ask: Ask, part: Part, country: str) -> tuple[Message, ...]:
    """Returns where the yarn in hand does not stand what this customer's item will get.

    Nothing is told of one whose fibres and care are not known.
    """
    own = part.own
    if own is None or not (own.fibres or own.care):
        return ()
    known = _wear_and_care(own)
    washed = care_differences(ask, [known])
    worn = [one for one in care_cautions(ask, [known], country) if one.code in _ON_THE_SKIN]
    return tuple(
        message("needs.own_caution", part=part.name, said=said)
        for said in (*washed, *(one.text for one in worn))
    )


def _wear_and_care(own: OwnYarn) -> WearAndCare:
    band = LabelFacts(fibres=own.fibres, attributes=own.attributes, care=own.care)
    return label_wear_and_care(band)


def need_in(need: Need, sku: str, strands: int, beside: str | None = None) -> Need:
    """Returns the need in one house yarn of so many strands, perhaps held with the yarn `beside`.

    A yarn in hand that is this very yarn is held as this one is; one that is the other strand
    takes nothing off this one.
    """
    if need.own_sku is None or need.own_sku not in (sku, beside):
        return need
    return with_own(need, need.own_m / strands if need.own_sku == sku else 0.0)


def least_need(need: Need) -> Need:
    """Returns the least that any yarn leaves of it: a house yarn in hand may be held single."""
    return with_own(need, need.own_m) if need.own_sku is not None else need


def with_own(need: Need, own_strand_m: float) -> Need:
    """Returns the need less so many metres of each strand that the customer holds."""
    if need.pattern_m is None:
        return need
    total = planning_m(need.pattern_m) + need.allowance_m
    in_skeins = in_skeins_m(need.pattern_m, need.allowance_percent)
    return replace(
        need,
        own_strand_m=own_strand_m,
        plan_m=max(0.0, total - own_strand_m),
        skein_m=max(0.0, in_skeins - own_strand_m),
        bare_m=max(0.0, likely_m(need.pattern_m) - own_strand_m),
    )


def meeting_sayings(
    need: Need, yarn: ShelfYarn, designer: DesignerYarn | None
) -> tuple[Message, ...]:
    """Returns that two yarns, or two lots of one, would meet in a part if this one is bought."""
    if not need.own_strand_m or not need.plan_m:
        return ()
    if need.own_sku == yarn.sku:
        return (message("needs.own_same_yarn", part=need.part),)
    alike = need.own_sku is None and _is_alike(yarn, designer)
    code = "needs.own_like_this" if alike else "needs.own_two_yarns"
    return (Message(code, {"part": need.part}),)


def _is_alike(yarn: ShelfYarn, designer: DesignerYarn | None) -> bool:
    """True where put-up and fibres are those of the yarn that the pattern names."""
    if designer is None or designer.put_up is None or not designer.fibres:
        return False
    same_fibres = set(designer.fibres) == set(yarn.label.fibres)
    return same_fibres and sold_put_up(yarn.label) == designer.put_up


def as_on_the_shelf(own: OwnYarn, yarn: ShelfYarn) -> OwnYarn:
    """Returns a yarn in hand with what the shop knows of it where nothing else was said."""
    label = yarn.label
    return replace(
        own,
        put_up=own.put_up or sold_put_up(label),
        fibres=own.fibres or label.fibres,
        attributes=own.attributes or label.attributes,
        care=own.care or label.care,
    )
