"""Asks kept for the length of a visit, so that 'Back', a reload and a second customer lose nothing.

An ask is never changed in place: asking again keeps another one. Old ones are forgotten.
"""

import json
import secrets
from collections.abc import Mapping
from datetime import UTC, datetime, timedelta
from typing import Any

from sqlalchemy import String, Text, delete
from sqlalchemy.orm import Mapped, Session, mapped_column

from shopdesk.shelf.base import Base

KEPT_DAYS = 7
_TOKEN_BYTES = 12


class AskDraft(Base):
    """One ask document as it was asked; `token` is its random name in addresses."""

    __tablename__ = "ask_draft"

    token: Mapped[str] = mapped_column(String(32), primary_key=True)
    document: Mapped[str] = mapped_column(Text)
    made_at: Mapped[str] = mapped_column(String(32), index=True)


def keep_ask(session: Session, document: Mapping[str, Any], now: datetime | None = None) -> str:
    """Keeps an ask document and forgets those of more than KEPT_DAYS ago. Returns its token."""
    moment = now or datetime.now(UTC)
    session.execute(
        delete(AskDraft).where(AskDraft.made_at < _stamp(moment - timedelta(days=KEPT_DAYS)))
    )
    token = secrets.token_urlsafe(_TOKEN_BYTES)
    session.add(AskDraft(token=token, document=json.dumps(document), made_at=_stamp(moment)))
    return token


def kept_ask(session: Session, token: str) -> dict[str, Any] | None:
    """Returns a kept ask document, or None if it was forgotten or never there."""
    draft = session.get(AskDraft, token)
    if draft is None:
        return None
    document: dict[str, Any] = json.loads(draft.document)
    return document


def _stamp(moment: datetime) -> str:
    return moment.astimezone(UTC).strftime("%Y-%m-%dT%H:%M:%S")
