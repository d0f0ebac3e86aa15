"""Asks kept for the length of a visit, so that 'Back', a reload and a second customer lose nothing.

An ask is never changed in place: asking again keeps another one. Old ones are forgotten.
"""

import hashlib
import json
import secrets
from collections.abc import Mapping
from datetime import datetime, timedelta
from typing import Any

from sqlalchemy import delete
from sqlalchemy.orm import Session

from shopdesk.shop.shop import Shop
from shopdesk.store.tables.visits import SavedAsk

KEPT_DAYS = 7
_TOKEN_LETTERS = 24


def new_request_key() -> str:
    """Returns a random name for one filled-in form, so that the form can be sent twice."""
    return secrets.token_urlsafe(12)


def token_of(request_key: str, document: Mapping[str, Any]) -> str:
    """Returns the token of an ask from one form: the same for the same form and ask."""
    said = json.dumps([request_key, document], sort_keys=True)
    return hashlib.sha256(said.encode()).hexdigest()[:_TOKEN_LETTERS]


def save_ask(shop: Shop, request_key: str, document: Mapping[str, Any]) -> str:
    """Keeps an ask document without answering it. Returns its token."""
    with shop.write() as session:
        keep_document(session, request_key, document, shop.clock())
    return token_of(request_key, document)


def saved_ask(shop: Shop, token: str) -> dict[str, Any] | None:
    """Returns a kept ask document, or None if it was forgotten or never there."""
    with shop.read() as session:
        kept = session.get(SavedAsk, token)
        return None if kept is None else kept.document


def keep_document(
    session: Session, request_key: str, document: Mapping[str, Any], moment: datetime
) -> bool:
    """Keeps an ask document under its token and forgets those of more than KEPT_DAYS ago.

    Returns False if the same form was sent before with the same ask; nothing is changed then.
    """
    token = token_of(request_key, document)
    if session.get(SavedAsk, token) is not None:
        return False
    session.execute(delete(SavedAsk).where(SavedAsk.kept_at < moment - timedelta(days=KEPT_DAYS)))
    session.add(SavedAsk(token=token, document=dict(document), kept_at=moment))
    return True
