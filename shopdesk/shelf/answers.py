"""Answers an ask from the shelf: whole where it is small, by a shortlist where it is large."""

from collections.abc import Callable, Collection
from dataclasses import replace
from functools import cache

from sqlalchemy import func, select
from sqlalchemy.orm import Session

from shopdesk.answering.answer import Answer
from shopdesk.answering.answering import answer
from shopdesk.answering.ask import Ask, Wishes
from shopdesk.answering.candidates import Placed, Shelf, counted_for, placed
from shopdesk.answering.companions import Companions
from shopdesk.answering.judging import Rack, judged
from shopdesk.answering.shortlist import MOST_LISTED, shortlist
from shopdesk.answering.terms import ShopTerms
from shopdesk.answering.wishes import avoided_fibre
from shopdesk.craft.yarn import ShelfYarn
from shopdesk.shelf.briefs import briefs_are_current
from shopdesk.shelf.loading import shelf_yarns
from shopdesk.shelf.stockroom import ShelfStockroom
from shopdesk.shelf.tables.briefs import YarnBrief

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
    asked = counted_for(ask, terms)
    return shortlist(asked, ShelfStockroom(session, asked, seen), kept, most)


def judged_apart(
    session: Session,
    ask: Ask,
    terms: ShopTerms,
    skus: Collection[str],
    seen: Seen = _as_it_is,
) -> dict[str, Placed]:
    """Returns how each of these yarns on offer is judged, whether an answer lists it or not.

    One that a wish of the customer rules out is judged as if there were no wishes, and says which
    wish it is.
    """
    asked, free = counted_for(ask, terms), counted_for(replace(ask, wishes=Wishes()), terms)
    stockroom = ShelfStockroom(session, asked, seen)
    shelf = dict(stockroom.read(skus))
    companions = cache(lambda: Companions(stockroom.companions()))
    found: dict[str, Placed] = {}
    for sku in shelf.keys() & set(skus):
        verdict = judged(asked.wanted, shelf[sku].brief, companions)
        if verdict.held.companion is not None:
            beside = stockroom.read([verdict.held.companion.sku])
            verdict = judged(asked.wanted, shelf[sku].brief, _briefs(beside))
            shelf.update(beside)
        one = placed(asked, verdict, shelf)
        wish = avoided_fibre(shelf[sku].yarn, ask.wishes) or one.unmet
        found[sku] = one if wish is None else replace(placed(free, verdict, shelf), unmet=wish)
    return found


def _briefs(shelf: Shelf) -> Rack:
    return lambda: Companions(known.brief for known in shelf.values())
