"""Judges one house yarn for one ask: alone, in strands, or with a lace strand beside it."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from shopdesk.answering.judging.companions import (
    MOST_STRANDS,
    Companions,
    StrandCombination,
    held_alone,
    held_with,
)
from shopdesk.answering.judging.grades import Grade, Reason, grade, order_of, worst_group
from shopdesk.answering.judging.item_care import is_openwork
from shopdesk.answering.judging.judge_crochet import crochet_findings
from shopdesk.answering.judging.judge_knit import fabric_ratio, gauge_off, knit_findings
from shopdesk.answering.judging.requirements import target_of
from shopdesk.answering.model.answer import Suitability, Target
from shopdesk.answering.model.ask import Ask, Feature
from shopdesk.answering.profile.summary import YarnSummary
from shopdesk.answering.thresholds import Window, threshold
from shopdesk.craft.behaviour import ItemNeeds, Traits, consequences, traits
from shopdesk.craft.fabric import pattern_fabric
from shopdesk.craft.items import item_models
from shopdesk.craft.messages import message
from shopdesk.craft.yarn import Craft


@dataclass(frozen=True, slots=True)
class Requirements:
    """An ask with what follows from it for every yarn, worked out once."""

    ask: Ask
    target: Target
    item: ItemNeeds


@dataclass(frozen=True, slots=True)
class Judgement:
    """How a yarn is best held for the ask, and everything found about it so."""

    yarn: YarnSummary
    held: StrandCombination
    findings: tuple[Reason, ...]

    @property
    def group(self) -> Suitability:
        """The group all findings leave to it."""
        return worst_group(self.findings)


def requirements(ask: Ask) -> Requirements:
    """Returns what a yarn is judged against."""
    return Requirements(ask, target_of(ask), item_needs(ask))


def judge_one(wanted: Requirements, yarn: YarnSummary, companions: Companions) -> Judgement:
    """Returns the best way to hold this yarn; fewer strands win where they do as well.

    More strands are looked at only where they can help: for a yarn that is finer than wanted,
    and by its size alone not for this.
    """
    always = (
        *_evidence_findings(yarn),
        *behaviour_findings(wanted.item, yarn.wear_and_care.traits),
    )
    held = held_alone(yarn)
    sized = _size_findings(wanted, yarn, held)
    alone = Judgement(yarn, held, (*sized, *always))
    never = worst_group(always) is Suitability.NOT_FOR_THIS
    if never or worst_group(sized) is not Suitability.NOT_FOR_THIS or not _is_finer(wanted, held):
        return alone
    strands = [held_alone(yarn, n) for n in range(2, MOST_STRANDS + 1)]
    ways = [_with_held(wanted, yarn, way, always) for way in strands if _fits_closely(wanted, way)]
    beside = _beside(wanted, yarn, companions, always)
    return min([alone, *ways, *beside], key=lambda j: _preference(wanted.target, j))


def _is_finer(wanted: Requirements, held: StrandCombination) -> bool:
    """True if the yarn is finer than wanted, so that more strands could help."""
    off = gauge_off(wanted.target, held)
    if off is not None:
        return off > 0
    length, got = wanted.target.metres_per_100g, held.metres_per_100g
    return length is not None and got is not None and got.value > length.value


def _fits_closely(wanted: Requirements, held: StrandCombination) -> bool:
    """Strands together are proposed only where they land near the target, not at its edge."""
    if wanted.ask.craft is Craft.CROCHET:
        near, got = near_tex(wanted), held.tex
    else:
        near, got = near_gauge(wanted), held.stitches
    return near is not None and got is not None and near[0] <= got.value <= near[1]


def near_gauge(wanted: Requirements) -> Window | None:
    """Returns the gauge at which strands of a knitted pattern land near its target."""
    natural = wanted.target.natural_stitches
    if natural is None:
        return None
    share = threshold("gauge_near")
    return natural.value * (1 - share), natural.value * (1 + share)


def near_tex(wanted: Requirements) -> Window | None:
    """Returns the tex at which strands of a crocheted pattern land near its target."""
    length = wanted.target.metres_per_100g
    if length is None:
        return None
    share = threshold("crochet_tex_close")
    return 100_000 / (length.value * (1 + share)), 100_000 / (length.value * (1 - share))


def _beside(
    wanted: Requirements, yarn: YarnSummary, companions: Companions, always: Sequence[Reason]
) -> Iterator[Judgement]:
    """Yields the yarn with the nearest companion that will do, if there is one."""
    others = [one for one in _that_may_fit(wanted, yarn, companions) if one.sku != yarn.sku]
    ways = [way for way in (held_with(yarn, one) for one in others) if _fits_closely(wanted, way)]
    for way in sorted(ways, key=lambda way: (_distance(wanted.target, way), _companion_sku(way))):
        found = _with_held(wanted, yarn, way, always)
        if found.group is not Suitability.NOT_FOR_THIS:
            yield found
            return


def _that_may_fit(
    wanted: Requirements, yarn: YarnSummary, companions: Companions
) -> list[YarnSummary]:
    if wanted.ask.craft is Craft.CROCHET:
        thick = near_tex(wanted)
        # A yarn is finer than wanted only where both lengths are known.
        assert yarn.tex is not None
        assert thick is not None
        return companions.to_tex(yarn.tex.value, thick)
    near, own = near_gauge(wanted), yarn.natural_stitches
    return companions.to_gauge(own.value, near) if own and near else []


def _preference(target: Target, one: Judgement) -> tuple[int, int, float, str]:
    return (
        order_of(one.group),
        one.held.total_strands + (1 if one.held.companion else 0),
        _distance(target, one.held),
        _companion_sku(one.held),
    )


def _companion_sku(held: StrandCombination) -> str:
    return held.companion.sku if held.companion else ""


def _distance(target: Target, held: StrandCombination) -> float:
    """How far gauge and fabric are off as shares, to a billionth; what is unknown adds nothing."""
    off, ratio = gauge_off(target, held), fabric_ratio(target, held)
    apart = (off, None if ratio is None else ratio - 1)
    return round(sum(abs(share) for share in apart if share is not None), 9)


def _with_held(
    wanted: Requirements, yarn: YarnSummary, held: StrandCombination, always: Sequence[Reason]
) -> Judgement:
    findings = (*_size_findings(wanted, yarn, held), _strand_finding(held), *always)
    return Judgement(yarn, held, findings)


def _size_findings(
    wanted: Requirements, yarn: YarnSummary, held: StrandCombination
) -> tuple[Reason, ...]:
    if wanted.ask.craft is Craft.CROCHET:
        return crochet_findings(wanted.target, yarn, held)
    return knit_findings(wanted.ask, wanted.target, held)


def _strand_finding(held: StrandCombination) -> Reason:
    if held.companion is not None:
        said = message("judging.with_companion", companion=held.companion.name)
        change = message("judging.change_companion", companion=held.companion.name)
        group, weight = grade("companion")
    else:
        said = message("judging.strands_together", count=held.strands)
        change = message("judging.change_strands", count=held.strands)
        group, weight = grade("strands", held.strands)
    return Reason(group, said, weight, change)


def _evidence_findings(yarn: YarnSummary) -> Iterator[Reason]:
    for said, (group, weight) in zip(yarn.doubts, doubt_grades(len(yarn.doubts)), strict=True):
        yield Reason(group, said, weight)


def doubt_grades(doubts: int) -> list[Grade]:
    """Returns the grade of each of so many disagreements of the evidence on a yarn."""
    return [grade("doubt", index / 10) for index in range(doubts)]


def behaviour_findings(item: ItemNeeds, behaviour: Traits) -> Iterator[Reason]:
    """Yields what follows for the item from how the yarn behaves."""
    for consequence in consequences(behaviour, item):
        group, weight = grade(f"behaviour_{consequence.severity}")
        yield Reason(group, consequence.message, weight)


def item_needs(ask: Ask) -> ItemNeeds:
    """Returns what this item asks of a yarn's behaviour."""
    fabric = pattern_fabric(ask.gauge.stitch_pattern) if ask.gauge else None
    model = item_models().get(ask.item)
    return ItemNeeds(
        ribs=Feature.RIBS in ask.features or (fabric is not None and fabric.ribs),
        cables=Feature.CABLES in ask.features or (fabric is not None and fabric.cables),
        long=Feature.LONG in ask.features or (model is not None and model.long),
        felted=model is not None and model.felted,
        openwork=is_openwork(ask),
        original=_original_traits(ask),
    )


def _original_traits(ask: Ask) -> Traits | None:
    designer = ask.designer_yarn
    if designer is None or not designer.fibres:
        return None
    return traits(designer.fibres, designer.attributes, designer.construction)
