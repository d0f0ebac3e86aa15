"""Judges one house yarn for one ask: alone, in strands, or with a lace strand beside it."""

from collections.abc import Sequence
from dataclasses import dataclass

from shopdesk.answering.answer import Group, Target
from shopdesk.answering.ask import Ask, Feature, ItemKind, StitchPattern
from shopdesk.answering.care_view import is_openwork, label_traits
from shopdesk.answering.findings import Finding, rank, worst_group
from shopdesk.answering.held import MOST_STRANDS, Held, Known, held_alone, held_with
from shopdesk.answering.judge_crochet import crochet_findings
from shopdesk.answering.judge_knit import fabric_ratio, gauge_off, knit_findings
from shopdesk.answering.limits import limit
from shopdesk.craft.behaviour import ItemNeeds, Traits, consequences, traits
from shopdesk.craft.sayings import saying
from shopdesk.craft.yarn import Craft


@dataclass(frozen=True, slots=True)
class Judged:
    """How a yarn is best held for the ask, and everything found about it so."""

    known: Known
    held: Held
    findings: tuple[Finding, ...]

    @property
    def group(self) -> Group:
        """The group all findings leave to it."""
        return worst_group(self.findings)


def judged(ask: Ask, target: Target, known: Known, companions: Sequence[Known]) -> Judged:
    """Returns the best way to hold this yarn; fewer strands win where they do as well."""
    alone = _with_held(ask, target, known, held_alone(known.profile))
    size_suits = rank(_size_group(ask, target, known, alone.held)) <= rank(Group.WITH_A_CHANGE)
    if size_suits or not _is_finer(target, alone.held):
        return alone
    others = [
        _with_held(ask, target, known, held)
        for held in _other_ways(known, companions)
        if _fits_closely(ask, target, held)
    ]
    return min([alone, *others], key=lambda j: _preference(target, j))


def _is_finer(target: Target, held: Held) -> bool:
    """True if the yarn is finer than wanted, so that more strands could help."""
    off = gauge_off(target, held)
    if off is not None:
        return off > 0
    wanted, got = target.metres_per_100g, held.metres_per_100g
    return wanted is not None and got is not None and got.value > wanted.value


def _size_group(ask: Ask, target: Target, known: Known, held: Held) -> Group:
    return worst_group(_size_findings(ask, target, known, held))


def _other_ways(known: Known, companions: Sequence[Known]) -> list[Held]:
    strands = [held_alone(known.profile, n) for n in range(2, MOST_STRANDS + 1)]
    beside = [held_with(known.profile, c) for c in companions if c.yarn.sku != known.yarn.sku]
    return strands + beside


def _fits_closely(ask: Ask, target: Target, held: Held) -> bool:
    """Strands together are proposed only where they land near the target, not at its edge."""
    if ask.craft is Craft.CROCHET:
        wanted, got = target.metres_per_100g, held.metres_per_100g
        if wanted is None or got is None:
            return False
        return abs(got.value / wanted.value - 1) <= limit("crochet_tex_close")
    off = gauge_off(target, held)
    return off is not None and abs(off) <= limit("gauge_near")


def _preference(target: Target, one: Judged) -> tuple[int, int, float, str]:
    companion = one.held.companion
    off = gauge_off(target, one.held)
    ratio = fabric_ratio(target, one.held)
    distance = abs(off or 0.0) + abs((ratio or 1.0) - 1)
    return (
        rank(one.group),
        one.held.total_strands + (1 if companion else 0),
        round(distance, 9),
        companion.yarn.sku if companion else "",
    )


def _with_held(ask: Ask, target: Target, known: Known, held: Held) -> Judged:
    findings = (
        *_size_findings(ask, target, known, held),
        *_strand_findings(held),
        *_evidence_findings(known),
        *_behaviour_findings(ask, known),
    )
    return Judged(known, held, findings)


def _size_findings(ask: Ask, target: Target, known: Known, held: Held) -> tuple[Finding, ...]:
    if ask.craft is Craft.CROCHET:
        return crochet_findings(target, known.profile, held)
    return knit_findings(ask, target, held)


def _strand_findings(held: Held) -> list[Finding]:
    if held.companion is not None:
        said = saying("judging.with_companion", companion=held.companion.yarn.name)
        change = saying("judging.change_companion", companion=held.companion.yarn.name)
        return [Finding(Group.WITH_A_CHANGE, said, 8, change)]
    if held.strands > 1:
        said = saying("judging.strands_together", count=held.strands)
        change = saying("judging.change_strands", count=held.strands)
        return [Finding(Group.WITH_A_CHANGE, said, 5 + held.strands, change)]
    return []


def _evidence_findings(known: Known) -> list[Finding]:
    return [
        Finding(Group.SWATCH_FIRST, said, 3 - index / 10)
        for index, said in enumerate(known.profile.disagreements)
    ]


SEVERITY_GROUPS = {
    "blocks": (Group.NOT_FOR_THIS, 10.0),
    "warns": (Group.SWATCH_FIRST, 4.5),
    "notes": (Group.AS_IT_IS, 0.3),
}


def _behaviour_findings(ask: Ask, known: Known) -> list[Finding]:
    found: list[Finding] = []
    for consequence in consequences(label_traits(known.yarn.label), item_needs(ask)):
        group, weight = SEVERITY_GROUPS[consequence.severity]
        found.append(Finding(group, consequence.saying, weight))
    return found


def item_needs(ask: Ask) -> ItemNeeds:
    """Returns what this item asks of a yarn's behaviour."""
    pattern = ask.gauge.stitch_pattern if ask.gauge else None
    return ItemNeeds(
        ribs=Feature.RIBS in ask.features or pattern is StitchPattern.RIB,
        cables=Feature.CABLES in ask.features or pattern is StitchPattern.CABLES,
        long=Feature.LONG in ask.features or ask.item is ItemKind.DRESS,
        felted=ask.item is ItemKind.FELTED_BAG,
        openwork=is_openwork(ask),
        original=_original_traits(ask),
    )


def _original_traits(ask: Ask) -> Traits | None:
    designer = ask.designer_yarn
    if designer is None or not designer.fibres:
        return None
    return traits(designer.fibres, designer.attributes, designer.construction)
