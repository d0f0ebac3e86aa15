"""How the item made of a yarn may be washed, and what that changes for this customer."""

from collections.abc import Sequence
from dataclasses import dataclass

from shopdesk.answering.model.answer import Caution, ItemCare
from shopdesk.answering.model.ask import Ask, Feature
from shopdesk.answering.profile.summary import WearAndCare, together
from shopdesk.craft.care import care_sayings
from shopdesk.craft.cautions import Possible, cautions_for, possible_cautions
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
    """Returns where the strands together do not stand what this customer will do to the item."""
    behaviour = tuple(one.traits for one in strands)
    washed = wash_differences(
        together(strands)[0],
        ask.washing.value,
        ask.drying.value,
        ask.wearer.value,
        ask.item.value,
        any_of(behaviour),
    )
    light_and_dark = Feature.LIGHT_AND_DARK in ask.features
    return (*washed, *mixed_messages((), [one.felts for one in behaviour], light_and_dark))


def care_cautions(ask: Ask, strands: Sequence[WearAndCare], country: str) -> tuple[Caution, ...]:
    """Returns what this customer is told, what is most pressing first."""
    care, by_default = together(strands)
    yarn = any_of(tuple(one.traits for one in strands))
    return tuple(
        Caution(text.code, text.message, text.law, text.where, text.by_whom, text.flag)
        for text in cautions_for(*_words_of(ask), care, yarn, country, by_default)
    )


def possible(ask: Ask, country: str) -> tuple[Possible, ...]:
    """Returns the cautions that the ask's item has with one yarn or another."""
    return possible_cautions(*_words_of(ask), country)


def _words_of(ask: Ask) -> tuple[str, str, frozenset[str], bool]:
    """Item, wearer, features and openwork, as cautions take them."""
    features = {feature.value for feature in ask.features}
    if has_floats(ask):
        features.add(Feature.FLOATS_INSIDE.value)
    return ask.item.value, ask.wearer.value, frozenset(features), is_openwork(ask)


def is_openwork(ask: Ask) -> bool:
    """True if the item's fabric is open lace."""
    return ask.gauge is not None and pattern_fabric(ask.gauge.stitch_pattern).openwork


def has_floats(ask: Ask) -> bool:
    """True if strands run loose on the inside."""
    by_pattern = ask.gauge is not None and pattern_fabric(ask.gauge.stitch_pattern).strands_inside
    return by_pattern or Feature.FLOATS_INSIDE in ask.features
