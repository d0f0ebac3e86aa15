"""What a slip says is taken off the stock once, all of it or nothing."""

import pytest
from sqlalchemy import Engine

from shopdesk.services.holds import HoldOrder, collect_hold, hold_skeins
from shopdesk.services.sales import SlipUnknown, SoldLot, book_sale, lots_on_slip
from shopdesk.shelf.branch_lots import StockRefused
from shopdesk.shelf.stock import available, count, discrepancies
from shopdesk.shelf.writing import writing
from shopdesk.shop.shop import Shop
from shopdesk.store.database import reading
from tests.services.slips_at_counter import SLIP_LOT, a_slip, stock_shelf


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
