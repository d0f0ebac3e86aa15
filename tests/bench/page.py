"""The answer's page under several clients at once, against a trivial page of the same server."""

import random
import sys
import threading
import time
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from http.client import HTTPConnection
from pathlib import Path
from statistics import median
from urllib.parse import urlsplit

from shopdesk.answering.ask.ask_reading import read_ask
from shopdesk.answering.ask.document import AskRefused
from shopdesk.services.asks import save_ask
from shopdesk.shop.shop import Shop
from tests.bench.answers import SEED
from tests.bench.lines import Line, in_time
from tests.bench.shelves import ROOT, Shelves, opened
from tests.random_asks import random_ask
from tests.terminal.running import Served, served

PATIENCE_SECONDS = 600
TRIVIAL = "/health"


def kept_asks(data: Path, number: int) -> list[str]:
    """Keeps so many asks in the shop, as the counter does, and returns their pages' addresses."""
    chance, tokens = random.Random(SEED), list[str]()
    with opened(data) as engine:
        while len(tokens) < number:
            document = random_ask(chance)
            try:
                read_ask(document)
            except AskRefused:
                continue
            tokens.append(save_ask(Shop(engine), f"sheet {len(tokens)}", document))
    return [f"/asks/{token}" for token in tokens]


@contextmanager
def serving(data: Path) -> Iterator[Served]:
    """Serves the counter on a shelf, in a process of its own, without copying it meanwhile."""
    command = (sys.executable, "-m", "shopdesk", "--data", data)
    with served(
        "--backups-kept", "0", command=command, cwd=ROOT, patience_seconds=PATIENCE_SECONDS
    ) as counter:
        yield counter


def page(connection: HTTPConnection, path: str) -> tuple[float, bytes]:
    """Returns how long one page took, and what it was."""
    begun = time.perf_counter()
    connection.request("GET", path)
    reply = connection.getresponse()
    body = reply.read()
    seconds = time.perf_counter() - begun
    assert reply.status == 200, (path, reply.status)
    return seconds, body


def look_at(address: str, paths: Sequence[str]) -> None:
    """Asks for each page once, and makes sure that they are answers that lead to yarns."""
    connection = HTTPConnection(urlsplit(address).netloc, timeout=PATIENCE_SECONDS)
    bodies = {path: page(connection, path)[1] for path in paths}
    connection.close()
    assert any(f"{path}/yarn?sku=".encode() in body for path, body in bodies.items())


def at_once(address: str, clients: int, paths: Sequence[str], requests: int) -> list[float]:
    """Returns the seconds of each request of so many clients, which all begin together."""
    start, seconds = threading.Barrier(clients), list[float]()
    place = urlsplit(address)

    def client(number: int) -> None:
        connection = HTTPConnection(place.hostname or "", place.port, timeout=PATIENCE_SECONDS)
        start.wait()
        for turn in range(requests):
            took, _ = page(connection, paths[(number + turn) % len(paths)])
            seconds.append(took)
        connection.close()

    threads = [threading.Thread(target=client, args=(number,)) for number in range(clients)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert len(seconds) == clients * requests, "a client was not answered"
    return seconds


def measure(shelves: Shelves) -> Iterator[Line]:
    """Yields the page on the demo shelf and on the large one."""
    scale = shelves.scale
    places = {"the demo shelf": shelves.demo(), scale.design.words: shelves.design()}
    for words, data in places.items():
        paths = kept_asks(data, scale.clients)
        with serving(data) as counter:
            look_at(counter.address, paths)
            trivial = at_once(counter.address, scale.clients, [TRIVIAL], scale.requests * 5)
            answers = at_once(counter.address, scale.clients, paths, scale.requests)
        what = f"answer's page, {words}, {scale.clients} clients at once"
        floor = f"{TRIVIAL} of the same server, as many clients", median(trivial)
        yield in_time("page", what, median(answers), floor)
