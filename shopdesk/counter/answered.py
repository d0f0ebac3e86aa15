"""The kept ask that an address names, with its answer from the shelf as it stands."""

import time
from collections import OrderedDict
from dataclasses import dataclass
from threading import Lock
from typing import Any

from shopdesk.answering.ask.ask_reading import read_ask
from shopdesk.answering.model.answer import Answer
from shopdesk.answering.model.ask import Ask
from shopdesk.counter.refusals import refuse_page
from shopdesk.counter.request import shop
from shopdesk.craft.messages import message
from shopdesk.services.answers import answer_again
from shopdesk.services.asks import saved_ask

HANDED_OVER_SECONDS = 5.0
MOST_HANDED_OVER = 16


@dataclass(frozen=True, slots=True)
class KeptAsk:
    """An ask that is kept for the visit; `token` is its name in addresses."""

    token: str
    document: dict[str, Any]
    ask: Ask


@dataclass(frozen=True, slots=True)
class Answered:
    """A kept ask with its answer."""

    kept: KeptAsk
    answer: Answer


def kept_document(token: str) -> dict[str, Any]:
    """Returns the document of a kept ask; ends the request with 404 where it is not kept."""
    document = saved_ask(shop(), token)
    if document is None:
        refuse_page(404, message("problem_page.ask_gone"))
    return document


def kept_ask(token: str) -> KeptAsk:
    """Returns a kept ask; ends the request with 404 where it is not kept."""
    document = kept_document(token)
    return KeptAsk(token, document, read_ask(document))


def answered(token: str) -> Answered:
    """Returns the answer to a kept ask; ends the request with 404 where it is not kept."""
    ready = _handed_over.take(token)
    if ready is not None:
        return ready
    kept = kept_ask(token)
    return Answered(kept, answer_again(shop(), kept.ask))


def hand_over(made: Answered) -> None:
    """Leaves an answer for the page that is asked for next, so that it is not made twice."""
    _handed_over.put(made)


class _HandedOver:
    """A few answers, each taken once and only within seconds."""

    def __init__(self) -> None:
        self._lock = Lock()
        self._made: OrderedDict[str, tuple[float, Answered]] = OrderedDict()

    def put(self, made: Answered) -> None:
        with self._lock:
            self._made[made.kept.token] = (time.monotonic(), made)
            while len(self._made) > MOST_HANDED_OVER:
                self._made.popitem(last=False)

    def take(self, token: str) -> Answered | None:
        with self._lock:
            at, made = self._made.pop(token, (0.0, None))
        return made if made and time.monotonic() - at < HANDED_OVER_SECONDS else None


_handed_over = _HandedOver()
