"""Holds as plain data: how each stands at a moment, to the moment at which its last day ends."""

from datetime import UTC, date, datetime, time, timedelta

import pytest
from sqlalchemy import Engine

from shopdesk.services.contacts import checked_contact
from shopdesk.services.hold_records import (
    HoldRecord,
    HoldState,
    end_of,
    find_hold,
    hold_message,
    holds_ended,
    holds_with_key,
    open_holds,
    state_of,
)
from shopdesk.services.holds import HoldOrder, collect_hold, hold_skeins, release_hold, sweep_holds
from shopdesk.shelf.writing import writing
from shopdesk.shop.shop import Shop
from shopdesk.store.database import reading
from shopdesk.wording.translate import english
from tests.services.slips_at_counter import NORTH_LOT, SLIP_LOT, slip_1_of_north, stock_shelf

DAY = date(2026, 3, 2)
NOON = datetime.combine(DAY, time(12)).astimezone()
END = datetime.combine(date(2026, 3, 3), time(0)).astimezone()
INSTANT = timedelta(microseconds=1)


@pytest.fixture
def counter(shelf: Engine) -> Engine:
    stock_shelf(shelf)
    return shelf


def shop_at(engine: Engine, moment: datetime, branch: str = "main") -> Shop:
    return Shop(engine, branch, lambda: moment)


def held(engine: Engine, until: date = DAY, **order: object) -> HoldRecord:
    (made,) = hold_skeins(
        shop_at(engine, NOON),
        HoldOrder(((SLIP_LOT, 2),), until=until, **order),  # type: ignore[arg-type]
    )
    return made


def test_a_day_ends_with_the_first_moment_of_the_next() -> None:
    assert end_of(DAY) == END
    assert end_of(date(2026, 12, 31)) == datetime.combine(date(2027, 1, 1), time(0)).astimezone()


@pytest.mark.parametrize(
    ("outcome", "moment", "state"),
    [
        (None, END - INSTANT, HoldState.HELD),
        (None, END, HoldState.EXPIRED),
        (None, END + INSTANT, HoldState.EXPIRED),
        ("collected", END, HoldState.COLLECTED),
        ("released", NOON, HoldState.RELEASED),
    ],
)
def test_what_was_noted_goes_before_the_clock(
    outcome: str | None, moment: datetime, state: HoldState
) -> None:
    assert state_of(outcome, END, moment) is state


def test_a_hold_counts_until_its_last_day_is_over(counter: Engine) -> None:
    made = held(counter)
    with reading(counter) as session:
        assert open_holds(session, END - INSTANT) == (made,)
        assert open_holds(session, END) == ()
        assert open_holds(session) == ()


def test_what_ran_out_since_a_moment(counter: Engine) -> None:
    """Since the moment itself and no earlier; what ends at the present one has ended."""
    made = held(counter)
    collect_hold(shop_at(counter, NOON), held(counter).number)
    release_hold(shop_at(counter, NOON), held(counter).number)

    def ended(since: datetime, at: datetime | None = None) -> list[int]:
        with reading(counter) as session:
            return [one.number for one in holds_ended(session, since, at)]

    for _ in range(2):
        assert ended(END - INSTANT, END) == [made.number]
        assert ended(END - INSTANT) == [made.number]
        assert ended(END, END + INSTANT) == []
        assert ended(NOON, END - INSTANT) == []
        with writing(counter) as session:
            sweep_holds(session, END)


def test_holds_of_one_form_and_no_other(counter: Engine) -> None:
    made, _ = held(counter, request_key="one"), held(counter, request_key="two")
    with reading(counter) as session:
        assert holds_with_key(session, "one", NOON) == (made,)
        assert holds_with_key(session, "three") == ()


def test_a_hold_is_told_with_all_that_stands_behind_it(counter: Engine) -> None:
    slip_1_of_north(counter)
    left = checked_contact("Ada Lambswell", "01632 960111")
    order = HoldOrder(((NORTH_LOT, 3),), 1, DAY, left, "MB")
    (made,) = hold_skeins(shop_at(counter, NOON, "north"), order)
    held(counter)
    assert find_hold(shop_at(counter, NOON), made.number) == made
    assert (made.where, made.yarn, made.colour, made.skeins) == (NORTH_LOT, "Yarn T-1", "Moss", 3)
    assert (made.slip_number, made.slip_branch) == (1, "north")
    assert (made.name, made.phone, made.made_by) == ("Ada Lambswell", "01632 960111", "MB")
    assert (made.made_at, made.until, made.closed_at) == (NOON.astimezone(UTC), DAY, None)


def test_a_hold_of_nobody_has_no_slip_and_no_name(counter: Engine) -> None:
    made = held(counter)
    assert (made.slip_number, made.slip_branch, made.name, made.phone) == (None, None, "", "")


def test_each_state_is_said(counter: Engine) -> None:
    shop = shop_at(counter, NOON)
    kept, collected, released = (held(counter) for _ in range(3))
    collect_hold(shop, collected.number)
    release_hold(shop, released.number)

    def said(number: int, at: datetime = NOON) -> str:
        found = find_hold(shop_at(counter, at), number)
        assert found is not None
        return hold_message(found).code

    assert said(kept.number) == "hold.held"
    assert said(kept.number, END) == "hold.expired"
    assert said(collected.number) == "hold.collected"
    assert said(released.number) == "hold.released"
    assert "2026" in english(hold_message(kept))
