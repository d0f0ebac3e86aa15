"""Unmet asks: kept without the customer, newest first, counted for buying in."""

from datetime import UTC, datetime, timedelta

from sqlalchemy import Engine

from shopdesk.services.unmet_asks import (
    Unmet,
    category_counts,
    fibre_counts,
    record_unmet,
    unmet_asks,
)
from shopdesk.shelf.writing import writing
from shopdesk.store.database import reading

MONDAY = datetime(2026, 11, 23, 9, 30, tzinfo=UTC)
BABY = Unmet("cardigan", "knit", "care.not_machine", (1,), 28, ("cotton",), "machine 60", "yellow")
SOCKS = Unmet("socks", "knit", "judge.too_thick", (0, 1), 32.5, ("wool", "silk"))


def test_asks_come_back_newest_first(shelf: Engine) -> None:
    from dataclasses import replace

    first, second = replace(BABY, at=MONDAY), replace(SOCKS, at=MONDAY + timedelta(days=1))
    with writing(shelf) as session:
        record_unmet(session, second)
        record_unmet(session, first)
    with reading(shelf) as session:
        assert unmet_asks(session) == (second, first)
        assert unmet_asks(session, since=MONDAY + timedelta(hours=1)) == (second,)


def test_the_moment_is_the_present_one(shelf: Engine) -> None:
    before = datetime.now(UTC)
    with writing(shelf) as session:
        record_unmet(session, BABY)
    with reading(shelf) as session:
        (ask,) = unmet_asks(session)
    assert ask.at is not None
    assert before <= ask.at <= datetime.now(UTC)


def test_an_ask_counts_in_each_category_that_it_allows() -> None:
    weightless = Unmet("bag", "crochet", "judge.unknown")
    counts = category_counts([SOCKS, BABY, SOCKS, weightless])
    assert counts == ((1, 3), (0, 2), (None, 1))


def test_fibres_are_counted_once_for_each_ask() -> None:
    assert fibre_counts([SOCKS, BABY, SOCKS]) == (("silk", 2), ("wool", 2), ("cotton", 1))
