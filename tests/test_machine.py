"""A missing tool fails in CI and skips elsewhere; PostgreSQL databases come and go."""

import pytest
from sqlalchemy import create_engine, text

from tests.machine import POSTGRES_VARIABLE, require_postgres, require_tool


def test_a_missing_tool_fails_in_ci(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("CI", "true")
    with pytest.raises(pytest.fail.Exception, match="no-such-program"):
        require_tool("no-such-program")


def test_a_missing_tool_skips_elsewhere(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.delenv("CI", raising=False)
    with pytest.raises(pytest.skip.Exception, match="no-such-program"):
        require_tool("no-such-program")


def test_the_first_installed_tool_is_taken() -> None:
    assert require_tool("no-such-program", "sh").endswith("/sh")


def test_a_missing_database_fails_in_ci(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("CI", "true")
    monkeypatch.delenv(POSTGRES_VARIABLE, raising=False)
    with pytest.raises(pytest.fail.Exception, match=POSTGRES_VARIABLE):
        require_postgres()


def test_each_postgres_database_is_new_and_empty(postgres_url: str) -> None:
    engine = create_engine(postgres_url)
    with engine.begin() as connection:
        tables = connection.scalar(
            text("SELECT count(*) FROM information_schema.tables WHERE table_schema = 'public'")
        )
    engine.dispose()
    assert tables == 0
