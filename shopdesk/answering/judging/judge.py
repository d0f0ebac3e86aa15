"""Judges one house yarn for one ask: alone, in strands, or with a lace strand beside it."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from functools import cache

from shopdesk.answering.judging.companions import (
    MOST_STRANDS,
    Companions,
    StrandCombination,
    held_alone,
    held_with,
)
from shopdesk.answering.judging.grades import Grade, Reason, grade, order_of, worst_group
from shopdesk.answering.judging.item_care import has_floats, is_openwork, worn_item
from shopdesk.answering.judging.judge_crochet import crochet_findings
from shopdesk.answering.judging.judge_knit import fabric_ratio, gauge_off, knit_findings
from shopdesk.answering.judging.original import (
    Original,
    is_the_original,
    make_findings,
    original_of,
    unlike_original,
    washed_as_asked,
)
from shopdesk.answering.judging.requirements import target_of
from shopdesk.answering.model.answer import Suitability, Target
from shopdesk.answering.model.ask import Ask, Feature
from shopdesk.answering.profile.summary import YarnSummary
from shopdesk.answering.thresholds import Window, threshold
from shopdesk.craft.behaviour import Traits
from shopdesk.craft.cautions import WornItem
from shopdesk.craft.fabric import pattern_fabric
from shopdesk.craft.items import item_models
from shopdesk.craft.messages import Message, message
from shopdesk.craft.wants import UNDER_THREE, ItemNeeds, Severity, consequences, needs_of_item
from shopdesk.craft.yarn import Craft

COMPARED_AT_ONCE = 24
"""So many companions of one yarn are held against each other before farther ones are."""


@dataclass(frozen=True, slots=True)
class Requirements:
    """An ask with what follows from it for every yarn, worked out once.

    `original_ruled_out` says that washing, item, wearer or wishes speak against the original.
    """

    ask: Ask
    target: Target
    item: ItemNeeds
    original: Original | None
    original_ruled_out: bool = False

    @property
    def strands(self) -> int:
        """How many strands the pattern holds together."""
        return self.original.strands if self.original is not None else 1


@dataclass(frozen=True, slots=True)
class Judgement:
    """How a yarn is best held for the ask, and everything found about it so.

    `unlike` says how far it is from the original by what both state, for the order.
    """

    yarn: YarnSummary
    held: StrandCombination
    findings: tuple[Reason, ...]
    unlike: float = 0.0

    @property
    def group(self) -> Suitability:
        """The group all findings leave to it."""
        return worst_group(self.findings)


def requirements(ask: Ask) -> Requirements:
    """Returns what a yarn is judged against; the target says where the original itself fails."""
    target, original, item = target_of(ask), original_of(ask), item_needs(ask)
    found = list(_against_original(ask, item, original))
    against = [said for group, said in found if group is Suitability.NOT_FOR_THIS]
    lacking = [said for group, said in found if group is not Suitability.AS_IT_IS]
    if lacking:
        of_it = "judging.original_ruled_out" if against else "judging.original_lacks"
        target = replace(target, why=(*target.why, Message(of_it), *(against or lacking)))
    ruled_out = bool(against) or _is_avoided(ask)
    return Requirements(ask, target, item, original, ruled_out)


def _is_avoided(ask: Ask) -> bool:
    """True if the customer avoids a fibre of the designer's yarn."""
    yarn = ask.designer_yarn
    fibres = {share.fibre for share in yarn.fibres} if yarn is not None else set()
    return bool(fibres & ask.wishes.avoid_fibres)


def _against_original(
    ask: Ask, item: ItemNeeds, original: Original | None
) -> Iterator[tuple[Suitability, Message]]:
    """Yields what washing, item and wearer say of the designer's yarn, and what that leaves it."""
    if original is not None and original.traits is not None:
        yield from washed_as_asked(ask, original)
        yield from ((one.group, one.said) for one in behaviour_findings(item, original.traits))


def judge_one(wanted: Requirements, yarn: YarnSummary, companions: Companions) -> Judgement:
    """Returns the best way to hold this yarn: as many strands as the pattern's, if they do.

    Other numbers of strands are looked at only where they can help: for a yarn that is by its size
    not for this. What the pattern states and this yarn too is the designer's yarn, and then only
    item, wearer and washing can speak against it.
    """
    behaving = tuple(behaviour_findings(wanted.item, yarn.wear_and_care.traits))
    held = held_alone(yarn, wanted.strands)
    if is_the_original(wanted.target, wanted.original, yarn, held):
        return Judgement(yarn, held, (_same_facts(), *behaving), -threshold("is_the_original"))
    made = make_findings(wanted.original, yarn.wear_and_care.make)
    always = (*_evidence_findings(wanted, yarn), *behaving, *made)
    sized = _size_findings(wanted, yarn, held)
    as_held = _judged(wanted, yarn, held, (*sized, *always))
    never = worst_group(always) is Suitability.NOT_FOR_THIS
    if never or worst_group(sized) is not Suitability.NOT_FOR_THIS:
        return as_held
    numbers = _other_strands(wanted, held)
    strands = [held_alone(yarn, n) for n in numbers]
    ways = [_with_held(wanted, yarn, way, always) for way in strands if _fits_closely(wanted, way)]
    finer = max(numbers, default=0) > held.strands
    beside = _beside(wanted, yarn, companions, always) if finer else ()
    found: list[Judgement] = [as_held, *ways, *beside]
    return min(found, key=lambda j: _preference(wanted.target, j))


def _same_facts() -> Reason:
    group, weight = grade("same_facts")
    return Reason(group, message("judging.same_facts"), weight)


def _other_strands(wanted: Requirements, held: StrandCombination) -> list[int]:
    """Returns how many strands could help: more of a yarn that is finer than wanted, or fewer."""
    if _is_finer(wanted, held):
        return list(range(held.strands + 1, MOST_STRANDS + 1))
    return list(range(1, held.strands))


def _judged(
    wanted: Requirements,
    yarn: YarnSummary,
    held: StrandCombination,
    findings: tuple[Reason, ...],
) -> Judgement:
    stitches = held.stitches.value if held.stitches else None
    length = held.metres_per_100g
    metres = length.value if length else None
    make = yarn.wear_and_care.make
    unlike = unlike_original(wanted.target, wanted.original, stitches, metres, make)
    return Judgement(yarn, held, findings, unlike)


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
    """Yields the yarn with a companion that will do, of those nearest by gauge or tex first."""
    others = [one for one in _that_may_fit(wanted, yarn, companions) if one.sku != yarn.sku]
    for start in range(0, len(others), COMPARED_AT_ONCE):
        together = (held_with(yarn, one) for one in others[start : start + COMPARED_AT_ONCE])
        ways = [way for way in together if _fits_closely(wanted, way)]
        ways.sort(key=lambda way: (_distance(wanted.target, way), _companion_sku(way)))
        for way in ways:
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
    if held.companion is not None:
        findings = _graver_of_each([*findings, *_brought_along(wanted, held.companion)])
    return _judged(wanted, yarn, held, findings)


def _brought_along(wanted: Requirements, companion: YarnSummary) -> Iterator[Reason]:
    """Yields what a companion brings to the fabric."""
    worn = companion.wear_and_care
    yield from behaviour_findings(wanted.item, worn.traits)
    yield from make_findings(wanted.original, worn.make)


def _graver_of_each(findings: Sequence[Reason]) -> tuple[Reason, ...]:
    """Returns the findings, of two that say the same the graver one."""
    by_code: dict[str, Reason] = {}
    for one in findings:
        known = by_code.get(one.said.code)
        if known is None or (order_of(one.group), one.weight) > (
            order_of(known.group),
            known.weight,
        ):
            by_code[one.said.code] = one
    return tuple(by_code.values())


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


def _evidence_findings(wanted: Requirements, yarn: YarnSummary) -> Iterator[Reason]:
    """Yields the disagreements of its evidence, but for those that the original has too."""
    known = wanted.original.doubts if wanted.original is not None else frozenset()
    doubts = [said for said in yarn.doubts if said.code not in known]
    for said, (group, weight) in zip(doubts, doubt_grades(len(doubts)), strict=True):
        yield Reason(group, said, weight)


def doubt_grades(doubts: int) -> list[Grade]:
    """Returns the grade of each of so many disagreements of the evidence on a yarn."""
    return [grade("doubt", index / 10) for index in range(doubts)]


@cache
def _behaviour_grade(severity: Severity, steps: int) -> Grade:
    return grade(f"behaviour_{severity}", steps)


def behaviour_findings(item: ItemNeeds, behaviour: Traits) -> Iterator[Reason]:
    """Yields what follows for the item from how the yarn behaves."""
    for consequence in consequences(behaviour, item):
        group, weight = _behaviour_grade(consequence.severity, consequence.steps)
        yield Reason(group, consequence.message, weight)


def item_needs(ask: Ask) -> ItemNeeds:
    """Returns what this item asks of a yarn's behaviour."""
    original = original_of(ask)
    pattern = ask.gauge.stitch_pattern.value if ask.gauge else None
    worn = worn_item(ask)
    named = needs_of_item(ask.item.value, _wearers(worn), _features(ask, worn), pattern)
    return ItemNeeds(named, original.traits if original is not None else None)


def _wearers(worn: WornItem) -> tuple[str, ...]:
    return (worn.wearer, UNDER_THREE) if worn.under_three else (worn.wearer,)


def _features(ask: Ask, worn: WornItem) -> frozenset[str]:
    """The features that are named, and those that follow from item, stitch pattern and wearer."""
    fabric = pattern_fabric(ask.gauge.stitch_pattern) if ask.gauge else None
    model = item_models().get(ask.item)
    follows = {
        "ribs": fabric is not None and fabric.ribs,
        "cables": fabric is not None and fabric.cables,
        "long": model is not None and model.long,
        "felted": model is not None and model.felted,
        "openwork": is_openwork(ask),
        "floats inside": has_floats(ask),
        "child's nightwear": Feature.NIGHTWEAR in ask.features and worn.may_be_a_child,
    }
    named = {feature.value for feature in ask.features}
    return frozenset(named | {name for name, so in follows.items() if so})
