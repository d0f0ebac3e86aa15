"""The morning's lists: each holds what it names, and nothing else."""

from datetime import UTC, date, datetime, timedelta

import pytest
from sqlalchemy import Engine

from shopdesk.services.holds import HoldOrder, collect_hold, hold_skeins
from shopdesk.services.morning import Morning, morning_list
from shopdesk.services.unmet_asks import Unmet, record_unmet
from shopdesk.shelf.branch_lots import LotAtBranch
from shopdesk.shelf.stock import count
from shopdesk.shelf.writing import writing
from shopdesk.shop.shop import Shop, day_of
from shopdesk.store.settings import ShopSettings, save_settings
from shopdesk.store.types import now
from shopdesk.wording.translate import english
from tests.services.slips_at_counter import OTHER_LOT, SLIP_LOT, a_slip, a_swatch, stock_shelf

DAY = timedelta(days=1)


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


def test_lots_down_to_a_last_ball(counter: Engine) -> None:
    with writing(counter) as session:
        count(session, OTHER_LOT, 1)
    (found,) = lists(counter).last_balls
    assert found.where == LotAtBranch("T-1", "14", "M2240")
    assert (found.yarn, found.colour) == ("Yarn T-1", "Moss")
