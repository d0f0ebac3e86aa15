"""The morning's lists: each holds what it names, and nothing else."""

from datetime import UTC, date, datetime, time, timedelta

import pytest
from sqlalchemy import Engine

from shopdesk.services.holds import HoldOrder, collect_hold, hold_skeins
from shopdesk.services.morning import Morning, morning_list
from shopdesk.services.unmet_asks import Unmet, record_unmet
from shopdesk.shelf.branch_lots import LotAtBranch
from shopdesk.shelf.stock import count, receive
from shopdesk.shelf.writing import writing
from shopdesk.shop.shop import Shop, day_of
from shopdesk.store.settings import ShopSettings, save_settings
from shopdesk.store.types import now
from shopdesk.wording.translate import english
from tests.factories import a_lot
from tests.services.slips_at_counter import (
    NORTH_LOT,
    OTHER_LOT,
    SLIP_LOT,
    a_slip,
    a_swatch,
    slip_1_of_north,
    stock_shelf,
)
from tests.shelf.rows import put_yarn

DAY, INSTANT = timedelta(days=1), timedelta(microseconds=1)


@pytest.fixture
def counter(shelf: Engine) -> Engine:
    stock_shelf(shelf)
    return shelf


def shop_at(engine: Engine, at: datetime | None) -> Shop:
    return Shop(engine) if at is None else Shop(engine, clock=lambda: at)


def lists(engine: Engine, at: datetime | None = None) -> Morning:
    return morning_list(shop_at(engine, at))


def held(engine: Engine, days: int, at: datetime | None = None) -> int:
    until = (day_of(at) if at else date.today()) + days * DAY
    order = HoldOrder(((SLIP_LOT, 2),), until=until)
    return hold_skeins(shop_at(engine, at), order)[0].number


def test_holds_that_end_today_and_that_ended_this_week(counter: Engine) -> None:
    ends_today, _, ended = held(counter, 0), held(counter, 1), held(counter, 0, now() - 3 * DAY)
    held(counter, 0, now() - 20 * DAY)
    collected = held(counter, 0)
    collect_hold(Shop(counter), collected)
    found = lists(counter)
    assert [one.number for one in found.ending] == [ends_today]
    assert [one.number for one in found.ended] == [ended]


def test_more_on_hold_than_there_is(counter: Engine) -> None:
    held(counter, 1)
    assert lists(counter).over_promised == ()
    with writing(counter) as session:
        count(session, SLIP_LOT, 1)
    (found,) = lists(counter).over_promised
    assert (found.lot.where, found.on_hand, found.held) == (SLIP_LOT, 1, 2)
    assert "2 on hold, 1 on the shelf" in english(found.message)


def test_only_customers_who_agreed_are_asked_and_only_until_they_swatched(counter: Engine) -> None:
    long_ago = date.today() - 15 * DAY
    asked = a_slip(counter, on=long_ago, name="Ada Lambswell", phone="01632 960111", ask=True)
    a_slip(counter, on=long_ago, name="Bea Otterburn", phone="01632 960222", ask=False)
    a_slip(counter, on=date.today() - 13 * DAY, name="Cleo Ramsay", ask=True)
    a_slip(counter, on=date.today() - 400 * DAY, name="Dot Merrow", ask=True)
    quiet = lists(counter).quiet_slips
    assert [(one.number, one.name, one.phone) for one in quiet] == [
        (asked, "Ada Lambswell", "01632 960111")
    ]
    a_swatch(counter, asked)
    assert lists(counter).quiet_slips == ()


def test_the_days_to_wait_are_the_settings(counter: Engine) -> None:
    a_slip(counter, on=date.today() - 3 * DAY, name="Ada Lambswell", ask=True)
    assert lists(counter).quiet_slips == ()
    with writing(counter) as session:
        save_settings(session, ShopSettings(swatch_reminder_days=3))
    assert len(lists(counter).quiet_slips) == 1


def test_unmet_asks_of_the_week_by_category_and_fibre(counter: Engine) -> None:
    noon = datetime.combine(date.today(), datetime.min.time(), UTC) + timedelta(hours=12)
    for days, fibre in ((0, "cotton"), (6, "cotton"), (2, "silk"), (9, "wool")):
        with writing(counter) as session:
            record_unmet(
                session, Unmet("hat", "knit", "x", (3,), fibres=(fibre,), at=noon - days * DAY)
            )
    found = lists(counter, noon + timedelta(hours=1))
    assert found.unmet == ((3, 3),)
    assert found.unmet_fibres == (("cotton", 2), ("silk", 1))


def test_the_week_begins_six_days_before_today(counter: Engine) -> None:
    """On Monday, 2 March 2026 it is Tuesday, 24 February to today: seven days."""
    monday = date(2026, 3, 2)
    begins = datetime.combine(date(2026, 2, 24), time(0)).astimezone()
    with writing(counter) as session:
        for at, fibre in ((begins, "silk"), (begins - INSTANT, "wool")):
            record_unmet(session, Unmet("hat", "knit", "x", fibres=(fibre,), at=at))
    found = lists(counter, datetime.combine(monday, time(9)).astimezone())
    assert (found.day, found.week_begins) == (monday, date(2026, 2, 24))
    assert found.unmet_fibres == (("silk", 1),)


def test_a_slip_is_asked_after_for_eight_weeks(counter: Engine) -> None:
    """A fortnight after it was made, the shop's usual wait, and until 14 + 56 days are over."""
    today = date(2026, 6, 1)
    numbers = [a_slip(counter, on=today - n * DAY, name="Ada", ask=True) for n in (13, 14, 69, 70)]
    found = lists(counter, datetime.combine(today, time(9)).astimezone()).quiet_slips
    assert [one.number for one in found] == [numbers[2], numbers[1]]


def test_a_slip_is_asked_after_with_its_branch_and_name(counter: Engine) -> None:
    """The name that was left to be asked, or else the one on the slip; none that was replaced."""
    slip_1_of_north(counter)
    long_ago = date.today() - 20 * DAY
    a_slip(counter, on=long_ago, name="Ada Lambswell", phone="01632 960111", ask=True)
    a_slip(counter, on=long_ago, name="Bea Otterburn", ask=True, branch="north")
    (here, there) = lists(counter).quiet_slips
    assert (here.branch, here.number, here.name) == ("main", 1, "Ada Lambswell")
    assert (there.branch, there.number, there.name) == ("north", 2, "Bea Otterburn")
    assert (here.made_on, here.title, here.yarn) == (long_ago, "pattern", "Meadow DK")
    a_swatch(counter, 2, branch="north")
    assert lists(counter).quiet_slips == (here,)


def test_as_many_on_hold_as_there_are_is_no_trouble(counter: Engine) -> None:
    for where, skeins in ((SLIP_LOT, 20), (OTHER_LOT, 3)):
        hold_skeins(Shop(counter), HoldOrder(((where, skeins),)))
    assert lists(counter).over_promised == ()
    with writing(counter) as session:
        count(session, OTHER_LOT, 2)
    (found,) = lists(counter).over_promised
    assert (found.lot.where, found.on_hand, found.held) == (OTHER_LOT, 2, 3)


def test_lots_are_named_by_their_yarn_colour_and_branch(counter: Engine) -> None:
    """A lot without a number has none; two hundred are listed at most."""
    with writing(counter) as session:
        put_yarn(session, "T-2", lots=(a_lot(1, None, "07", name="Rust"),))
        receive(session, NORTH_LOT, 1)
    first, second = lists(counter).last_balls
    assert (first.where, first.yarn, first.colour) == (NORTH_LOT, "Yarn T-1", "Moss")
    assert (second.where, second.colour) == (LotAtBranch("T-2", "07", None), "Rust")
    with writing(counter) as session:
        lots = tuple(a_lot(1, f"A{n}", "01") for n in range(200))
        put_yarn(session, "T-3", lots=lots)
    assert len(lists(counter).last_balls) == 200


def test_lots_down_to_a_last_ball(counter: Engine) -> None:
    with writing(counter) as session:
        count(session, OTHER_LOT, 1)
    (found,) = lists(counter).last_balls
    assert found.where == LotAtBranch("T-1", "14", "M2240")
    assert (found.yarn, found.colour) == ("Yarn T-1", "Moss")
