"""Kept asks: found by their token, apart from each other, and forgotten after a week."""

from datetime import UTC, datetime, timedelta

from sqlalchemy import Engine

from shopdesk.services.asks import (
    keep_document,
    new_request_key,
    save_ask,
    saved_ask,
    token_of,
)
from shopdesk.shelf.writing import writing
from shopdesk.shop.shop import Shop

NOON = datetime(2026, 3, 2, 12, tzinfo=UTC)


def test_an_ask_is_kept_as_it_was_asked(shelf: Engine) -> None:
    document = {"craft": "knit", "title": "naïve \u0000 hat", "parts": [{"name": "MC"}]}
    assert save_ask(Shop(shelf), "sheet", document) == token_of("sheet", document)
    assert saved_ask(Shop(shelf), token_of("sheet", document)) == document
    assert saved_ask(Shop(shelf), "nothing") is None


def test_a_form_sent_twice_keeps_one_ask(shelf: Engine) -> None:
    with writing(shelf) as session:
        assert keep_document(session, "sheet", {"craft": "knit"}, NOON)
        assert not keep_document(session, "sheet", {"craft": "knit"}, NOON)
        assert keep_document(session, "sheet", {"craft": "crochet"}, NOON)
        assert keep_document(session, "another", {"craft": "knit"}, NOON)


def test_an_old_ask_is_forgotten_when_another_is_kept(shelf: Engine) -> None:
    def after(**waited: int) -> Shop:
        return Shop(shelf, clock=lambda: NOON + timedelta(**waited))

    token = save_ask(after(), "old", {})
    save_ask(after(days=7), "second", {})
    assert saved_ask(Shop(shelf), token) == {}
    save_ask(after(days=7, seconds=1), "third", {})
    assert saved_ask(Shop(shelf), token) is None


def test_forms_and_asks_have_names_of_96_bits() -> None:
    """That is 12 bytes: in base64 of 6 bits a letter 16 letters, in hexadecimal 24 (RFC 4648)."""
    first, second = new_request_key(), new_request_key()
    assert (len(first), len(second)) == (16, 16)
    assert first != second
    assert len(token_of(first, {})) == 24
