"""How the item made of a yarn may be washed, and what that changes for this customer."""

from collections.abc import Sequence
from dataclasses import dataclass

from shopdesk.answering.judging.ranking import NOT_STOOD
from shopdesk.answering.model.answer import Caution, ItemCare
from shopdesk.answering.model.ask import Ask, Feature
from shopdesk.answering.model.asked_wearer import wearer_of
from shopdesk.answering.profile.summary import WearAndCare, together
from shopdesk.craft.care import care_sayings
from shopdesk.craft.cautions import (
    Possible,
    WornItem,
    YarnFacts,
    cautions_for,
    possible_cautions,
    said_again,
)
from shopdesk.craft.colours import mixed_messages
from shopdesk.craft.fabric import pattern_fabric
from shopdesk.craft.messages import Message
from shopdesk.craft.washing import any_of, care_changes, wash_differences


@dataclass(frozen=True, slots=True)
class CareAndCautions:
    """Care and cautions of one yarn (with its companion) for one ask."""

    view: ItemCare
    cautions: tuple[Caution, ...]


def care_for(ask: Ask, strands: Sequence[WearAndCare], country: str) -> CareAndCautions:
    """Returns care and cautions; two strands combine axis by axis to the gentler treatment."""
    care, by_default = together(strands)
    original = ask.designer_yarn.care if ask.designer_yarn else None
    view = ItemCare(
        label=care,
        by_default=by_default,
        words=care_sayings(care, by_default),
        differences=care_differences(ask, strands),
        changes=care_changes(original, care),
    )
    return CareAndCautions(view, care_cautions(ask, strands, country))


def care_differences(ask: Ask, strands: Sequence[WearAndCare]) -> tuple[Message, ...]:
    """Returns where the strands together do not stand what this customer will do to the item.

    What one strand does not stand spoils both, also where nothing is known of the other's care.
    """
    washed = _washed(ask, strands)
    alone = [said for one in strands for said in _washed(ask, [one])] if len(strands) > 1 else []
    spoiling = {said.code: said for said in alone if said.code in NOT_STOOD}
    if spoiling:
        known = {said.code: said for said in washed if not said.code.endswith("not_known")}
        washed = tuple({**known, **spoiling}.values())
    light_and_dark = Feature.LIGHT_AND_DARK in ask.features
    felts = [one.traits.felts for one in strands]
    return (*washed, *mixed_messages((), felts, light_and_dark))


def _washed(ask: Ask, strands: Sequence[WearAndCare]) -> tuple[Message, ...]:
    return wash_differences(
        together(strands)[0],
        ask.washing.value,
        ask.drying.value,
        wearer_of(ask).wearer,
        ask.item.value,
        any_of(tuple(one.traits for one in strands)),
    )


def care_cautions(ask: Ask, strands: Sequence[WearAndCare], country: str) -> tuple[Caution, ...]:
    """Returns what this customer is told, what is most pressing first."""
    care, by_default = together(strands)
    yarn = YarnFacts(care, by_default, any_of(tuple(one.traits for one in strands)))
    return tuple(
        Caution(text.code, text.message, text.law, text.where, text.by_whom, text.flag, text.topic)
        for text in cautions_for(worn_item(ask), yarn, country)
    )


def differences_left(care: ItemCare, cautions: Sequence[Caution]) -> tuple[Message, ...]:
    """Returns the differences in washing that no caution tells already."""
    again = frozenset(code for one in cautions for code in said_again(one.code))
    return tuple(said for said in care.differences if said.code not in again)


def possible(ask: Ask, country: str) -> tuple[Possible, ...]:
    """Returns the cautions that the ask's item has with one yarn or another."""
    return possible_cautions(worn_item(ask), country)


def worn_item(ask: Ask) -> WornItem:
    """Returns the item and who wears it, as cautions take them; the wearer may follow."""
    features = {feature.value for feature in ask.features}
    if has_floats(ask):
        features.add(Feature.FLOATS_INSIDE.value)
    who = wearer_of(ask)
    return WornItem(
        item=ask.item.value,
        wearer=who.wearer,
        features=frozenset(features),
        openwork=is_openwork(ask),
        under_three=who.under_three,
        may_be_a_baby=who.may_be_a_baby,
    )


def is_openwork(ask: Ask) -> bool:
    """True if the item's fabric is open lace."""
    return ask.gauge is not None and pattern_fabric(ask.gauge.stitch_pattern).openwork


def has_floats(ask: Ask) -> bool:
    """True if strands run loose on the inside."""
    by_pattern = ask.gauge is not None and pattern_fabric(ask.gauge.stitch_pattern).strands_inside
    return by_pattern or Feature.FLOATS_INSIDE in ask.features
