"""What a slip says is taken off the stock once, all of it or nothing."""

from datetime import timedelta

import pytest
from sqlalchemy import Engine

from shopdesk.services.hold_records import end_of
from shopdesk.services.holds import HoldOrder, collect_hold, hold_skeins, release_hold
from shopdesk.services.sales import SlipUnknown, SoldLot, book_sale, lots_on_slip
from shopdesk.shelf.branch_lots import StockRefused
from shopdesk.shelf.stock import available, correct, count, discrepancies, sell
from shopdesk.shelf.writing import writing
from shopdesk.shop.shop import Shop
from shopdesk.store.database import reading
from tests.services.slips_at_counter import (
    NORTH_LOT,
    SLIP_LOT,
    a_slip,
    shop_on,
    slip_1_of_north,
    stock_shelf,
)
from tests.slip_factories import A_SLIP_DAY


@pytest.fixture
def number(shelf: Engine) -> int:
    """The number of a slip of five skeins of a lot of twenty."""
    stock_shelf(shelf)
    return a_slip(shelf)


def left(shelf: Engine) -> int:
    with reading(shelf) as session:
        assert list(discrepancies(session)) == []
        return available(session, SLIP_LOT)


def test_a_slip_is_sold_once(shelf: Engine, number: int) -> None:
    assert book_sale(Shop(shelf), number, "MB") == (SoldLot(SLIP_LOT, 15),)
    with pytest.raises(StockRefused, match="sold already"):
        book_sale(Shop(shelf), number)
    assert left(shelf) == 15


def test_a_slip_of_more_than_there_is_sells_nothing(shelf: Engine, number: int) -> None:
    with writing(shelf) as session:
        count(session, SLIP_LOT, 4)
    with pytest.raises(StockRefused, match="at most 4"):
        book_sale(Shop(shelf), number)
    assert left(shelf) == 4


def test_a_slip_that_is_not_there(shelf: Engine, number: int) -> None:
    with pytest.raises(SlipUnknown):
        book_sale(Shop(shelf), number + 1)
    with pytest.raises(SlipUnknown):
        book_sale(Shop(shelf, "north"), number)


def test_slips_of_the_same_lot_are_sold_apart(shelf: Engine, number: int) -> None:
    second = a_slip(shelf)
    slip_1_of_north(shelf)
    shop, north = Shop(shelf), Shop(shelf, "north")
    assert book_sale(shop, second) == (SoldLot(SLIP_LOT, 15),)
    assert book_sale(north, 1) == (SoldLot(NORTH_LOT, 4),)
    assert book_sale(shop, number) == (SoldLot(SLIP_LOT, 10),)
    assert lots_on_slip(north, 1) == ((NORTH_LOT, 5),)
    for sold_shop, one in ((shop, number), (shop, second), (north, 1)):
        with pytest.raises(StockRefused, match="sold already"):
            book_sale(sold_shop, one)


def test_a_hold_of_another_slip_or_one_that_ended_stops_no_sale(shelf: Engine, number: int) -> None:
    second = a_slip(shelf)
    long_ago = shop_on(shelf)
    hold_skeins(long_ago, HoldOrder(slip=number, until=A_SLIP_DAY))
    hold_skeins(long_ago, HoldOrder(slip=second))
    end = end_of(A_SLIP_DAY)
    with pytest.raises(StockRefused, match="on hold"):
        book_sale(Shop(shelf, clock=lambda: end - timedelta(microseconds=1)), number)
    assert book_sale(Shop(shelf, clock=lambda: end), number) == (SoldLot(SLIP_LOT, 15),)


def test_what_was_released_is_sold_by_the_slip(shelf: Engine, number: int) -> None:
    (made,) = hold_skeins(Shop(shelf), HoldOrder(slip=number))
    release_hold(Shop(shelf), made.number)
    assert book_sale(Shop(shelf), number) == (SoldLot(SLIP_LOT, 15),)


def test_a_movement_that_only_names_the_slip_is_no_sale(shelf: Engine, number: int) -> None:
    with writing(shelf) as session:
        correct(session, SLIP_LOT, -1, "MB", f"slip {number}")
        sell(session, SLIP_LOT, 1, note="another")
    assert book_sale(Shop(shelf), number) == (SoldLot(SLIP_LOT, 13),)


def test_a_slip_that_is_on_hold_is_sold_by_its_hold(shelf: Engine, number: int) -> None:
    shop = Shop(shelf)
    assert lots_on_slip(shop, number) == ((SLIP_LOT, 5),)
    (made,) = hold_skeins(shop, HoldOrder(slip=number))
    assert (made.where, made.skeins, made.slip_number) == (SLIP_LOT, 5, number)
    with pytest.raises(StockRefused, match="on hold"):
        book_sale(shop, number)
    collect_hold(shop, made.number, "MB")
    with pytest.raises(StockRefused, match="collected"):
        book_sale(shop, number)
    assert left(shelf) == 15
