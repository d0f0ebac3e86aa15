"""Answers an ask from the shelf: whole where it is small, by a shortlist where it is large."""

from collections.abc import Callable, Collection
from dataclasses import replace
from functools import cache

from sqlalchemy import func, select
from sqlalchemy.orm import Session

from shopdesk.answering.answer.candidates import RankedCandidate, Shelf, prepare, rank_candidate
from shopdesk.answering.answer.whole_shelf import answer
from shopdesk.answering.judging.companions import Companions
from shopdesk.answering.judging.judge import Rack, judge_one
from shopdesk.answering.model.answer import Answer, ShopTerms
from shopdesk.answering.model.ask import Ask, Wishes
from shopdesk.answering.shortlist.shortlist import MOST_LISTED, shortlist
from shopdesk.answering.supply.wishes import avoided_fibre
from shopdesk.craft.yarn import ShelfYarn
from shopdesk.shelf.loading import shelf_yarns
from shopdesk.shelf.yarn_index import briefs_are_current
from shopdesk.shelf.yarn_index_search import YarnIndexSearch
from shopdesk.store.tables.yarns import YarnBrief

JUDGED_WHOLE = 200
"""Up to so many yarns every one is judged, and listed with its reason also where it is not for
the ask."""

Seen = Callable[[ShelfYarn], ShelfYarn]


def _as_it_is(yarn: ShelfYarn) -> ShelfYarn:
    return yarn


def answer_from_shelf(
    session: Session,
    ask: Ask,
    terms: ShopTerms,
    seen: Seen = _as_it_is,
    most: int = MOST_LISTED,
) -> Answer:
    """Returns the answer from the shelf that the session sees; `seen` arranges a yarn's stock."""
    kept = session.scalar(select(func.count()).select_from(YarnBrief)) or 0
    if kept <= JUDGED_WHOLE or not briefs_are_current(session):
        return answer(ask, map(seen, shelf_yarns(session)), terms)
    asked = prepare(ask, terms)
    return shortlist(asked, YarnIndexSearch(session, asked, seen), kept, most)


def judged_apart(
    session: Session,
    ask: Ask,
    terms: ShopTerms,
    skus: Collection[str],
    seen: Seen = _as_it_is,
) -> dict[str, RankedCandidate]:
    """Returns how each of these yarns on offer is judged, whether an answer lists it or not.

    One that a wish of the customer rules out is judged as if there were no wishes, and says which
    wish it is.
    """
    asked, free = prepare(ask, terms), prepare(replace(ask, wishes=Wishes()), terms)
    stockroom = YarnIndexSearch(session, asked, seen)
    shelf = dict(stockroom.read(skus))
    companions = cache(lambda: Companions(stockroom.companions()))
    found: dict[str, RankedCandidate] = {}
    for sku in shelf.keys() & set(skus):
        verdict = judge_one(asked.wanted, shelf[sku].brief, companions)
        if verdict.held.companion is not None:
            beside = stockroom.read([verdict.held.companion.sku])
            verdict = judge_one(asked.wanted, shelf[sku].brief, _briefs(beside))
            shelf.update(beside)
        one = rank_candidate(asked, verdict, shelf)
        wish = avoided_fibre(shelf[sku].yarn, ask.wishes) or one.unmet
        found[sku] = (
            one if wish is None else replace(rank_candidate(free, verdict, shelf), unmet=wish)
        )
    return found


def _briefs(shelf: Shelf) -> Rack:
    return lambda: Companions(known.brief for known in shelf.values())
