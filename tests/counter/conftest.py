"""A counter on an empty shelf, and a client that fills in its forms as a browser would."""

import shutil
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import pytest
from flask import Flask
from flask.testing import FlaskClient
from sqlalchemy import Engine
from werkzeug.test import TestResponse

from shopdesk.counter import answered
from shopdesk.counter.application import create_app
from shopdesk.counter.views import importing
from shopdesk.store.database import open_shelf
from tests.pages import Page, read_page

SECRET = b"a secret of the tests, 32 bytes."
PATIENCE_SECONDS = 120
"""Guards against waiting for ever; nothing here is late on a slow machine."""


@pytest.fixture(autouse=True)
def _work_is_waited_for(monkeypatch: pytest.MonkeyPatch) -> None:
    """Lets a page wait for its work to the end, so that a slow machine shows the same page."""
    monkeypatch.setattr(importing, "SECONDS_TO_WAIT", PATIENCE_SECONDS)
    monkeypatch.setattr(answered, "HANDED_OVER_SECONDS", PATIENCE_SECONDS)


@dataclass
class Counter:
    """A client with the habits of a browser: it sends every box of the page it looks at."""

    client: FlaskClient

    def look(self, path: str = "/") -> Page:
        """Returns the page at an address, which must be there."""
        answer = self.client.get(path)
        assert answer.status_code == 200, answer.text
        return read_page(answer.text)

    def fill(self, path: str = "/", page: Page | None = None, **typed: Any) -> TestResponse:
        """Sends the page's form with these boxes changed; '__' in a name stands for '-'."""
        sent = (page or self.look(path)).sent()
        for name, value in typed.items():
            sent[name.replace("__", "-")] = value if isinstance(value, list) else [value]
        return self.client.post(path, data=sent)


@pytest.fixture
def shelf(empty_shelf_file: Path, tmp_path: Path) -> Iterator[Engine]:
    """An empty shelf on SQLite: pages do not differ by the database."""
    engine = open_shelf(f"sqlite:///{shutil.copy(empty_shelf_file, tmp_path / 'shelf.sqlite3')}")
    yield engine
    engine.dispose()


@pytest.fixture
def app(shelf: Engine) -> Flask:
    return create_app(shelf, SECRET)


@pytest.fixture
def counter(app: Flask) -> Counter:
    return Counter(app.test_client())


@pytest.fixture
def demo_shelf(few_yarns_file: Path, tmp_path: Path) -> Iterator[Engine]:
    """A few yarns of the demo catalog."""
    engine = open_shelf(f"sqlite:///{shutil.copy(few_yarns_file, tmp_path / 'few.sqlite3')}")
    yield engine
    engine.dispose()


@pytest.fixture
def demo_counter(demo_shelf: Engine) -> Counter:
    """A counter with a few yarns of the demo catalog."""
    return Counter(create_app(demo_shelf, SECRET).test_client())
