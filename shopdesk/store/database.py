"""Opens the database so that two counters cannot overwrite each other, on SQLite or PostgreSQL.

SQLite: every writing session begins with BEGIN IMMEDIATE, so that what it reads stays true
until it commits; readers see one moment of the shelf and never wait (WAL).
PostgreSQL: readers get REPEATABLE READ, READ ONLY; writers lock the stock rows they change.
"""

import os
import sqlite3
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

from sqlalchemy import Connection, Engine, Insert, create_engine, event, make_url
from sqlalchemy.orm import Session
from sqlalchemy.pool import StaticPool

from shopdesk.store.faults import name_faults

BUSY_SECONDS = 30
WRITES = "shopdesk_writes"
DRAFTS = "shopdesk_drafts"
USUAL_KIB = 2000
ROOMY_KIB = 32_768


def open_shelf(url: str) -> Engine:
    """Returns the engine for a database address. Nothing is created or changed yet."""
    address = make_url(url)
    options: dict[str, Any] = {}
    if address.get_backend_name() == "sqlite":
        options["connect_args"] = {"timeout": BUSY_SECONDS, "check_same_thread": False}
        if not address.database or address.database == ":memory:":
            options["poolclass"] = StaticPool
    else:
        options["pool_pre_ping"] = True
    engine = create_engine(address, **options)
    if engine.dialect.name == "sqlite":
        event.listen(engine, "do_connect", _connect_sqlite)
        event.listen(engine, "connect", _prepare_sqlite)
        event.listen(engine, "begin", _begin_sqlite)
    name_faults(engine)
    return engine


@contextmanager
def reading(engine: Engine) -> Iterator[Session]:
    """Gives a session that sees one moment of the shelf and cannot change it."""
    options = _reading_options(engine)
    with Session(engine.execution_options(**options), autoflush=False) as session:
        yield session


@contextmanager
def drafting(engine: Engine) -> Iterator[Session]:
    """Gives a session that may fill temporary tables; nothing of its work is ever kept.

    It locks out no writer, and sees one moment of the shelf.
    """
    options: dict[str, Any] = {WRITES: False, DRAFTS: True}
    if engine.dialect.name == "postgresql":
        options["isolation_level"] = "REPEATABLE READ"
    with Session(engine.execution_options(**options), autoflush=False) as session:
        yield session
        session.rollback()


def ignoring_twins(session: Session, model: type, **values: object) -> Insert:
    """Returns an INSERT that does nothing where another writer was quicker with the same key."""
    if session.get_bind().dialect.name == "postgresql":
        from sqlalchemy.dialects.postgresql import insert as insert_into_postgresql

        return insert_into_postgresql(model).values(**values).on_conflict_do_nothing()
    from sqlalchemy.dialects.sqlite import insert

    return insert(model).values(**values).on_conflict_do_nothing()


@contextmanager
def roomy(session: Session) -> Iterator[None]:
    """Lets SQLite keep more pages in memory while very many rows pass; else nothing changes."""
    if session.get_bind().dialect.name != "sqlite":
        yield
        return
    _keep_pages(session, ROOMY_KIB)
    try:
        yield
    finally:
        _keep_pages(session, USUAL_KIB)


def _keep_pages(session: Session, kib: int) -> None:
    for part in ("main", "temp"):
        session.connection().exec_driver_sql(f"PRAGMA {part}.cache_size = -{kib}")


def _reading_options(engine: Engine) -> dict[str, Any]:
    if engine.dialect.name == "postgresql":
        return {"isolation_level": "REPEATABLE READ", "postgresql_readonly": True}
    return {WRITES: False}


def _connect_sqlite(
    _dialect: object, _record: object, arguments: list[Any], options: dict[str, Any]
) -> sqlite3.Connection | None:
    """Opens a file in a read-only folder so that it can still be read; None is the usual way.

    The write-ahead log needs a writable folder. A file with no log beside it holds everything,
    and can be read as one that does not change.
    """
    path = Path(arguments[0])
    log = path.with_name(path.name + "-wal")
    if not path.is_file() or log.exists() or os.access(path.parent, os.W_OK):
        return None
    address = f"{path.absolute().as_uri()}?mode=ro&immutable=1"
    connection: sqlite3.Connection = sqlite3.connect(address, uri=True, **options)
    return connection


def _prepare_sqlite(connection: sqlite3.Connection, _record: object) -> None:
    """Takes transactions out of the driver's hands and sets what holds for a connection."""
    connection.isolation_level = None
    connection.execute("PRAGMA foreign_keys = ON")
    connection.execute("PRAGMA synchronous = FULL")
    journal = connection.execute("PRAGMA journal_mode").fetchone()[0]
    if journal not in ("wal", "memory"):
        _turn_to_wal(connection)


def _turn_to_wal(connection: sqlite3.Connection) -> None:
    """Switches a new file to the write-ahead log; a file that is busy or read-only stays."""
    try:
        connection.execute("PRAGMA journal_mode = WAL")
    except sqlite3.OperationalError as error:
        if not error.sqlite_errorname.startswith(("SQLITE_BUSY", "SQLITE_READONLY")):
            raise


def _begin_sqlite(connection: Connection) -> None:
    options = connection.get_execution_options()
    writes, drafts = options.get(WRITES, True), options.get(DRAFTS, False)
    connection.exec_driver_sql(f"PRAGMA query_only = {'OFF' if writes or drafts else 'ON'}")
    connection.exec_driver_sql("BEGIN IMMEDIATE" if writes else "BEGIN")
