"""One yarn's candidate: what was judged, with amounts, lots, price, tool and care."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace

from shopdesk.answering.judging.companions import StrandCombination
from shopdesk.answering.judging.grades import Reason, deciding_first, order_of, worst_group
from shopdesk.answering.judging.item_care import care_cautions, care_for
from shopdesk.answering.judging.judge import Judgement, Requirements, requirements
from shopdesk.answering.judging.ranking import (
    SortKey,
    Supplied,
    is_proposed,
    is_proposed_beside,
    price_of_a_metre,
    sort_key,
    supplied_by,
    washing_findings,
)
from shopdesk.answering.model.answer import (
    Candidate,
    Caution,
    Companion,
    Need,
    PartAmount,
    ShopTerms,
    StartTool,
    Suitability,
)
from shopdesk.answering.model.ask import Ask
from shopdesk.answering.profile.summary import ProfiledYarn
from shopdesk.answering.supply.amounts import (
    all_skeins,
    part_amounts,
    price_of,
    skeins_together,
)
from shopdesk.answering.supply.colour_supply import colour_supplies
from shopdesk.answering.supply.fabric_view import fabric_of
from shopdesk.answering.supply.needs import needs_of
from shopdesk.answering.supply.own_yarn import meeting_sayings, need_in
from shopdesk.answering.supply.start_tool import start_tool
from shopdesk.answering.supply.wishes import unmet_wish
from shopdesk.craft.counts import sold_put_up
from shopdesk.craft.messages import Message, message
from shopdesk.craft.money import in_minor
from shopdesk.craft.yarn import ShelfYarn

Shelf = Mapping[str, ProfiledYarn]
"""The yarns that were read in full, by SKU."""


@dataclass(frozen=True, slots=True)
class PreparedAsk:
    """What is sought, how much of it is needed, and the shop's terms.

    `original_cautions` are the codes of the cautions that the designer's yarn itself would have.
    """

    wanted: Requirements
    needs: tuple[Need, ...]
    terms: ShopTerms
    original_cautions: frozenset[str] = field(init=False)

    def __post_init__(self) -> None:
        object.__setattr__(self, "original_cautions", _original_cautions(self.wanted, self.terms))


def _original_cautions(wanted: Requirements, terms: ShopTerms) -> frozenset[str]:
    original = wanted.original
    if original is None or original.traits is None:
        return frozenset()
    known = care_cautions(wanted.ask, [original.wear_and_care], terms.country)
    return frozenset(one.code for one in known)


@dataclass(frozen=True, slots=True)
class RankedCandidate:
    """A candidate with its sort key, and the wish of the customer that it does not meet."""

    sort_key: SortKey
    candidate: Candidate
    unmet: Message | None

    @property
    def suits(self) -> bool:
        """False if it is not for the ask."""
        return self.candidate.group is not Suitability.NOT_FOR_THIS


def prepare(ask: Ask, terms: ShopTerms) -> PreparedAsk:
    """Returns what an ask seeks and needs."""
    needs = needs_of(ask, terms.allowance_percent, terms.country)
    return PreparedAsk(requirements(ask), needs, terms)


def rank_candidate(asked: PreparedAsk, verdict: Judgement, shelf: Shelf) -> RankedCandidate:
    """Returns one yarn's candidate and where it stands.

    What a wish rules out stands where it would without regard to stock.
    """
    candidate, ask = candidate_of(asked, verdict, shelf), asked.wanted.ask
    suits = candidate.group is not Suitability.NOT_FOR_THIS
    unmet = unmet_wish(candidate, ask) if suits else None
    yarn = shelf[candidate.sku].yarn
    put_up, minor = sold_put_up(yarn.label), _in_minor(yarn, asked)
    price = price_of_a_metre(minor, put_up.metres if put_up else None, candidate.strands)
    key = sort_key(
        verdict.findings,
        candidate.care.differences,
        cautions_beyond(asked, candidate.cautions),
        candidate.sku,
        verdict.unlike,
        supplied_by(candidate, price) if unmet is None else Supplied(price=price),
    )
    found = RankedCandidate(key, candidate, unmet)
    if suits and not is_proposed(key, wide=True):
        return _too_unlike(found)
    return found


def few_and_right(asked: PreparedAsk, line: Sequence[RankedCandidate]) -> list[RankedCandidate]:
    """Returns the yarns, given the best first, that are proposed beside each other.

    Those that are not for the ask stay among them, to be told why.
    """
    found: list[RankedCandidate] = []
    best: SortKey | None = None
    ruled_out = asked.wanted.original_ruled_out
    for one in line:
        if one.suits and not is_proposed_beside(one.sort_key, best, ruled_out):
            continue
        if one.suits and one.unmet is None:
            best = best or one.sort_key
        found.append(one)
    return found


def _too_unlike(one: RankedCandidate) -> RankedCandidate:
    group = Suitability.NOT_FOR_THIS
    reasons = (message("judging.too_unlike"), *one.candidate.reasons)
    without = replace(one.candidate, change=None, also_change=(), start_tool=None)
    candidate = replace(without, group=group, reasons=reasons)
    return RankedCandidate(one.sort_key._replace(group=order_of(group)), candidate, None)


def _in_minor(yarn: ShelfYarn, asked: PreparedAsk) -> int:
    """Returns a skein's price in minor units of the shop's currency."""
    return int(in_minor(yarn.price, asked.terms.currency))


def cautions_beyond(asked: PreparedAsk, cautions: Sequence[Caution]) -> list[Caution]:
    """Returns the cautions that the original would not have had, which alone cost a place."""
    return [one for one in cautions if one.code not in asked.original_cautions]


def candidate_of(asked: PreparedAsk, verdict: Judgement, shelf: Shelf) -> Candidate:
    """Returns one yarn's candidate; the yarn and its companion are taken from `shelf`."""
    wanted, held, known = asked.wanted, verdict.held, shelf[verdict.yarn.sku]
    ask, yarn, profile = wanted.ask, known.yarn, known.profile
    amounts = _amounts(asked, known, held)
    strands = [one.wear_and_care for one in (verdict.yarn, held.companion) if one is not None]
    careful = care_for(ask, strands, asked.terms.country)
    findings = [*verdict.findings, *washing_findings(careful.view.differences)]
    ordered, group = deciding_first(findings), worst_group(findings)
    changes = _changes(ordered)
    return Candidate(
        sku=yarn.sku,
        name=yarn.name,
        weight_name=yarn.label.weight_name,
        group=group,
        strands=held.strands,
        companion=_companion(asked, held, shelf, yarn.sku),
        profile=profile,
        reasons=tuple(f.said for f in ordered),
        change=changes[0] if changes else None,
        start_tool=_start(group, ask, known, held),
        fabric=fabric_of(ask, wanted.target, profile, held, asked.needs),
        amounts=tuple(_with_meeting(amount, yarn, ask) for amount in amounts),
        colours=colour_supplies(yarn, amounts, ask.wishes, asked.terms.branch),
        price=price_of(yarn, all_skeins(amount.skeins for amount in amounts), asked.terms),
        care=careful.view,
        cautions=careful.cautions,
        also_change=changes[1:],
    )


def _amounts(
    asked: PreparedAsk, known: ProfiledYarn, held: StrandCombination
) -> tuple[PartAmount, ...]:
    """Returns how much of the yarn each part takes."""
    yarn, tex = known.yarn, known.profile.tex
    beside = held.companion.sku if held.companion else None
    needs = tuple(need_in(need, yarn.sku, held.strands, beside) for need in asked.needs)
    return part_amounts(needs, sold_put_up(yarn.label), held.strands, tex.value if tex else None)


def _start(
    group: Suitability, ask: Ask, known: ProfiledYarn, held: StrandCombination
) -> StartTool | None:
    """Returns the tool to start a swatch with; None for a yarn that is not for the ask."""
    suits = group is not Suitability.NOT_FOR_THIS
    return start_tool(ask, known.yarn, known.profile, held) if suits else None


def _changes(ordered: Sequence[Reason]) -> tuple[Message, ...]:
    """Returns every change that the findings ask for, each once, the gravest first."""
    return tuple(dict.fromkeys(one.change for one in ordered if one.change is not None))


def _with_meeting(amount: PartAmount, yarn: ShelfYarn, ask: Ask) -> PartAmount:
    met = meeting_sayings(amount.need, yarn, ask.designer_yarn)
    return replace(amount, why=(*amount.why, *met)) if met else amount


def _companion(
    asked: PreparedAsk, held: StrandCombination, shelf: Shelf, main: str
) -> Companion | None:
    if held.companion is None:
        return None
    known = shelf[held.companion.sku]
    yarn, profile = known.yarn, known.profile
    tex = profile.tex.value if profile.tex else None
    needs = tuple(need_in(need, yarn.sku, 1, main) for need in asked.needs)
    amounts = part_amounts(needs, sold_put_up(yarn.label), 1, tex)
    ball = sold_put_up(yarn.label)
    counts = skeins_together(amounts, ball.metres if ball else None)
    skeins = all_skeins(counts or ())
    return Companion(yarn.sku, yarn.name, skeins, price_of(yarn, skeins, asked.terms))
