"""Faults of a PostgreSQL server are named; the states are those of its manual, appendix A."""

import threading

import psycopg
import pytest
from sqlalchemy import text

from shopdesk.shelf.writing import writing
from shopdesk.store import faults
from shopdesk.store.database import open_shelf
from shopdesk.store.upgrading import upgrade


@pytest.mark.parametrize(
    ("error", "fault"),
    [
        (psycopg.errors.InvalidCatalogName, faults.ShelfUnreachable),
        (psycopg.errors.InvalidPassword, faults.ShelfUnreachable),
        (psycopg.errors.AdminShutdown, faults.ShelfUnreachable),
        (psycopg.errors.DiskFull, faults.ShelfFull),
        (psycopg.errors.ReadOnlySqlTransaction, faults.ShelfNotWritable),
        (psycopg.errors.LockNotAvailable, faults.ShelfBusy),
        (psycopg.errors.DeadlockDetected, faults.ShelfBusy),
        (psycopg.errors.SerializationFailure, faults.ShelfBusy),
        (psycopg.errors.DataCorrupted, faults.ShelfBroken),
    ],
)
def test_a_server_s_fault_has_a_name(
    error: type[psycopg.Error], fault: type[faults.ShelfFault]
) -> None:
    named = faults.fault_of(error())
    assert named is not None
    assert named[0] is fault


@pytest.mark.parametrize(
    "error", [psycopg.errors.UniqueViolation, psycopg.errors.CheckViolation, ValueError]
)
def test_what_is_no_fault_of_the_database_keeps_its_own_name(error: type[Exception]) -> None:
    assert faults.fault_of(error()) is None


def test_a_database_that_is_not_on_the_server_is_told(postgres_url: str) -> None:
    engine = open_shelf(postgres_url + "_elsewhere")
    with pytest.raises(faults.ShelfUnreachable, match=r"elsewhere. does not exist"):
        upgrade(engine)
    engine.dispose()


def test_of_two_writers_that_wait_for_each_other_one_is_told(postgres_url: str) -> None:
    engine = open_shelf(postgres_url)
    upgrade(engine)
    lock = "SELECT pg_advisory_xact_lock({})"
    both_hold_one = threading.Barrier(2)
    told: list[str] = []

    def work(first: int, second: int) -> None:
        try:
            with writing(engine) as session:
                session.execute(text(lock.format(first)))
                both_hold_one.wait(timeout=30)
                session.execute(text(lock.format(second)))
        except faults.ShelfBusy as fault:
            told.append(str(fault))

    workers = [threading.Thread(target=work, args=pair) for pair in ((1, 2), (2, 1))]
    for worker in workers:
        worker.start()
    for worker in workers:
        worker.join(timeout=60)
    engine.dispose()
    assert told == ["Another counter was quicker; nothing was saved. Try again."]
