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

from shopdesk.store.models import SavedAsk
from shopdesk.store.types import now as present_moment

KEPT_DAYS = 7
_TOKEN_LETTERS = 24


def new_request_key() -> str:
    """Returns a random name for one filled-in form, so that the form can be sent twice."""
    return secrets.token_urlsafe(12)


def token_of(sheet: str, document: Mapping[str, Any]) -> str:
    """Returns the token of an ask from one form: the same for the same form and ask."""
    said = json.dumps([sheet, document], sort_keys=True)
    return hashlib.sha256(said.encode()).hexdigest()[:_TOKEN_LETTERS]


def save_ask(
    session: Session, sheet: str, document: Mapping[str, Any], now: datetime | None = None
) -> bool:
    """Keeps an ask document under its token and forgets those of more than KEPT_DAYS ago.

    Returns False if the same form was sent before with the same ask; nothing is changed then.
    """
    moment = now or present_moment()
    token = token_of(sheet, document)
    if session.get(SavedAsk, token) is not None:
        return False
    session.execute(delete(SavedAsk).where(SavedAsk.kept_at < moment - timedelta(days=KEPT_DAYS)))
    session.add(SavedAsk(token=token, document=dict(document), kept_at=moment))
    return True


def saved_ask(session: Session, token: str) -> dict[str, Any] | None:
    """Returns a kept ask document, or None if it was forgotten or never there."""
    kept = session.get(SavedAsk, token)
    return None if kept is None else kept.document
