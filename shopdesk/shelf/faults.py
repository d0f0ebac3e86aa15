"""What can be wrong with the database, named and told in words a shop can act on."""

import sqlite3

from sqlalchemy import Engine, event
from sqlalchemy.engine import ExceptionContext


class ShelfFault(RuntimeError):
    """The database cannot be used as it is; the message says what to do."""


class ShelfBroken(ShelfFault):
    """The file is damaged or is no database."""


class ShelfUnreachable(ShelfFault):
    """The file or the server cannot be opened."""


class ShelfNotWritable(ShelfFault):
    """The file or its folder is read-only."""


class ShelfFull(ShelfFault):
    """The disk has no room left."""


class ShelfBusy(ShelfFault):
    """Another program kept the database locked for too long."""


class ShelfNotReady(ShelfFault):
    """The database has no tables of ours, or those of an older version."""


class ShelfTooNew(ShelfFault):
    """The database was written by a newer version."""


SQLITE_FAULTS: dict[str, tuple[type[ShelfFault], str]] = {
    "SQLITE_NOTADB": (ShelfBroken, "{db} is not a database; restore it from a backup."),
    "SQLITE_CORRUPT": (ShelfBroken, "{db} is damaged; restore it from a backup."),
    "SQLITE_CANTOPEN": (ShelfUnreachable, "{db} cannot be opened; check the folder's rights."),
    "SQLITE_READONLY": (
        ShelfNotWritable,
        "{db} cannot be written; nothing was saved. Make the file and its folder writable.",
    ),
    "SQLITE_PERM": (ShelfNotWritable, "{db} cannot be written; nothing was saved."),
    "SQLITE_FULL": (ShelfFull, "The disk of {db} is full; nothing was saved. Make room."),
    "SQLITE_IOERR": (ShelfUnreachable, "The disk of {db} fails; nothing was saved."),
    "SQLITE_BUSY": (
        ShelfBusy,
        "Another program keeps {db} locked; nothing was saved. Try again.",
    ),
    "SQLITE_LOCKED": (ShelfBusy, "{db} is locked; nothing was saved. Try again."),
}
POSTGRESQL_FAULTS: dict[str, tuple[type[ShelfFault], str]] = {
    "08": (ShelfUnreachable, "The connection to {db} broke; nothing was saved."),
    "25": (ShelfNotWritable, "{db} takes no changes now; nothing was saved."),
    "28": (ShelfUnreachable, "{db} refuses this user or password."),
    "3D": (ShelfUnreachable, "{db} does not exist on the server."),
    "53": (ShelfFull, "The server of {db} has no room left; nothing was saved."),
    "55": (ShelfBusy, "{db} is locked; nothing was saved. Try again."),
    "57": (ShelfUnreachable, "The server of {db} is stopping; nothing was saved."),
    "XX": (ShelfBroken, "{db} is damaged; restore it from a backup."),
}
_NO_SERVER = (ShelfUnreachable, "The server of {db} does not answer; is it running?")


def name_faults(engine: Engine) -> None:
    """Makes the engine raise a ShelfFault in place of the driver's own error where one fits."""
    shown = engine.url.render_as_string(hide_password=True)
    if engine.dialect.name == "sqlite":
        shown = f"The database {engine.url.database}"

    @event.listens_for(engine, "handle_error")
    def _named(context: ExceptionContext) -> None:
        found = _fault_of(context.original_exception)
        if found is not None:
            kind, words = found
            text = words.format(db=shown)
            context.chained_exception = kind(text[:1].upper() + text[1:])


def _fault_of(error: BaseException) -> tuple[type[ShelfFault], str] | None:
    if isinstance(error, sqlite3.Error):
        name = getattr(error, "sqlite_errorname", None) or ""
        return next((f for prefix, f in SQLITE_FAULTS.items() if name.startswith(prefix)), None)
    if not hasattr(error, "sqlstate"):
        return None
    state = error.sqlstate
    if state is None:
        return _NO_SERVER if type(error).__name__ == "OperationalError" else None
    return POSTGRESQL_FAULTS.get(str(state)[:2])
