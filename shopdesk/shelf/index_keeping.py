"""Has every change of a yarn write its words and its summary anew, in the same transaction.

The words are those it is found by.
"""

import unicodedata

from sqlalchemy import Connection, delete, event, insert, inspect
from sqlalchemy.orm import Mapper, Session, SessionTransaction, UOWTransaction

import shopdesk.store.models  # noqa: F401
from shopdesk.store.tables.yarns import (
    LONGEST_WORD,
    Yarn,
    YarnAttribute,
    YarnFibre,
    YarnMeasurement,
    YarnWord,
)

_DUE = "shopdesk_summaries_due"
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
        from shopdesk.shelf.yarn_index import write_summaries

        write_summaries(session, due)


def _forget(session: Session, _transaction: SessionTransaction) -> None:
    session.info.pop(_DUE, None)


NAMES = ("name", "sku", "weight_name")


def plain_words(text: str) -> list[str]:
    """Returns the words of a text in small letters without accents, in their order.

    Whatever is neither letter nor digit parts two words.
    """
    apart = unicodedata.normalize("NFKD", text.casefold())
    kept = (c for c in apart if not unicodedata.combining(c))
    spaced = "".join(c if c.isalnum() else " " for c in kept)
    return [word[:LONGEST_WORD] for word in spaced.split()]


def keep_words() -> None:
    """From now on, has every yarn that is stored or renamed leave its words."""
    if not event.contains(Yarn, "after_insert", _words_of_new):
        event.listen(Yarn, "after_insert", _words_of_new)
        event.listen(Yarn, "after_update", _words_of_changed)


def _write_words(connection: Connection, yarn: int, names: tuple[str | None, ...]) -> None:
    words = sorted({word for name in names if name for word in plain_words(name)})
    if words:
        rows = [{"word": word, "yarn_id": yarn} for word in words]
        connection.execute(insert(YarnWord), rows)


def _words_of_new(_mapper: Mapper[Yarn], connection: Connection, yarn: Yarn) -> None:
    _write_words(connection, yarn.id, (yarn.name, yarn.sku, yarn.weight_name))


def _words_of_changed(_mapper: Mapper[Yarn], connection: Connection, yarn: Yarn) -> None:
    state = inspect(yarn)
    if any(state.attrs[name].history.has_changes() for name in NAMES):
        connection.execute(delete(YarnWord).where(YarnWord.yarn_id == yarn.id))
        _write_words(connection, yarn.id, (yarn.name, yarn.sku, yarn.weight_name))
