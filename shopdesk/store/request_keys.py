"""Lets a form that is sent twice do its work once, also where two servers get it at once."""

from datetime import datetime, timedelta

from sqlalchemy import delete, func, select
from sqlalchemy.orm import Session

from shopdesk.store.database import ignoring_twins
from shopdesk.store.tables.visits import UsedRequestKey
from shopdesk.store.types import now

KEPT_DAYS = 30


def first_time(session: Session, key: str | None) -> bool:
    """Notes a form's random word; returns False if its work was kept before.

    A twin that arrives meanwhile waits for this session's end. Without a word it is always True.
    """
    if not key:
        return True
    insert = ignoring_twins(session, UsedRequestKey, key=key, at=now()).returning(
        UsedRequestKey.key
    )
    return session.execute(insert).first() is not None


def forget_forms(session: Session, at: datetime | None = None) -> int:
    """Removes the words of forms that nobody can send any more. Returns how many there were."""
    old = UsedRequestKey.at < (at or now()) - timedelta(days=KEPT_DAYS)
    found = session.scalar(select(func.count(UsedRequestKey.key)).where(old)) or 0
    session.execute(delete(UsedRequestKey).where(old))
    return found
