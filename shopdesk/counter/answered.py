"""Answers a kept ask from the shelf as it stands."""

import time
from collections import OrderedDict
from collections.abc import Collection
from dataclasses import dataclass
from threading import Lock
from typing import Any

from flask import abort
from sqlalchemy.orm import Session

from shopdesk.answering.answer.candidates import RankedCandidate
from shopdesk.answering.ask.ask_reading import read_ask
from shopdesk.answering.model.answer import Answer
from shopdesk.answering.model.ask import Ask
from shopdesk.counter.request import engine, here_first, settings
from shopdesk.services import answers
from shopdesk.services.asks import saved_ask
from shopdesk.store.database import reading

HANDED_OVER_SECONDS = 5.0
MOST_HANDED_OVER = 16


@dataclass(frozen=True, slots=True)
class Answered:
    """A kept ask with its answer; `token` is its name in addresses."""

    token: str
    document: dict[str, Any]
    ask: Ask
    answer: Answer


def answered(token: str) -> Answered:
    """Returns the answer to a kept ask; ends the request with 404 where it is not kept."""
    ready = _handed_over.take(token)
    if ready is not None:
        return ready
    with reading(engine()) as session:
        document = saved_ask(session, token)
        if document is None:
            abort(404, "This ask is not kept any more; type it once again.")
        ask = read_ask(document)
        return Answered(token, document, ask, answer_from(session, ask))


def answer_from(session: Session, ask: Ask) -> Answer:
    """Returns the answer to an ask from the shelf that the session sees."""
    return answers.answer_from_shelf(session, ask, settings().terms(), here_first)


def hand_over(made: Answered) -> None:
    """Leaves an answer for the page that is asked for next, so that it is not made twice."""
    _handed_over.put(made)


def judged_apart(ask: Ask, skus: Collection[str]) -> dict[str, RankedCandidate]:
    """Returns how yarns are judged that an answer does not list; one not on offer is left out."""
    with reading(engine()) as session:
        terms = settings().terms()
        return answers.judged_apart(session, ask, terms, skus, here_first)


class _HandedOver:
    """A few answers, each taken once and only within seconds."""

    def __init__(self) -> None:
        self._lock = Lock()
        self._made: OrderedDict[str, tuple[float, Answered]] = OrderedDict()

    def put(self, made: Answered) -> None:
        with self._lock:
            self._made[made.token] = (time.monotonic(), made)
            while len(self._made) > MOST_HANDED_OVER:
                self._made.popitem(last=False)

    def take(self, token: str) -> Answered | None:
        with self._lock:
            at, made = self._made.pop(token, (0.0, None))
        return made if made and time.monotonic() - at < HANDED_OVER_SECONDS else None


_handed_over = _HandedOver()
