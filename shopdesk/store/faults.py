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
    "SQLITE_NOTADB": (ShelfBroken, "The file {db} is not a database; restore it from a backup."),
    "SQLITE_CORRUPT": (ShelfBroken, "The database {db} is damaged; restore it from a backup."),
    "SQLITE_CANTOPEN": (
        ShelfUnreachable,
        "The database {db} cannot be opened; check the folder's rights.",
    ),
    "SQLITE_READONLY": (
        ShelfNotWritable,
        "The database {db} cannot be written; nothing was saved. "
        "Make the file and its folder writable.",
    ),
    "SQLITE_PERM": (ShelfNotWritable, "The database {db} cannot be written; nothing was saved."),
    "SQLITE_FULL": (ShelfFull, "The disk of {db} is full; nothing was saved. Make room."),
    "SQLITE_IOERR": (ShelfUnreachable, "The disk of {db} fails; nothing was saved."),
    "SQLITE_BUSY": (
        ShelfBusy,
        "Another program keeps the database {db} locked; nothing was saved. Try again.",
    ),
    "SQLITE_LOCKED": (ShelfBusy, "The database {db} is locked; nothing was saved. Try again."),
}
POSTGRESQL_FAULTS: dict[str, tuple[type[ShelfFault], str]] = {
    "08": (ShelfUnreachable, "The connection to {db} broke; nothing was saved."),
    "25006": (ShelfNotWritable, "The database {db} takes no changes now; nothing was saved."),
    "28": (ShelfUnreachable, "The database {db} refuses this user or password."),
    "3D": (ShelfUnreachable, "The database {db} does not exist on the server."),
    "40": (ShelfBusy, "Another counter was quicker; nothing was saved. Try again."),
    "53": (ShelfFull, "The server of {db} has no room left; nothing was saved."),
    "55": (ShelfBusy, "The database {db} is locked; nothing was saved. Try again."),
    "57": (ShelfUnreachable, "The server of {db} is stopping; nothing was saved."),
    "XX": (ShelfBroken, "The database {db} is damaged; restore it from a backup."),
}
_NO_SERVER = (ShelfUnreachable, "The server of {db} does not answer; is it running?")


def name_faults(engine: Engine) -> None:
    """Makes the engine raise a ShelfFault in place of the driver's own error where one fits."""
    shown = engine.url.database or "in memory"
    if engine.url.host:
        shown = f"{shown} on {engine.url.host}"

    @event.listens_for(engine, "handle_error", retval=True)
    def _named(context: ExceptionContext) -> BaseException | None:
        found = fault_of(context.original_exception)
        if found is None:
            return None
        kind, words = found
        return kind(words.format(db=shown))


def fault_of(error: BaseException) -> tuple[type[ShelfFault], str] | None:
    """Returns the fault that a driver's error is, and its words with '{db}' in them, or None."""
    if isinstance(error, sqlite3.Error):
        name = getattr(error, "sqlite_errorname", None) or ""
        return next((f for prefix, f in SQLITE_FAULTS.items() if name.startswith(prefix)), None)
    if not hasattr(error, "sqlstate"):
        return None
    state = error.sqlstate
    if state is None:
        return _unreachable(error) if type(error).__name__ == "OperationalError" else None
    return next((f for prefix, f in POSTGRESQL_FAULTS.items() if state.startswith(prefix)), None)


def _unreachable(error: BaseException) -> tuple[type[ShelfFault], str]:
    """Tells a server that says why it refuses from one that does not answer."""
    _, fatal, why = str(error).partition("FATAL:")
    if not fatal:
        return _NO_SERVER
    said = why.strip().splitlines()[0].replace("{", "(").replace("}", ")")
    return ShelfUnreachable, "The database {db} cannot be opened: " + said + "."
