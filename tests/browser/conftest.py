"""A counter with a few yarns of the demo catalog, served on loopback for a real browser."""

import shutil
import threading
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

import pytest
from flask import Flask
from waitress.server import create_server

from shopdesk.counter.application import create_app
from shopdesk.store.database import open_shelf

if TYPE_CHECKING:
    from playwright.sync_api import Browser, BrowserContext, Page

SECRET = b"a secret of the tests, 32 bytes."
PATIENCE_MS = 60_000


@dataclass(frozen=True)
class Served:
    """A counter being served: its address, and its application for what tests prepare."""

    address: str
    app: Flask


@pytest.fixture(scope="session")
def served(few_yarns_file: Path, tmp_path_factory: pytest.TempPathFactory) -> Iterator[Served]:
    """A counter that all browser tests of one worker share."""
    path = shutil.copy(few_yarns_file, tmp_path_factory.mktemp("served") / "shop.sqlite3")
    engine = open_shelf(f"sqlite:///{path}")
    app = create_app(engine, SECRET)
    server = create_server(app, host="127.0.0.1", port=0, threads=4)
    serving = threading.Thread(target=server.run, daemon=True)
    serving.start()
    yield Served(f"http://127.0.0.1:{server.effective_port}", app)
    server.close()
    serving.join(timeout=10)
    engine.dispose()


@pytest.fixture
def address(served: Served) -> str:
    """The address of the counter."""
    return served.address


@dataclass
class Watched:
    """A browser's page with what it complained about."""

    page: "Page"
    complaints: list[str]


def open_page(context: "BrowserContext", address: str) -> Watched:
    """Returns a page at the counter that notes every complaint of the browser."""
    page = context.new_page()
    page.set_default_timeout(PATIENCE_MS)
    complaints: list[str] = []
    page.on("console", lambda said: complaints.append(said.text) if said.type == "error" else None)
    page.on("pageerror", lambda error: complaints.append(str(error)))
    page.goto(address)
    return Watched(page, complaints)


@pytest.fixture
def watched(browser: "Browser", address: str) -> Iterator[Watched]:
    """A page at the counter; the test fails if the browser complained about anything."""
    context = browser.new_context(viewport={"width": 1280, "height": 900})
    seen = open_page(context, address)
    yield seen
    context.close()
    refused = [one for one in seen.complaints if "status of 4" not in one]
    assert refused == []
