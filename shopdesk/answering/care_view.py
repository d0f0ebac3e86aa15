"""How the item made of a yarn may be washed, and what that changes for this customer."""

from dataclasses import dataclass

from shopdesk.answering.answer import CareView, Caution
from shopdesk.answering.ask import Ask, Feature, StitchPattern
from shopdesk.craft.behaviour import Traits, traits
from shopdesk.craft.care import care_sayings, gentler, usual_care
from shopdesk.craft.cautions import cautions_for
from shopdesk.craft.colour_run import mixed_sayings
from shopdesk.craft.sayings import Saying
from shopdesk.craft.washing import any_of, care_changes, wash_differences
from shopdesk.craft.yarn import CareLabel, LabelFacts, ShelfYarn


@dataclass(frozen=True, slots=True)
class Careful:
    """Care and cautions of one yarn (with its companion) for one ask."""

    view: CareView
    cautions: tuple[Caution, ...]


def label_care(label: LabelFacts) -> tuple[CareLabel, bool]:
    """Returns the band's care, or the fibre's usual care and True where the band says nothing."""
    if label.care is not None:
        return label.care, False
    return usual_care(label.fibres, label.attributes), True


def label_traits(label: LabelFacts) -> Traits:
    """Returns how a yarn with this label behaves."""
    return traits(label.fibres, label.attributes, label.construction)


def care_for(ask: Ask, yarn: ShelfYarn, companion: ShelfYarn | None, country: str) -> Careful:
    """Returns care and cautions; two strands combine axis by axis to the gentler treatment."""
    care, by_default = label_care(yarn.label)
    strands = [label_traits(one.label) for one in (yarn, companion) if one is not None]
    if companion is not None:
        other, other_default = label_care(companion.label)
        care, by_default = gentler(care, other), by_default or other_default
    original = ask.designer_yarn.care if ask.designer_yarn else None
    view = CareView(
        label=care,
        by_default=by_default,
        words=care_sayings(care, by_default),
        differences=_differences(ask, strands, care),
        changes=care_changes(original, care),
    )
    return Careful(view, _cautions(ask, any_of(strands), care, by_default, country))


def _differences(ask: Ask, strands: list[Traits], care: CareLabel) -> tuple[Saying, ...]:
    washed = wash_differences(
        care,
        ask.washing.value,
        ask.drying.value,
        ask.wearer.value,
        ask.item.value,
        any_of(strands),
    )
    light_and_dark = Feature.LIGHT_AND_DARK in ask.features
    return (*washed, *mixed_sayings((), [one.felts for one in strands], light_and_dark))


def _cautions(
    ask: Ask, yarn: Traits, care: CareLabel, by_default: bool, country: str
) -> tuple[Caution, ...]:
    features = {feature.value for feature in ask.features}
    if has_floats(ask):
        features.add(Feature.FLOATS_INSIDE.value)
    texts = cautions_for(
        ask.item.value,
        ask.wearer.value,
        frozenset(features),
        is_openwork(ask),
        care,
        yarn,
        country,
        by_default,
    )
    return tuple(
        Caution(text.code, text.saying, text.law, text.where, text.by_whom, text.flag)
        for text in texts
    )


def is_openwork(ask: Ask) -> bool:
    """True if the item's fabric is open lace."""
    pattern = ask.gauge.stitch_pattern if ask.gauge else None
    return pattern in (StitchPattern.LACE, StitchPattern.OPENWORK_CROCHET)


def has_floats(ask: Ask) -> bool:
    """True if strands run loose on the inside."""
    pattern = ask.gauge.stitch_pattern if ask.gauge else None
    return Feature.FLOATS_INSIDE in ask.features or pattern is StitchPattern.STRANDED
