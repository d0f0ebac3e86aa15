"""Answers an ask, planned from one branch's stock, and judges single yarns that are asked about."""

import sys
from collections.abc import Collection, Iterator, Mapping
from contextlib import suppress
from dataclasses import dataclass, replace
from typing import Any

from sqlalchemy import func, select
from sqlalchemy.orm import Session

from shopdesk.answering.answer.candidates import PreparedAsk, Shelf, prepare, rank_candidate
from shopdesk.answering.answer.whole_shelf import answer, answer_of
from shopdesk.answering.judging.companions import Companions
from shopdesk.answering.judging.judge import judge_one
from shopdesk.answering.model.answer import Answer, Candidate, ShopTerms, Suitability
from shopdesk.answering.model.ask import Ask, Wishes
from shopdesk.answering.profile.profile import shelf_profile
from shopdesk.answering.profile.summary import ProfiledYarn, YarnSummary
from shopdesk.answering.shortlist.shortlist import MOST_LISTED, shortlist
from shopdesk.answering.supply.wishes import avoided_fibre
from shopdesk.craft.messages import Message
from shopdesk.craft.yarn import ShelfYarn
from shopdesk.services.asks import keep_document, token_of
from shopdesk.services.own_yarns import require_own_yarns, with_own_yarns
from shopdesk.services.unmet_asks import Unmet, record_unmet, unmet_of
from shopdesk.shelf.loading import shelf_yarns, yarns_planned_in
from shopdesk.shelf.yarn_index import index_is_current
from shopdesk.shelf.yarn_index_search import YarnIndexSearch
from shopdesk.shop.shop import Shop
from shopdesk.store.faults import ShelfFault
from shopdesk.store.request_keys import first_time
from shopdesk.store.tables.yarns import Yarn, YarnIndex

MOST_AT_ONCE = 120
"""More yarns than anybody goes through at the counter: no longer list is made."""
JUDGED_WHOLE = 200
"""Up to so many yarns every one is judged, and listed with its reason also where it is not for
the ask."""


@dataclass(frozen=True, slots=True)
class AskPut:
    """An ask that is put to the shelf: its document, what it reads as, and the form it came by.

    `request_key` is the form's random word, under which the ask is kept for the visit; one
    without is answered and not kept.
    """

    document: Mapping[str, Any]
    ask: Ask
    request_key: str | None = None


@dataclass(frozen=True, slots=True)
class JudgedYarn:
    """One yarn as judged for an ask, whether an answer would list it or not.

    `answer` has this yarn and no other. `ruled_out` is the wish of the customer that takes it
    away: it is judged as if there were no wishes then. `shelf` holds the yarn and the one it is
    held with by SKU, with the lots that the shop's branch plans with.
    """

    ask: Ask
    answer: Answer
    candidate: Candidate
    ruled_out: Message | None
    shelf: Mapping[str, ShelfYarn]

    @property
    def yarn(self) -> ShelfYarn:
        """The yarn itself, without its companion."""
        return self.shelf[self.candidate.sku]


@dataclass(frozen=True, slots=True)
class NamedYarn:
    """A yarn that somebody asks about by name; one not on offer any more is not judged."""

    sku: str
    name: str
    judged: JudgedYarn | None


def ask_the_shelf(shop: Shop, put: AskPut, most: int = MOST_LISTED) -> Answer:
    """Answers an ask, keeps it if it came by a form, and notes once an ask that nothing fits.

    Of a large shelf at most so many yarns are listed.
    The lots are planned in the shop's branch. The same form sent again notes nothing; without a
    form the same ask is noted once a day, and answered also where nothing can be written. Raises
    InputErrors for a yarn in hand by a SKU that the shop does not know.
    """
    require_known_yarns(shop, put.ask)
    answered = answer_again(shop, put.ask, most)
    unmet = unmet_of(put.ask, answered)
    if put.request_key is not None:
        _keep(shop, put.request_key, put.document, unmet)
    elif unmet is not None:
        with suppress(ShelfFault):
            _note_today(shop, put.document, unmet)
    return answered


def require_known_yarns(shop: Shop, ask: Ask) -> None:
    """Raises InputErrors for a yarn in hand by a SKU that the shop does not know."""
    with shop.read() as session:
        require_own_yarns(session, ask)


def answer_again(shop: Shop, ask: Ask, most: int = MOST_LISTED) -> Answer:
    """Returns the answer to an ask from the shelf as it stands; nothing is noted."""
    terms = _terms(shop)
    with shop.read() as session:
        return answer_from_shelf(session, ask, terms, shop.branch, most)


def count_proposed(shop: Shop, ask: Ask) -> dict[Suitability, int]:
    """Returns how many yarns of the whole shelf would be proposed, by group, the best first.

    Every yarn that may do is judged and read for it: seconds, on a large shelf.
    """
    everything = answer_again(shop, ask, sys.maxsize)
    proposed = [group for group in Suitability if group is not Suitability.NOT_FOR_THIS]
    return {group: len(everything.in_group(group)) for group in proposed}


def judge_yarn(shop: Shop, ask: Ask, skus: Collection[str]) -> dict[str, JudgedYarn]:
    """Returns how each of these yarns is judged for an ask; one not on offer is left out."""
    terms = _terms(shop)
    with shop.read() as session:
        return _judged(session, ask, terms, skus, shop.branch)


def judge_named(shop: Shop, ask: Ask, words: str, most: int) -> tuple[NamedYarn, ...]:
    """Returns the yarns that have these words in name or SKU, at most so many, as judged.

    A SKU that is these words, whatever their capitals, is the only one that is found.
    """
    terms = _terms(shop)
    with shop.read() as session:
        named = _named(session, words, most)
        judged = _judged(session, ask, terms, [sku for sku, _ in named], shop.branch)
    return tuple(NamedYarn(sku, name, judged.get(sku)) for sku, name in named)


def _terms(shop: Shop) -> ShopTerms:
    return replace(shop.settings().terms(), branch=shop.branch)


def _named(session: Session, words: str, most: int) -> list[tuple[str, str]]:
    rows = session.execute(
        select(Yarn.sku, Yarn.name)
        .where(
            Yarn.sku.icontains(words, autoescape=True) | Yarn.name.icontains(words, autoescape=True)
        )
        .order_by(Yarn.name)
        .limit(most)
    ).all()
    found = [(row.sku, row.name) for row in rows]
    return [one for one in found if one[0].casefold() == words.casefold()] or found


def answer_from_shelf(
    session: Session, ask: Ask, terms: ShopTerms, branch: str, most: int = MOST_LISTED
) -> Answer:
    """Returns the answer from the shelf that the session sees, lots planned in a branch."""
    ask = with_own_yarns(session, ask)
    kept = session.scalars(select(func.count()).select_from(YarnIndex)).one()
    if kept <= JUDGED_WHOLE or not index_is_current(session):
        return answer(ask, yarns_planned_in(session, branch, terms.currency), terms)
    asked = prepare(ask, terms)
    return shortlist(asked, YarnIndexSearch(session, asked, branch), kept, most)


def _keep(shop: Shop, request_key: str, document: Mapping[str, Any], unmet: Unmet | None) -> None:
    moment = shop.clock()
    with shop.write() as session:
        is_new = keep_document(session, request_key, document, moment)
        if is_new and unmet is not None:
            record_unmet(session, replace(unmet, at=moment))


def _note_today(shop: Shop, document: Mapping[str, Any], unmet: Unmet) -> None:
    with shop.write() as session:
        if first_time(session, token_of(f"unmet {shop.today()}", document)):
            record_unmet(session, replace(unmet, at=shop.clock()))


def _judged(
    session: Session, ask: Ask, terms: ShopTerms, skus: Collection[str], branch: str
) -> dict[str, JudgedYarn]:
    ask = with_own_yarns(session, ask)
    asked = prepare(ask, terms)
    search = YarnIndexSearch(session, asked, branch)
    shelf = dict(search.read(skus))
    companions = Companions(_companions(session, search, ask))
    found: dict[str, JudgedYarn] = {}
    for sku in shelf.keys() & set(skus):
        verdict = judge_one(asked.wanted, shelf[sku].summary, companions)
        if verdict.held.companion is not None:
            beside = search.read([verdict.held.companion.sku])
            verdict = judge_one(asked.wanted, shelf[sku].summary, _only(beside))
            shelf.update(beside)
        one = rank_candidate(asked, verdict, shelf)
        wish = avoided_fibre(shelf[sku].yarn, ask.wishes) or one.unmet
        if wish is not None:
            one = rank_candidate(prepare(replace(ask, wishes=Wishes()), terms), verdict, shelf)
        found[sku] = _judged_yarn(asked, one.candidate, wish, shelf)
    return found


def _judged_yarn(
    asked: PreparedAsk, candidate: Candidate, ruled_out: Message | None, shelf: Shelf
) -> JudgedYarn:
    skus = [candidate.sku, *([candidate.companion.sku] if candidate.companion else [])]
    yarns = {sku: shelf[sku].yarn for sku in skus}
    alone = answer_of(asked, [candidate], ())
    return JudgedYarn(asked.wanted.ask, alone, candidate, ruled_out, yarns)


def _companions(session: Session, search: YarnIndexSearch, ask: Ask) -> Iterator[YarnSummary]:
    """Yields what may be held along with a yarn; an index of other rules is not relied on."""
    if index_is_current(session):
        yield from search.companions()
        return
    for yarn in shelf_yarns(session, with_stock=False):
        if avoided_fibre(yarn, ask.wishes) is None:
            yield ProfiledYarn(yarn, shelf_profile(yarn)).summary


def _only(shelf: Shelf) -> Companions:
    return Companions(known.summary for known in shelf.values())
