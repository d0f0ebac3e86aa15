"""From an ask and the shelf's yarns to the answer: profile, judge, count, price, put in order."""

from collections.abc import Iterable, Sequence

from shopdesk.answering.answer import Answer, Candidate, Caution, RuledOut
from shopdesk.answering.ask import Ask
from shopdesk.answering.brief import Known
from shopdesk.answering.candidates import Counted, counted_for, placed
from shopdesk.answering.companions import Companions
from shopdesk.answering.judging import judged
from shopdesk.answering.profile import shelf_profile
from shopdesk.answering.terms import ShopTerms
from shopdesk.answering.unknowns import unknowns_of
from shopdesk.answering.wishes import avoided_fibre, counted
from shopdesk.craft.sayings import Saying
from shopdesk.craft.yarn import ShelfYarn


def answer(ask: Ask, yarns: Iterable[ShelfYarn], terms: ShopTerms) -> Answer:
    """Returns the whole answer, every yarn judged; the order of `yarns` makes no difference."""
    asked = counted_for(ask, terms)
    taken: list[tuple[Saying, str]] = []
    known: list[Known] = []
    for yarn in sorted(yarns, key=lambda y: y.sku):
        avoided = avoided_fibre(yarn, ask.wishes)
        if avoided is not None:
            taken.append((avoided, yarn.sku))
        else:
            known.append(Known(yarn, shelf_profile(yarn)))
    shelf = {one.yarn.sku: one for one in known}
    briefs = [one.brief for one in known]
    companions = Companions(briefs)
    everyone = [
        placed(asked, judged(asked.wanted, one, lambda: companions), shelf) for one in briefs
    ]
    everyone.sort(key=lambda one: one.standing)
    taken += [(one.unmet, one.candidate.sku) for one in everyone if one.unmet is not None]
    candidates = [one.candidate for one in everyone if one.unmet is None]
    return answer_of(asked, candidates, counted(taken))


def answer_of(
    asked: Counted, candidates: Sequence[Candidate], ruled_out: tuple[RuledOut, ...]
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
    )


def _common_cautions(candidates: Sequence[Candidate]) -> tuple[Caution, ...]:
    """The cautions that hold whichever yarn is taken."""
    if not candidates:
        return ()
    shared = set(candidates[0].cautions)
    for candidate in candidates[1:]:
        shared &= set(candidate.cautions)
    return tuple(c for c in candidates[0].cautions if c in shared)
