"""What the tests need of the machine: a missing piece is a failure in CI, elsewhere a skip."""

import os
import shutil
from typing import NoReturn

import pytest
from hypothesis import settings

EXAMPLES_IN_CI = 100
POSTGRES_VARIABLE = "SHOPDESK_TEST_POSTGRES_URL"
TIMES_VARIABLE = "SHOPDESK_TEST_TIMES"
BROWSERS = ("chromium", "chromium-browser")
BROWSER_ARGUMENTS = (
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
)


def in_ci() -> bool:
    """Returns whether nothing may be skipped, which is what CI=true asks for."""
    return os.environ.get("CI", "").strip().casefold() in {"1", "true", "yes"}


def times() -> int:
    """Returns how many times as much a test by chance does as usual: 1, or more in .ci/full."""
    return int(os.environ.get(TIMES_VARIABLE, "1"))


def examples(usual: int) -> int:
    """Returns how many examples a slow property gets: ten times as many in the profile 'full'."""
    return usual * max(1, settings().max_examples // EXAMPLES_IN_CI)


def missing(what: str) -> NoReturn:
    """Ends the running test: as a failure in CI, as a skip elsewhere."""
    if in_ci():
        pytest.fail(f"{what}, and CI must not skip", pytrace=False)
    pytest.skip(what)


def require_tool(*names: str) -> str:
    """Returns the path of the first program of these names that is installed."""
    for name in names:
        path = shutil.which(name)
        if path is not None:
            return path
    missing(f"the program {' or '.join(names)} is not installed")


def require_browser() -> str:
    """Returns the path of a Chromium."""
    return require_tool(*BROWSERS)


def require_postgres() -> str:
    """Returns the URL of a PostgreSQL server on which the tests may make databases."""
    url = os.environ.get(POSTGRES_VARIABLE, "")
    if not url:
        missing(f"{POSTGRES_VARIABLE} names no PostgreSQL server (see .ci/with-postgres)")
    return url
