"""The saved ask that an address names, with its answer from the shelf as it stands."""

import time
from collections import OrderedDict
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime
from threading import Lock
from typing import Any

from shopdesk.answering.ask.ask_reading import read_ask
from shopdesk.answering.model.answer import Answer, Suitability
from shopdesk.answering.model.ask import Ask
from shopdesk.answering.shortlist.shortlist import MOST_LISTED
from shopdesk.counter.refusals import refuse_page
from shopdesk.counter.request import shop
from shopdesk.craft.messages import message
from shopdesk.services.answers import answer_again, count_proposed
from shopdesk.services.asks import saved_ask

HANDED_OVER_SECONDS = 5.0
MOST_HANDED_OVER = 16
MOST_COUNTED = 64


@dataclass(frozen=True, slots=True)
class AskInVisit:
    """An ask that is saved for the visit; `token` is its name in addresses."""

    token: str
    document: dict[str, Any]
    ask: Ask


@dataclass(frozen=True, slots=True)
class AnsweredAsk:
    """A saved ask with its answer."""

    saved: AskInVisit
    answer: Answer


def ask_document_in_visit(token: str) -> dict[str, Any]:
    """Returns the document of a saved ask; ends the request with 404 where it is not there."""
    document = saved_ask(shop(), token)
    if document is None:
        refuse_page(404, message("problem_page.ask_gone"))
    return document


def ask_in_visit(token: str) -> AskInVisit:
    """Returns a saved ask; ends the request with 404 where it is not there."""
    document = ask_document_in_visit(token)
    return AskInVisit(token, document, read_ask(document))


def answered(token: str, most: int = MOST_LISTED) -> AnsweredAsk:
    """Returns the answer to a saved ask; ends the request with 404 where it is not there.

    Of a large shelf at most so many yarns are listed.
    """
    ready = _handed_over.take(token)
    if ready is not None and most == MOST_LISTED:
        return ready
    saved = ask_in_visit(token)
    return AnsweredAsk(saved, answer_again(shop(), saved.ask, most))


@dataclass(frozen=True, slots=True)
class Counted:
    """How many yarns of the whole shelf would be proposed by group, and when that was counted."""

    numbers: Mapping[Suitability, int]
    at: datetime


def counted(saved: AskInVisit, anew: bool) -> Counted | None:
    """Returns what was counted for a saved ask; counts `anew` if that is asked for."""
    if anew:
        _counted[saved.token] = Counted(count_proposed(shop(), saved.ask), shop().clock())
        while len(_counted) > MOST_COUNTED:
            _counted.popitem(last=False)
    return _counted.get(saved.token)


def hand_over(made: AnsweredAsk) -> None:
    """Leaves an answer for the page that is asked for next, so that it is not made twice."""
    _handed_over.put(made)


class _HandedOver:
    """A few answers, each taken once and only within seconds."""

    def __init__(self) -> None:
        self._lock = Lock()
        self._made: OrderedDict[str, tuple[float, AnsweredAsk]] = OrderedDict()

    def put(self, made: AnsweredAsk) -> None:
        with self._lock:
            self._made[made.saved.token] = (time.monotonic(), made)
            while len(self._made) > MOST_HANDED_OVER:
                self._made.popitem(last=False)

    def take(self, token: str) -> AnsweredAsk | None:
        with self._lock:
            at, made = self._made.pop(token, (0.0, None))
        return made if made and time.monotonic() - at < HANDED_OVER_SECONDS else None


_handed_over = _HandedOver()
_counted: OrderedDict[str, Counted] = OrderedDict()
