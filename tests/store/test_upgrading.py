"""Migrations: up, down, one head, and the same tables as the models."""

from pathlib import Path

import pytest
from alembic.autogenerate import compare_metadata
from alembic.migration import MigrationContext
from alembic.script import ScriptDirectory
from sqlalchemy import Engine, inspect, text

from shopdesk.shelf.writing import writing
from shopdesk.store import upgrading
from shopdesk.store.database import open_shelf
from shopdesk.store.faults import ShelfBroken, ShelfNotReady, ShelfTooNew
from shopdesk.store.models import Base
from shopdesk.store.upgrading import check_version, current_revision, downgrade, upgrade


def tables(engine: Engine) -> set[str]:
    return set(inspect(engine).get_table_names()) - {"alembic_version"}


def test_there_is_one_head_and_the_models_are_at_it() -> None:
    assert ScriptDirectory(str(upgrading.FOLDER)).get_heads() == [upgrading.HEAD]


def test_models_and_migrated_tables_agree(shelf: Engine) -> None:
    with shelf.connect() as connection:
        context = MigrationContext.configure(connection, opts={"compare_type": True})
        assert compare_metadata(context, Base.metadata) == []


def test_checks_of_the_models_are_in_the_migrated_tables(shelf: Engine) -> None:
    found = {
        (name, check["name"])
        for name in tables(shelf)
        for check in inspect(shelf).get_check_constraints(name)
    }
    wanted = {
        (table.name, constraint.name)
        for table in Base.metadata.tables.values()
        for constraint in table.constraints
        if type(constraint).__name__ == "CheckConstraint"
    }
    assert found == wanted


def test_down_to_nothing_and_up_again(shelf: Engine) -> None:
    assert tables(shelf) == set(Base.metadata.tables)
    downgrade(shelf, "base")
    assert tables(shelf) == set()
    assert current_revision(shelf) is None
    upgrade(shelf)
    assert tables(shelf) == set(Base.metadata.tables)


def test_upgrading_twice_changes_nothing(shelf: Engine) -> None:
    with writing(shelf) as session:
        session.execute(text("INSERT INTO branch (code, name) VALUES ('north', 'North')"))
    upgrade(shelf)
    with shelf.connect() as connection:
        codes = connection.execute(text("SELECT code FROM branch ORDER BY id")).scalars().all()
    assert codes == ["main", "north"]


def test_a_newer_database_is_refused_in_words(shelf: Engine) -> None:
    with writing(shelf) as session:
        session.execute(text("UPDATE alembic_version SET version_num = '9999'"))
    with pytest.raises(ShelfTooNew, match=r"newer version of Shopdesk \(schema 9999"):
        upgrade(shelf)
    with pytest.raises(ShelfTooNew):
        check_version(shelf)
    assert current_revision(shelf) == "9999"


def test_an_empty_database_is_not_ready(tmp_path: Path) -> None:
    engine = open_shelf(f"sqlite:///{tmp_path / 'new.sqlite3'}")
    with pytest.raises(ShelfNotReady):
        check_version(engine)
    engine.dispose()


def test_a_ready_database_passes(shelf: Engine) -> None:
    check_version(shelf)


def test_a_failing_step_leaves_the_database_as_it_was(tmp_path: Path) -> None:
    engine = open_shelf(f"sqlite:///{tmp_path / 'shelf.sqlite3'}")
    with writing(engine) as session:
        session.execute(text("CREATE TABLE stock_movement (id INTEGER)"))
    with pytest.raises(Exception, match="already exists"):
        upgrade(engine)
    assert tables(engine) == {"stock_movement"}
    engine.dispose()


def test_a_step_that_would_orphan_rows_is_undone(tmp_path: Path) -> None:
    shelf = open_shelf(f"sqlite:///{tmp_path / 'shelf.sqlite3'}")
    upgrade(shelf)
    orphan = text("INSERT INTO yarn_attribute (yarn_id, attribute) VALUES (77, 'merino')")
    with pytest.raises(ShelfBroken, match="yarn_attribute"), upgrading.migrating(shelf) as step:
        step.execute(orphan)
    with shelf.connect() as connection:
        assert connection.execute(text("SELECT count(*) FROM yarn_attribute")).scalar() == 0
        assert connection.exec_driver_sql("PRAGMA foreign_keys").scalar() == 1
    shelf.dispose()
