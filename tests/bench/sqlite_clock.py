"""Tells how long SQLite itself works for an engine: its statements and the fetching of rows."""

import sqlite3
import time
from dataclasses import dataclass
from typing import Any

from sqlalchemy import Engine, event


@dataclass
class Clock:
    """The seconds that SQLite has worked so far."""

    seconds: float = 0.0


def clocked(engine: Engine) -> Clock:
    """Returns the clock of all connections that the engine makes from now on."""
    clock = Clock()
    factory = _connection_with(clock)

    def choose(
        _dialect: object, _record: object, _args: list[Any], options: dict[str, Any]
    ) -> None:
        options["factory"] = factory

    event.listen(engine, "do_connect", choose, insert=True)
    return clock


def _connection_with(clock: Clock) -> type[sqlite3.Connection]:
    class ClockedCursor(sqlite3.Cursor):
        """A cursor whose work is timed."""

    def clocked_method(name: str) -> Any:
        plain = getattr(sqlite3.Cursor, name)

        def method(self: sqlite3.Cursor, *arguments: Any) -> Any:
            begun = time.perf_counter()
            try:
                return plain(self, *arguments)
            finally:
                clock.seconds += time.perf_counter() - begun

        return method

    for name in ("execute", "executemany", "fetchone", "fetchmany", "fetchall"):
        setattr(ClockedCursor, name, clocked_method(name))

    class ClockedConnection(sqlite3.Connection):
        """A connection with such cursors."""

        def cursor(self, factory: Any = ClockedCursor) -> Any:
            return super().cursor(factory)

    return ClockedConnection
