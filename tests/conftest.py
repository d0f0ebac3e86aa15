"""Fixtures that any test may use; what the machine must have is in tests/machine.py."""

import shutil
import uuid
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import TYPE_CHECKING

import pytest
from hypothesis import HealthCheck, settings

from shopdesk.wording import translate
from tests.machine import (
    BROWSER_ARGUMENTS,
    EXAMPLES_IN_CI,
    in_ci,
    require_browser,
    require_postgres,
)

if TYPE_CHECKING:
    from playwright.sync_api import Browser
    from sqlalchemy import Engine

_SLOW_MACHINE = [HealthCheck.too_slow, HealthCheck.function_scoped_fixture]
_PATIENT = settings(deadline=None, suppress_health_check=_SLOW_MACHINE)
settings.register_profile("here", _PATIENT, max_examples=EXAMPLES_IN_CI // 2)
settings.register_profile("ci", _PATIENT, derandomize=True, max_examples=EXAMPLES_IN_CI)
settings.register_profile("full", _PATIENT, print_blob=True, max_examples=10 * EXAMPLES_IN_CI)
settings.load_profile("ci" if in_ci() else "here")


def pytest_configure() -> None:
    """A sentence without a text is an error in tests, not a fallback."""
    translate.fall_back = False


@pytest.fixture(autouse=True)
def _no_real_shop(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Keeps every test, and what it starts, away from the data of the user who runs it."""
    monkeypatch.setenv("SHOPDESK_DATA", str(tmp_path / "shop"))
    monkeypatch.delenv("SHOPDESK_DATABASE_URL", raising=False)


@pytest.fixture(autouse=True)
def _compared_verbs_are_called_both_ways(request: pytest.FixtureRequest) -> Iterator[None]:
    """Holds a test marked `compares` to its word: page and command call each verb it names."""
    verbs = [verb for mark in request.node.iter_markers("compares") for verb in mark.args]
    if not verbs:
        yield
        return
    from tests.services.verbs import called_both_ways

    with called_both_ways(*verbs):
        yield


@pytest.fixture(scope="session")
def browser() -> Iterator["Browser"]:
    """A headless Chromium that all browser tests of one worker share."""
    executable = require_browser()
    from playwright.sync_api import sync_playwright

    with sync_playwright() as playwright:
        chromium = playwright.chromium.launch(
            executable_path=executable, args=list(BROWSER_ARGUMENTS)
        )
        yield chromium
        chromium.close()


@contextmanager
def new_postgres_database(template: str | None = None) -> Iterator[str]:
    """Gives the URL of a new database, a copy of `template` if one is named, and drops it."""
    from sqlalchemy import create_engine, make_url, text

    server = make_url(require_postgres())
    name = f"shopdesk_{uuid.uuid4().hex}"
    like = f" TEMPLATE {make_url(template).database}" if template else ""
    admin = create_engine(server, isolation_level="AUTOCOMMIT")
    with admin.connect() as connection:
        connection.execute(text(f"CREATE DATABASE {name}{like}"))
    yield server.set(database=name).render_as_string(hide_password=False)
    with admin.connect() as connection:
        connection.execute(text(f"DROP DATABASE {name} WITH (FORCE)"))
    admin.dispose()


@pytest.fixture
def postgres_url() -> Iterator[str]:
    """The URL of a new, empty PostgreSQL database, dropped after the test."""
    with new_postgres_database() as url:
        yield url


@pytest.fixture(scope="session")
def empty_shelf_database() -> Iterator[str]:
    """A migrated, empty shelf on PostgreSQL that tests copy."""
    from shopdesk.store.database import open_shelf
    from shopdesk.store.upgrading import upgrade

    with new_postgres_database() as url:
        engine = open_shelf(url)
        upgrade(engine)
        engine.dispose()
        yield url


@pytest.fixture(scope="session")
def empty_shelf_file(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A migrated, empty SQLite shelf that tests copy."""
    from shopdesk.store.database import open_shelf
    from shopdesk.store.upgrading import upgrade

    path = tmp_path_factory.mktemp("empty") / "empty.sqlite3"
    engine = open_shelf(f"sqlite:///{path}")
    upgrade(engine)
    engine.dispose()
    return path


@pytest.fixture(params=["sqlite", "postgresql"])
def shelf_url(request: pytest.FixtureRequest, tmp_path: Path) -> Iterator[str]:
    """The address of a new, migrated, empty shelf; the test runs on both kinds of database."""
    if request.param == "sqlite":
        empty = request.getfixturevalue("empty_shelf_file")
        yield f"sqlite:///{shutil.copy(empty, tmp_path / 'shelf.sqlite3')}"
        return
    with new_postgres_database(request.getfixturevalue("empty_shelf_database")) as url:
        yield url


@pytest.fixture
def shelf(shelf_url: str) -> Iterator["Engine"]:
    """A migrated, empty shelf, on SQLite and on PostgreSQL."""
    from shopdesk.store.database import open_shelf

    engine = open_shelf(shelf_url)
    yield engine
    engine.dispose()


@pytest.fixture(scope="session")
def demo_shelf_file(tmp_path_factory: pytest.TempPathFactory, empty_shelf_file: Path) -> Path:
    """A SQLite shelf with the demo catalog that tests copy."""
    from shopdesk.store.database import open_shelf
    from shopdesk.upkeep.seeding import seed_demo

    path = shutil.copy(empty_shelf_file, tmp_path_factory.mktemp("demo") / "demo.sqlite3")
    engine = open_shelf(f"sqlite:///{path}")
    seed_demo(engine)
    engine.dispose()
    return path


@pytest.fixture
def demo_shelf(tmp_path: Path, demo_shelf_file: Path) -> Iterator["Engine"]:
    """A SQLite shelf of its own with the demo catalog."""
    from shopdesk.store.database import open_shelf

    path = shutil.copy(demo_shelf_file, tmp_path / "demo.sqlite3")
    engine = open_shelf(f"sqlite:///{path}")
    yield engine
    engine.dispose()


@pytest.fixture(scope="session")
def few_yarns_file(tmp_path_factory: pytest.TempPathFactory, demo_shelf_file: Path) -> Path:
    """The demo catalog with all yarns retired but those sold as DK and the first lace ones."""
    from sqlalchemy import update

    from shopdesk.shelf.writing import writing
    from shopdesk.shelf.yarn_index import refresh_index
    from shopdesk.store.database import open_shelf
    from shopdesk.store.models import Yarn

    path = shutil.copy(demo_shelf_file, tmp_path_factory.mktemp("few") / "few.sqlite3")
    engine = open_shelf(f"sqlite:///{path}")
    kept = Yarn.sku.like("OY-31%") | Yarn.sku.like("OY-010%")
    with writing(engine) as session:
        session.execute(update(Yarn).where(~kept).values(retired=True))
        refresh_index(session)
    engine.dispose()
    return path
