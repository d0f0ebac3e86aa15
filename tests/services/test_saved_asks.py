"""Kept asks: found by their token, apart from each other, and forgotten after a week."""

from datetime import UTC, datetime, timedelta

from sqlalchemy import Engine

from shopdesk.services.asks import KEPT_DAYS, save_ask, saved_ask, token_of
from shopdesk.shelf.writing import writing
from shopdesk.store.database import reading

NOON = datetime(2026, 3, 2, 12, tzinfo=UTC)


def test_an_ask_is_kept_as_it_was_asked(shelf: Engine) -> None:
    document = {"craft": "knit", "title": "naïve \u0000 hat", "parts": [{"name": "MC"}]}
    with writing(shelf) as session:
        assert save_ask(session, "sheet", document)
    with reading(shelf) as session:
        assert saved_ask(session, token_of("sheet", document)) == document
        assert saved_ask(session, "nothing") is None


def test_a_form_sent_twice_keeps_one_ask(shelf: Engine) -> None:
    with writing(shelf) as session:
        assert save_ask(session, "sheet", {"craft": "knit"})
        assert not save_ask(session, "sheet", {"craft": "knit"})
        assert save_ask(session, "sheet", {"craft": "crochet"})
        assert save_ask(session, "another", {"craft": "knit"})


def test_an_old_ask_is_forgotten_when_another_is_kept(shelf: Engine) -> None:
    token = token_of("old", {})
    with writing(shelf) as session:
        save_ask(session, "old", {}, NOON)
        save_ask(session, "second", {}, NOON + timedelta(days=KEPT_DAYS))
        assert saved_ask(session, token) == {}
    with writing(shelf) as session:
        save_ask(session, "third", {}, NOON + timedelta(days=KEPT_DAYS, seconds=1))
    with reading(shelf) as session:
        assert saved_ask(session, token) is None
