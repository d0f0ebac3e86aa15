"""Has every change of a yarn write its words and its summary anew, in the same transaction."""

from sqlalchemy import event
from sqlalchemy.orm import Session, SessionTransaction, UOWTransaction

import shopdesk.store.models  # noqa: F401
from shopdesk.shelf.yarn_words import keep_words
from shopdesk.store.tables.yarns import Yarn, YarnAttribute, YarnFibre, YarnMeasurement

_DUE = "shopdesk_briefs_due"
_PARTS = (YarnFibre, YarnAttribute, YarnMeasurement)


def keep_beside_yarns() -> None:
    """From now on, has every session that changes a yarn leave its words and its summary."""
    keep_words()
    if not event.contains(Session, "after_flush", _note):
        event.listen(Session, "after_flush", _note)
        event.listen(Session, "before_commit", _write)
        event.listen(Session, "after_soft_rollback", _forget)


def _note(session: Session, _flushing: UOWTransaction) -> None:
    touched = [*session.new, *session.dirty, *session.deleted]
    due = {one.id for one in touched if isinstance(one, Yarn)}
    due |= {one.yarn_id for one in touched if isinstance(one, _PARTS)}
    if due:
        session.info.setdefault(_DUE, set()).update(due)


def _write(session: Session) -> None:
    session.flush()
    due = session.info.pop(_DUE, None)
    if due:
        from shopdesk.shelf.yarn_index import write_briefs

        write_briefs(session, due)


def _forget(session: Session, _transaction: SessionTransaction) -> None:
    session.info.pop(_DUE, None)
