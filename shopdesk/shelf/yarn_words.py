"""Keeps the words that yarns are found by: made anew whenever a yarn's names change."""

import unicodedata

from sqlalchemy import Connection, delete, event, insert, inspect
from sqlalchemy.orm import Mapper

from shopdesk.store.tables.yarns import LONGEST_WORD, Yarn, YarnWord

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
    if not event.contains(Yarn, "after_insert", _made):
        event.listen(Yarn, "after_insert", _made)
        event.listen(Yarn, "after_update", _changed)


def _write(connection: Connection, yarn: int, names: tuple[str | None, ...]) -> None:
    words = sorted({word for name in names if name for word in plain_words(name)})
    if words:
        rows = [{"word": word, "yarn_id": yarn} for word in words]
        connection.execute(insert(YarnWord), rows)


def _made(_mapper: Mapper[Yarn], connection: Connection, yarn: Yarn) -> None:
    _write(connection, yarn.id, (yarn.name, yarn.sku, yarn.weight_name))


def _changed(_mapper: Mapper[Yarn], connection: Connection, yarn: Yarn) -> None:
    state = inspect(yarn)
    if any(state.attrs[name].history.has_changes() for name in NAMES):
        connection.execute(delete(YarnWord).where(YarnWord.yarn_id == yarn.id))
        _write(connection, yarn.id, (yarn.name, yarn.sku, yarn.weight_name))
