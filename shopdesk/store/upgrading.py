"""Brings a database to the schema of this version, or says why it cannot be used as it is.

Alembic is only imported where there is something to do: `check_version` is what a command pays.
"""

import sqlite3
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import TYPE_CHECKING

from sqlalchemy import Connection, Engine, inspect, text

from shopdesk.store.database import reading
from shopdesk.store.faults import ShelfBroken, ShelfNotReady, ShelfTooNew

if TYPE_CHECKING:
    from alembic.config import Config

HEAD = "0012"
"""The revision that the models of this version need."""

FOLDER = Path(__file__).with_name("migrations")
_UPGRADE_LOCK = 7_301_164


def upgrade(engine: Engine, to: str = "head") -> None:
    """Brings the database to this version's schema in one transaction; does nothing if it is.

    Two processes that do so at once wait for each other. Raises ShelfTooNew and other ShelfFaults.
    """
    if to == "head" and current_revision(engine) == HEAD:
        return
    from alembic import command

    with migrating(engine) as connection:
        _refuse_newer(connection)
        config = _config()
        config.attributes["connection"] = connection
        command.upgrade(config, to)


def downgrade(engine: Engine, to: str) -> None:
    """Takes the database back to an earlier revision; 'base' removes every table."""
    from alembic import command

    with migrating(engine) as connection:
        _refuse_newer(connection)
        config = _config()
        config.attributes["connection"] = connection
        command.downgrade(config, to)


def current_revision(engine: Engine) -> str | None:
    """Returns the revision that the database is at, or None if it is empty."""
    with reading(engine) as session:
        return _revision(session.connection())


def check_version(engine: Engine) -> None:
    """Raises ShelfNotReady or ShelfTooNew if the database has not exactly this version's schema."""
    found = current_revision(engine)
    if found == HEAD:
        return
    if found is not None:
        with reading(engine) as session:
            _refuse_newer(session.connection())
    raise ShelfNotReady(
        "The database is not set up for this version of Shopdesk; `shopdesk serve` sets it up."
    )


@contextmanager
def migrating(engine: Engine) -> Iterator[Connection]:
    """Gives a connection on which tables can be rebuilt: alone, and with a check at the end.

    SQLite rebuilds a table by copying and dropping it, which would follow its foreign keys;
    they are off meanwhile and checked before the commit.
    """
    with engine.connect() as connection:
        driver = connection.connection.driver_connection
        if not isinstance(driver, sqlite3.Connection):
            with connection.begin():
                connection.execute(text(f"SELECT pg_advisory_xact_lock({_UPGRADE_LOCK})"))
                yield connection
            return
        driver.execute("PRAGMA foreign_keys = OFF")
        try:
            with connection.begin():
                yield connection
                _check_references(connection)
        finally:
            driver.execute("PRAGMA foreign_keys = ON")


def _check_references(connection: Connection) -> None:
    dangling = connection.exec_driver_sql("PRAGMA foreign_key_check").first()
    if dangling is not None:
        raise ShelfBroken(
            f"The table {dangling[0]} refers to rows that are missing in {dangling[2]}; "
            "nothing was changed. Restore the database from a backup."
        )


def _revision(connection: Connection) -> str | None:
    if not inspect(connection).has_table("alembic_version"):
        return None
    return connection.execute(text("SELECT version_num FROM alembic_version")).scalar()


def _refuse_newer(connection: Connection) -> None:
    from alembic.script import ScriptDirectory

    found = _revision(connection)
    known = {script.revision for script in ScriptDirectory(str(FOLDER)).walk_revisions()}
    if found is not None and found not in known:
        raise ShelfTooNew(
            f"The database was written by a newer version of Shopdesk (schema {found}, this one "
            f"knows up to {HEAD}). Nothing was changed; install the newer version."
        )


def _config() -> "Config":
    from alembic.config import Config

    config = Config()
    config.set_main_option("script_location", str(FOLDER).replace("%", "%%"))
    return config
