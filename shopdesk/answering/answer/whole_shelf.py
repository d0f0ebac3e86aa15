"""From an ask and the shelf's yarns to the answer: profile, judge, count, price, put in order."""

from collections.abc import Iterable, Sequence
from dataclasses import replace

from shopdesk.answering.answer.candidates import (
    PreparedAsk,
    few_and_right,
    prepare,
    rank_candidate,
)
from shopdesk.answering.judging.companions import Companions
from shopdesk.answering.judging.judge import judge_one
from shopdesk.answering.model.answer import (
    Answer,
    Candidate,
    Caution,
    Need,
    RuledOut,
    ShopTerms,
    Target,
)
from shopdesk.answering.model.ask import Ask, Washing
from shopdesk.answering.model.asked_wearer import wearer_of
from shopdesk.answering.profile.profile import shelf_profile
from shopdesk.answering.profile.summary import ProfiledYarn
from shopdesk.answering.supply.wishes import avoided_fibre, counted, left_in
from shopdesk.craft.messages import Message, message
from shopdesk.craft.wearers import UNKNOWN
from shopdesk.craft.yarn import Craft, ShelfYarn


def unknowns_of(ask: Ask, target: Target, needs: tuple[Need, ...]) -> tuple[Message, ...]:
    """Returns a sentence for each thing that is not known and matters."""
    who = wearer_of(ask)
    checks = [
        (ask.gauge is None, "unknown.gauge"),
        (ask.gauge is not None and ask.gauge.rows is None, "unknown.rows"),
        (ask.gauge is not None and ask.gauge.after_washing is None, "unknown.after_washing"),
        (ask.designer_yarn is None, "unknown.designer_yarn"),
        (
            ask.designer_yarn is not None and target.metres_per_100g is None,
            "unknown.designer_length",
        ),
        (ask.designer_yarn is not None and not ask.designer_yarn.fibres, "unknown.designer_fibres"),
        (ask.craft is Craft.KNIT and target.natural_stitches is None, "unknown.target"),
        (any(need.pattern_m is None for need in needs), "unknown.amount"),
        (who.may_be_a_baby, "unknown.wearer_baby"),
        (who.wearer == UNKNOWN and not who.may_be_a_baby, "unknown.wearer"),
        (ask.washing is Washing.UNKNOWN, "unknown.washing"),
    ]
    return tuple(message(code) for found, code in checks if found)


def answer(ask: Ask, yarns: Iterable[ShelfYarn], terms: ShopTerms) -> Answer:
    """Returns the whole answer, every yarn judged; the order of `yarns` makes no difference."""
    asked = prepare(ask, terms)
    taken: list[tuple[Message, str]] = []
    known: list[ProfiledYarn] = []
    for yarn in sorted(yarns, key=lambda y: y.sku):
        avoided = avoided_fibre(yarn, ask.wishes)
        if avoided is not None:
            taken.append((avoided, yarn.sku))
        else:
            known.append(ProfiledYarn(yarn, shelf_profile(yarn)))
    shelf = {one.yarn.sku: one for one in known}
    summaries = [one.summary for one in known]
    companions = Companions(summaries)
    everyone = [
        rank_candidate(asked, judge_one(asked.wanted, one, companions), shelf) for one in summaries
    ]
    judged = len(everyone)
    everyone = few_and_right(asked, sorted(everyone, key=lambda one: one.sort_key))
    taken += [(one.unmet, one.candidate.sku) for one in everyone if one.unmet is not None]
    candidates = [one.candidate for one in everyone if one.unmet is None]
    answered = answer_of(asked, candidates, counted(taken))
    return replace(answered, beyond=judged - len(everyone))


def answer_of(
    asked: PreparedAsk, candidates: Sequence[Candidate], ruled_out: tuple[RuledOut, ...]
) -> Answer:
    """Returns the answer that has these candidates, in this order."""
    ask, target = asked.wanted.ask, asked.wanted.target
    return Answer(
        title=ask.title,
        target=target,
        needs=asked.needs,
        candidates=tuple(candidates),
        ruled_out=ruled_out,
        unknown=unknowns_of(ask, target, asked.needs),
        cautions=_common_cautions(candidates),
        wearer=wearer_of(ask).taken_from,
        left_in=left_in(ask.wishes),
    )


def _common_cautions(candidates: Sequence[Candidate]) -> tuple[Caution, ...]:
    """The cautions that hold whichever yarn is taken."""
    if not candidates:
        return ()
    shared = set(candidates[0].cautions)
    for candidate in candidates[1:]:
        shared &= set(candidate.cautions)
    return tuple(c for c in candidates[0].cautions if c in shared)
