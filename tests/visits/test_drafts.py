"""Kept asks: found by their token, apart from each other, and forgotten after a week."""

from datetime import UTC, datetime, timedelta

from sqlalchemy import Engine

from shopdesk.shelf.database import reading, writing
from shopdesk.visits.drafts import KEPT_DAYS, keep_ask, kept_ask, token_of

NOON = datetime(2026, 3, 2, 12, tzinfo=UTC)


def test_an_ask_is_kept_as_it_was_asked(shelf: Engine) -> None:
    document = {"craft": "knit", "title": "naïve \u0000 hat", "parts": [{"name": "MC"}]}
    with writing(shelf) as session:
        assert keep_ask(session, "sheet", document)
    with reading(shelf) as session:
        assert kept_ask(session, token_of("sheet", document)) == document
        assert kept_ask(session, "nothing") is None


def test_a_form_sent_twice_keeps_one_ask(shelf: Engine) -> None:
    with writing(shelf) as session:
        assert keep_ask(session, "sheet", {"craft": "knit"})
        assert not keep_ask(session, "sheet", {"craft": "knit"})
        assert keep_ask(session, "sheet", {"craft": "crochet"})
        assert keep_ask(session, "another", {"craft": "knit"})


def test_an_old_ask_is_forgotten_when_another_is_kept(shelf: Engine) -> None:
    token = token_of("old", {})
    with writing(shelf) as session:
        keep_ask(session, "old", {}, NOON)
        keep_ask(session, "second", {}, NOON + timedelta(days=KEPT_DAYS))
        assert kept_ask(session, token) == {}
    with writing(shelf) as session:
        keep_ask(session, "third", {}, NOON + timedelta(days=KEPT_DAYS, seconds=1))
    with reading(shelf) as session:
        assert kept_ask(session, token) is None
