"""From an ask and the shelf's yarns to the answer: profile, judge, count, price, put in order."""

from collections.abc import Iterable, Sequence

from shopdesk.answering.amounts import part_amounts
from shopdesk.answering.answer import Answer, Candidate, Caution, Companion, Group, Need, Target
from shopdesk.answering.ask import Ask
from shopdesk.answering.care_view import care_for
from shopdesk.answering.colours import colour_choices
from shopdesk.answering.fabric_view import fabric_of
from shopdesk.answering.findings import Finding, deciding_first, rank, worst_group
from shopdesk.answering.held import Held, Known
from shopdesk.answering.judging import Judged, judged
from shopdesk.answering.needs import needs_of
from shopdesk.answering.pricing import price_of
from shopdesk.answering.profile import shelf_profile
from shopdesk.answering.start_tool import start_tool
from shopdesk.answering.target import target_of
from shopdesk.answering.terms import ShopTerms
from shopdesk.answering.unknowns import unknowns_of
from shopdesk.answering.wishes import avoided_fibre, counted, unmet_wish
from shopdesk.craft.counts import sold_put_up
from shopdesk.craft.sayings import Saying, saying
from shopdesk.craft.yarn import ShelfYarn

LACE_METRES_PER_100G = 500.0


def answer(ask: Ask, yarns: Iterable[ShelfYarn], terms: ShopTerms) -> Answer:
    """Returns the whole answer; it does not depend on the order of `yarns`."""
    target, needs = target_of(ask), needs_of(ask, terms.allowance_percent)
    taken: list[tuple[Saying, str]] = []
    known: list[Known] = []
    for yarn in sorted(yarns, key=lambda y: y.sku):
        avoided = avoided_fibre(yarn, ask.wishes)
        if avoided is not None:
            taken.append((avoided, yarn.sku))
        else:
            known.append(Known(yarn, shelf_profile(yarn)))
    companions = [one for one in known if is_companion(one)]
    candidates: list[tuple[Judged, Candidate]] = []
    for one in known:
        verdict = judged(ask, target, one, companions)
        candidate = candidate_of(ask, target, needs, verdict, terms)
        unmet = unmet_wish(candidate, ask) if candidate.group is not Group.NOT_FOR_THIS else None
        if unmet is not None:
            taken.append((unmet, one.yarn.sku))
        else:
            candidates.append((verdict, candidate))
    ordered = tuple(c for _, c in sorted(candidates, key=lambda pair: _order(*pair)))
    return Answer(
        title=ask.title,
        target=target,
        needs=needs,
        candidates=ordered,
        ruled_out=counted(taken),
        unknown=unknowns_of(ask, target, needs),
        cautions=_common_cautions(ordered),
    )


def is_companion(one: Known) -> bool:
    """True if a yarn is fine enough to be held along with another as its lace strand."""
    length = one.profile.metres_per_100g
    return length is not None and length.value >= LACE_METRES_PER_100G


def candidate_of(
    ask: Ask, target: Target, needs: tuple[Need, ...], verdict: Judged, terms: ShopTerms
) -> Candidate:
    """Returns one yarn's candidate: what was judged, with amounts, lots, price, tool and care."""
    yarn, profile, held = verdict.known.yarn, verdict.known.profile, verdict.held
    companion = held.companion
    tex = profile.tex.value if profile.tex else None
    amounts = part_amounts(needs, sold_put_up(yarn.label), held.strands, tex)
    careful = care_for(ask, yarn, companion.yarn if companion else None, terms.country)
    findings = [*verdict.findings, *_care_findings(careful.view.differences)]
    ordered, group = deciding_first(findings), worst_group(findings)
    suits = group is not Group.NOT_FOR_THIS
    return Candidate(
        sku=yarn.sku,
        name=yarn.name,
        weight_name=yarn.label.weight_name,
        group=group,
        strands=held.strands,
        companion=_companion(held, needs, terms),
        profile=profile,
        reasons=tuple(f.said for f in ordered),
        change=next((f.change for f in ordered if f.change is not None), None),
        start_tool=start_tool(ask, yarn, profile, held) if suits else None,
        fabric=fabric_of(ask, target, profile, held, needs),
        amounts=amounts,
        colours=colour_choices(yarn, amounts, ask.wishes),
        price=price_of(yarn, amounts, terms),
        care=careful.view,
        cautions=careful.cautions,
    )


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


def _care_findings(differences: Sequence[Saying]) -> list[Finding]:
    """A yarn that cannot be washed as wanted will do only if it is washed otherwise."""
    change = saying("judging.change_washing")
    found: list[Finding] = []
    for index, said in enumerate(differences):
        if said.code in ANOTHER_BUTTON or said.code.endswith("not_known"):
            found.append(Finding(Group.AS_IT_IS, said, 3 - index / 10))
        else:
            found.append(Finding(Group.WITH_A_CHANGE, said, 5.5 - index / 10, change))
    return found


def _companion(held: Held, needs: tuple[Need, ...], terms: ShopTerms) -> Companion | None:
    if held.companion is None:
        return None
    yarn, profile = held.companion.yarn, held.companion.profile
    tex = profile.tex.value if profile.tex else None
    amounts = part_amounts(needs, sold_put_up(yarn.label), 1, tex)
    counts = [amount.skeins for amount in amounts]
    known = [count for count in counts if count is not None]
    skeins = sum(known) if counts and len(known) == len(counts) else None
    return Companion(yarn.sku, yarn.name, skeins, price_of(yarn, amounts, terms))


def _order(verdict: Judged, candidate: Candidate) -> tuple[int, float, bool, int, float, str]:
    """Inside a group: what would go wrong first decides, then stock, then the closest gauge."""
    first = deciding_first(verdict.findings)
    trouble = sum(f.weight for f in first if rank(f.group) > 0)
    flags = sum(1 for caution in candidate.cautions if caution.flag)
    short = bool(candidate.colours) and all(c.short_by for c in candidate.colours)
    unlike = sum(said.code.startswith("behaviour.") for said in candidate.reasons)
    small_print = len(candidate.care.differences) + unlike
    return (
        rank(candidate.group),
        round(trouble + flags, 6),
        short,
        small_print,
        round(_gauge_distance(candidate), 6),
        candidate.sku,
    )


def _gauge_distance(candidate: Candidate) -> float:
    """How far the yarn is from the wanted gauge, in stitches per 10 cm."""
    offs = [said.values["off_st"] for said in candidate.reasons if "off_st" in said.values]
    return min((float(off) for off in offs if isinstance(off, float)), default=99.0)


def _common_cautions(candidates: Sequence[Candidate]) -> tuple[Caution, ...]:
    """The cautions that hold whichever yarn is taken."""
    if not candidates:
        return ()
    shared = set(candidates[0].cautions)
    for candidate in candidates[1:]:
        shared &= set(candidate.cautions)
    return tuple(c for c in candidates[0].cautions if c in shared)
