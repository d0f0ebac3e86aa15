"""One visit by the pages, from the empty form to the printed slip: what is called, and how often.

Beside it, how long the answer takes that a sent form leads to, with and without the few seconds
for which the counter keeps it.
"""

import json
import re
import sys
import time
from collections import Counter as Counts
from collections.abc import Callable, Iterator, Sequence
from concurrent.futures import ThreadPoolExecutor
from contextlib import contextmanager
from dataclasses import dataclass, field
from pathlib import Path
from shutil import copytree
from statistics import median
from tempfile import TemporaryDirectory
from types import FrameType

from flask import Flask
from flask.testing import FlaskClient
from werkzeug.test import TestResponse

import shopdesk
from shopdesk.counter import answered
from shopdesk.counter.application import create_app
from shopdesk.counter.forms.ask_form import ask_form_data
from tests.bench.lines import Line, in_time
from tests.bench.shelves import Shelves, opened, typical_ask
from tests.pages import read_page

SECRET = b"a secret of the bench, 32 bytes."
PACKAGE = str(Path(shopdesk.__file__).parent)
WATCHED = {"judge_one": "judgements", "read_ask": "asks read", "load_settings": "settings loaded"}


@dataclass
class Trace:
    """The program's own functions that ran, by file and name, and how often each was called."""

    calls: Counts[tuple[str, str]] = field(default_factory=Counts)
    across: int = 0

    def __call__(self, frame: FrameType, event: str, _argument: object) -> None:
        """Counts one call; it is what sys.setprofile takes."""
        if event == "call" and frame.f_code.co_filename.startswith(PACKAGE):
            caller = frame.f_back
            self.calls[frame.f_code.co_filename, frame.f_code.co_qualname] += 1
            if caller is not None and caller.f_code.co_filename != frame.f_code.co_filename:
                self.across += caller.f_code.co_filename.startswith(PACKAGE)

    @contextmanager
    def running(self) -> Iterator[None]:
        """Traces what runs inside of it, in this thread."""
        sys.setprofile(self)
        try:
            yield
        finally:
            sys.setprofile(None)

    def named(self, name: str) -> int:
        """Returns how often functions of one name were called."""
        return sum(number for (_, called), number in self.calls.items() if called == name)

    @property
    def words(self) -> str:
        """Returns the whole of it in one line."""
        files = len({file for file, _ in self.calls})
        watched = (f"{self.named(name)} {words}" for name, words in WATCHED.items())
        return (
            f"{self.calls.total():,} calls, {self.across:,} of them into another file; "
            f"{files} files; {len(self.calls)} functions; {', '.join(watched)}"
        )


def typed_ask() -> dict[str, list[str]]:
    """Returns what the form of the ordinary ask holds."""
    typed = ask_form_data(json.loads(typical_ask().read_text(encoding="utf-8")))
    return {name: typed.getlist(name) for name in typed}


def _led_to(reply: TestResponse) -> str:
    assert reply.status_code == 303, reply.text
    return reply.headers["Location"]


def _look(client: FlaskClient, path: str) -> TestResponse:
    reply = client.get(path)
    assert reply.status_code == 200, reply.text
    return reply


class Visit:
    """The steps of one visit, each of which goes on from what the one before it led to."""

    def __init__(self, client: FlaskClient) -> None:
        self._client, self._page, self._path = client, "", ""

    def steps(self) -> dict[str, Callable[[], None]]:
        """Returns the steps in their order, by what staff would say that they are."""
        return {
            "open the form": lambda: self._open("/"),
            "send the ask": self._ask,
            "the answer's page": lambda: self._open(self._path),
            "look at one yarn": self._yarn,
            "make the slip": self._choose,
            "the slip's page": lambda: self._open(self._path),
            "its PDF": self._pdf,
        }

    def _open(self, path: str) -> None:
        self._path, self._page = path, _look(self._client, path).text

    def _ask(self) -> None:
        form = read_page(self._page).sent() | typed_ask()
        self._path = _led_to(self._client.post("/", data=form))

    def _yarn(self) -> None:
        links = read_page(self._page).links
        self._open(next(link for link in links if "/yarn?sku=" in link))

    def _choose(self) -> None:
        page = read_page(self._page)
        colour = next(known["value"] for _, known in page.tags if known.get("name") == "colour_0")
        form = page.sent() | {"colour_0": [colour], "staff": ["MB"]}
        self._path = _led_to(self._client.post(self._path, data=form))

    def _pdf(self) -> None:
        pdf = _look(self._client, f"{self._path}.pdf").data
        assert pdf.startswith(b"%PDF-")


@contextmanager
def a_counter(data: Path) -> Iterator[Flask]:
    """Gives the counter on a copy of a shop, so that the shop stays as it is."""
    with TemporaryDirectory() as folder:
        copy = copytree(data, Path(folder) / "shop")
        with opened(copy) as engine:
            yield create_app(engine, SECRET)


def traced(app: Flask) -> dict[str, Trace]:
    """Returns the trace of each step of a visit, after one visit that is not counted."""
    traces: dict[str, Trace] = {}
    for _ in range(2):
        for name, step in Visit(app.test_client()).steps().items():
            traces[name] = Trace()
            with traces[name].running():
                step()
    return traces


def together(traces: Sequence[Trace]) -> Trace:
    """Returns several traces as one."""
    whole = Trace()
    for trace in traces:
        whole.calls.update(trace.calls)
        whole.across += trace.across
    return whole


def answering_seconds(app: Flask, clients: int, rounds: int) -> float:
    """Returns the median of the seconds from sending an ask to its answer, clients at once."""

    def client(_number: int) -> list[float]:
        browser, seconds = app.test_client(), list[float]()
        for _ in range(rounds):
            form = read_page(browser.get("/").text).sent() | typed_ask()
            begun = time.perf_counter()
            page = _look(browser, _led_to(browser.post("/", data=form))).text
            seconds.append(time.perf_counter() - begun)
            assert re.search("/yarn\\?sku=", page)
        return seconds

    with ThreadPoolExecutor(clients) as browsers:
        return median(one for its in browsers.map(client, range(clients)) for one in its)


@contextmanager
def nothing_handed_over() -> Iterator[None]:
    """Makes the counter answer again on the answer's own page, as after a reload."""
    usual, answered.HANDED_OVER_SECONDS = answered.HANDED_OVER_SECONDS, 0.0
    try:
        yield
    finally:
        answered.HANDED_OVER_SECONDS = usual


def measure(shelves: Shelves) -> Iterator[Line]:
    """Yields each step of a visit, the whole, and the remembered answer."""
    with a_counter(shelves.demo()) as app:
        traces = traced(app)
        whole, alone = together(list(traces.values())), traces["send the ask"].calls.total()
        floor = f"to send the ask: {alone:,} calls"
        for name, trace in traces.items():
            yield Line("visit", name, trace.words, floor, trace.calls.total() / alone)
        yield Line("visit", "the whole visit", whole.words, floor, whole.calls.total() / alone)
        yield from remembered(app, shelves.scale.clients, shelves.scale.requests)


def remembered(app: Flask, clients: int, rounds: int) -> Iterator[Line]:
    """Yields how long an ask takes to its answer, for one client and for several at once."""
    for number in (1, clients):
        kept = answering_seconds(app, number, rounds)
        with nothing_handed_over():
            again = answering_seconds(app, number, rounds)
        what = f"an ask sent and its answer seen, {number} at once, the answer handed over"
        yield in_time("visit", what, kept, ("answered again on its page", again))
