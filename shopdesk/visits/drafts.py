"""Asks kept for the length of a visit, so that 'Back', a reload and a second customer lose nothing.

An ask is never changed in place: asking again keeps another one. Old ones are forgotten.
"""

import secrets
from collections.abc import Mapping
from datetime import datetime, timedelta
from typing import Any

from sqlalchemy import delete
from sqlalchemy.orm import Session

from shopdesk.shelf.columns import now as present_moment
from shopdesk.shelf.models import KeptAsk

KEPT_DAYS = 7
_TOKEN_BYTES = 12


def keep_ask(session: Session, document: Mapping[str, Any], now: datetime | None = None) -> str:
    """Keeps an ask document and forgets those of more than KEPT_DAYS ago. Returns its token."""
    moment = now or present_moment()
    session.execute(delete(KeptAsk).where(KeptAsk.kept_at < moment - timedelta(days=KEPT_DAYS)))
    token = secrets.token_urlsafe(_TOKEN_BYTES)
    session.add(KeptAsk(token=token, document=dict(document), kept_at=moment))
    return token


def kept_ask(session: Session, token: str) -> dict[str, Any] | None:
    """Returns a kept ask document, or None if it was forgotten or never there."""
    kept = session.get(KeptAsk, token)
    return None if kept is None else kept.document
