"""Kept asks: found by their token, apart from each other, and forgotten after a week."""

from datetime import UTC, datetime, timedelta

from sqlalchemy import Engine

from shopdesk.shelf.database import reading, writing
from shopdesk.visits.drafts import KEPT_DAYS, keep_ask, kept_ask

NOON = datetime(2026, 3, 2, 12, tzinfo=UTC)


def test_an_ask_is_kept_as_it_was_asked(shelf: Engine) -> None:
    document = {"craft": "knit", "title": "naïve \u0000 hat", "parts": [{"name": "MC"}]}
    with writing(shelf) as session:
        first, second = keep_ask(session, document), keep_ask(session, {"craft": "crochet"})
    assert first != second
    with reading(shelf) as session:
        assert kept_ask(session, first) == document
        assert kept_ask(session, "nothing") is None


def test_an_old_ask_is_forgotten_when_another_is_kept(shelf: Engine) -> None:
    with writing(shelf) as session:
        token = keep_ask(session, {}, NOON)
        keep_ask(session, {}, NOON + timedelta(days=KEPT_DAYS))
        assert kept_ask(session, token) == {}
    with writing(shelf) as session:
        keep_ask(session, {}, NOON + timedelta(days=KEPT_DAYS, seconds=1))
    with reading(shelf) as session:
        assert kept_ask(session, token) is None
