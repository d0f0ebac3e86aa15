"""The answer from a shelf too large to judge whole: the yarns that stand best, and no others.

Yarns wait in the order of the best sort key they can have. The first in line is looked at more
closely: judged by its summary, then read in full with its stock. When it is first in line and
nothing is left to learn, no other can stand better, and it is listed.
"""

import heapq
from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cache
from itertools import count
from typing import Protocol

from shopdesk.answering.answer.candidates import (
    PreparedAsk,
    RankedCandidate,
    cautions_beyond,
    rank_candidate,
)
from shopdesk.answering.answer.whole_shelf import answer_of
from shopdesk.answering.judging.companions import Companions, StrandCombination
from shopdesk.answering.judging.grades import least_of
from shopdesk.answering.judging.item_care import care_cautions, care_differences
from shopdesk.answering.judging.judge import Judgement, judge_one
from shopdesk.answering.judging.ranking import (
    SortKey,
    Supplied,
    is_proposed_beside,
    price_of_a_metre,
    sort_key,
    stepped,
)
from shopdesk.answering.model.answer import Answer, Candidate, RuledOut, Suitability
from shopdesk.answering.profile.summary import ProfiledYarn, WearAndCare, YarnSummary
from shopdesk.answering.shortlist.bounds import NOT_FOR_THIS, IndexRow, SortKeyBound
from shopdesk.answering.shortlist.windows import SearchWindow, search_windows, window_beside
from shopdesk.answering.supply.amounts import all_skeins, skeins_of, whole_price
from shopdesk.answering.supply.own_yarn import need_in
from shopdesk.answering.supply.wishes import counted, merged, unmet_price
from shopdesk.answering.thresholds import threshold
from shopdesk.craft.messages import Message
from shopdesk.craft.money import from_minor

MOST_LISTED = 12
READ_AT_MOST = 96


@cache
def _beside() -> SearchWindow:
    """Stands for the window of yarns with a companion, which needs the companions to be known."""
    return SearchWindow(least_of("companion"), beside=True)


class IndexSearch(Protocol):
    """Where the yarns on offer are, without those that the customer's wishes rule out beforehand.

    It is the shelf's `YarnIndexSearch`, which stands above this room and cannot be named here.
    Ruled out are yarns with a fibre to be avoided, and yarns too dear however they are held.
    """

    def window(
        self, window: SearchWindow, beyond: Sequence[SearchWindow] = ()
    ) -> Iterable[IndexRow]:
        """Returns the index rows of a window that lie in none of the windows `beyond`."""

    def summary(self, yarn: IndexRow) -> YarnSummary:
        """Returns the summary of one yarn."""

    def companions(self) -> Sequence[YarnSummary]:
        """Returns the yarns fine enough to be held along with another, and perhaps others."""

    def wear_and_care(self, key: str) -> WearAndCare:
        """Returns the wear and care that is kept under a key."""

    def read(self, skus: Collection[str]) -> Mapping[str, ProfiledYarn]:
        """Returns yarns in full, with their stock; one that is not on offer is left out."""

    def ruled_out(self) -> Sequence[RuledOut]:
        """Returns what the customer's wishes rule out beforehand."""


def shortlist(
    asked: PreparedAsk, index: IndexSearch, on_offer: int, most: int = MOST_LISTED
) -> Answer:
    """Returns the answer with the `most` yarns that stand best of all that are on offer.

    Beside what wishes rule out beforehand, they count as ruling out what would else stand among
    those that are listed.
    """
    line = _Line(asked, index, most)
    listed: list[Candidate] = []
    taken: list[tuple[Message, str]] = []
    while len(listed) < most:
        first = line.next()
        if first is None:
            break
        if isinstance(first, _TooDear):
            taken.append((first.wish, first.sku))
        elif first.unmet is not None:
            taken.append((first.unmet, first.candidate.sku))
        else:
            line.best = line.best or first.sort_key
            listed.append(first.candidate)
    ruled_out = merged((*index.ruled_out(), *counted(taken)))
    answered = answer_of(asked, listed, ruled_out)
    seen = len(listed) + sum(one.count for one in ruled_out)
    return replace(answered, beyond=on_offer - seen, cut=len(listed) == most)


@dataclass(frozen=True, slots=True)
class _TooDear:
    """A yarn that may do, but at a price that the customer does not wish."""

    sku: str
    wish: Message


Ready = RankedCandidate | _TooDear
Waiting = SearchWindow | IndexRow | Judgement | Ready


class _Line:
    """Everything that waits, the best possible sort key first; `best` is the first listed's."""

    def __init__(self, asked: PreparedAsk, index: IndexSearch, read_first: int) -> None:
        self.asked = asked
        self.best: SortKey | None = None
        self._index = index
        self._bound = SortKeyBound(asked, index.wear_and_care)
        self._waiting: list[tuple[SortKey, int, Waiting]] = []
        self._places = count()
        self._judged: set[int] = set()
        self._opened: dict[tuple[int, bool], list[SearchWindow]] = {}
        self._to_read: list[Judgement] = []
        self._put_aside: list[tuple[SortKey, Ready]] = []
        self._at_once = read_first
        self._companions = Companions(_fine_yarns(index))
        for window in search_windows(asked.wanted):
            self._wait(_least(window), window)
        self._wait(_least(_beside()), _beside())

    def next(self) -> Ready | None:
        """Returns the yarn that stands best of those left; None: no other will do."""
        ruled_out = self.asked.wanted.original_ruled_out
        while self._waiting or self._to_read:
            if self._to_read and self._must_read():
                self._read()
                continue
            key, _, first = heapq.heappop(self._waiting)
            if not is_proposed_beside(key, self.best, ruled_out):
                continue
            if not isinstance(first, Ready):
                self._look_closer(first)
            elif self._to_read:
                self._put_aside.append((key, first))
            else:
                return first
        return None

    def _must_read(self) -> bool:
        """Whether what was judged has to be read before the next in line can be told."""
        first = self._waiting[0][2] if self._waiting else None
        enough = len(self._to_read) >= self._at_once
        return enough or first is None or isinstance(first, RankedCandidate | SearchWindow)

    def _look_closer(self, one: SearchWindow | IndexRow | Judgement) -> None:
        if isinstance(one, Judgement):
            self._to_read.append(one)
        elif isinstance(one, SearchWindow):
            self._open(one)
        elif one.key not in self._judged:
            self._judge(one)

    def _open(self, window: SearchWindow) -> None:
        if window is _beside():
            beside = window_beside(self.asked.wanted, self._companions)
            if beside is None:
                return
            window = beside
        opened = self._opened.setdefault((window.strands, window.beside), [])
        best, places, waiting = self._bound.best, self._places, self._waiting
        ruled_out = self.asked.wanted.original_ruled_out
        for yarn in self._index.window(window, opened):
            if yarn.key not in self._judged:
                key = best(window, yarn)
                if key is not None and is_proposed_beside(key, self.best, ruled_out):
                    waiting.append((key, next(places), yarn))
        opened.append(window)
        heapq.heapify(waiting)

    def _judge(self, yarn: IndexRow) -> None:
        self._judged.add(yarn.key)
        summary = self._index.summary(yarn)
        verdict = judge_one(self.asked.wanted, summary, self._companions)
        if verdict.group is Suitability.NOT_FOR_THIS:
            return
        wish = self._too_dear(yarn, verdict.held)
        price = price_of_a_metre(yarn.price_minor, yarn.metres, verdict.held.strands)
        key = self._standing(verdict, price)
        if key.group != NOT_FOR_THIS:
            self._wait(key, verdict if wish is None else _TooDear(yarn.sku, wish))

    def _too_dear(self, yarn: IndexRow, held: StrandCombination) -> Message | None:
        wishes, currency = self.asked.wanted.ask.wishes, self.asked.terms.currency
        if wishes.price_limit is None:
            return None
        each = from_minor(yarn.price_minor, currency)
        beside = held.companion.sku if held.companion else None
        needs = [need_in(need, yarn.sku, held.strands, beside) for need in self.asked.needs]
        skeins = all_skeins(skeins_of(need, yarn.metres, held.strands) for need in needs)
        return unmet_price(whole_price(each, skeins, currency), wishes)

    def _standing(self, verdict: Judgement, price: float) -> SortKey:
        ask, companion = self.asked.wanted.ask, verdict.held.companion
        strands = [one.wear_and_care for one in (verdict.yarn, companion) if one is not None]
        differences = care_differences(ask, strands)
        cautions = care_cautions(ask, strands, self.asked.terms.country)
        beyond = cautions_beyond(self.asked, cautions)
        sku, unlike = verdict.yarn.sku, verdict.unlike
        return sort_key(verdict.findings, differences, beyond, sku, unlike, Supplied(price=price))

    def _read(self) -> None:
        verdicts, self._to_read = self._to_read, []
        for key, ready in self._put_aside:
            self._wait(key, ready)
        self._put_aside.clear()
        companions = [one.held.companion for one in verdicts]
        skus = {one.sku for one in companions if one} | {one.yarn.sku for one in verdicts}
        shelf = self._index.read(skus)
        self._at_once = min(2 * self._at_once, READ_AT_MOST)
        for verdict, beside in zip(verdicts, companions, strict=True):
            yarn = shelf.get(verdict.yarn.sku)
            other = shelf.get(beside.sku) if beside is not None else None
            if yarn is not None:
                again = judge_one(self.asked.wanted, yarn.summary, _only(other))
                found = rank_candidate(self.asked, again, shelf)
                if found.sort_key.group != NOT_FOR_THIS:
                    self._wait(found.sort_key, found)

    def _wait(self, key: SortKey, one: Waiting) -> None:
        heapq.heappush(self._waiting, (key, next(self._places), one))


def _fine_yarns(index: IndexSearch) -> Iterator[YarnSummary]:
    yield from index.companions()


def _only(companion: ProfiledYarn | None) -> Companions:
    return Companions([companion.summary] if companion else [])


def _least(window: SearchWindow) -> SortKey:
    group, penalty = window.least
    exact = penalty - threshold("is_the_original")
    return SortKey(group, stepped(exact), *Supplied(), exact, "")
