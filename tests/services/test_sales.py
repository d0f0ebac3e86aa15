"""What a slip says is taken off the stock once, all of it or nothing."""

import pytest
from sqlalchemy import Engine

from shopdesk.services.holds import HoldTerms, collect, put_by
from shopdesk.services.sales import SlipUnknown, lots_of_slip, sell_slip, slip_row
from shopdesk.shelf.branch_lots import StockRefused
from shopdesk.shelf.stock import available, count, discrepancies
from shopdesk.shelf.writing import writing
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
    with writing(shelf) as session:
        assert sell_slip(session, number, "MB") == {SLIP_LOT: 15}
    with pytest.raises(StockRefused, match="sold already"), writing(shelf) as session:
        sell_slip(session, number)
    assert left(shelf) == 15


def test_a_slip_of_more_than_there_is_sells_nothing(shelf: Engine, number: int) -> None:
    with writing(shelf) as session:
        count(session, SLIP_LOT, 4)
    with pytest.raises(StockRefused, match="at most 4"), writing(shelf) as session:
        sell_slip(session, number)
    assert left(shelf) == 4


def test_a_slip_that_is_not_there(shelf: Engine, number: int) -> None:
    with pytest.raises(SlipUnknown), writing(shelf) as session:
        sell_slip(session, number + 1)


def test_a_slip_that_is_put_by_is_sold_by_its_hold(shelf: Engine, number: int) -> None:
    with writing(shelf) as session:
        row = slip_row(session, number)
        terms = HoldTerms(until=None, slip_id=row.id)
        (made,) = put_by(session, lots_of_slip(session, row).items(), terms)
    with pytest.raises(StockRefused, match="put by"), writing(shelf) as session:
        sell_slip(session, number)
    with writing(shelf) as session:
        collect(session, made.number, "MB")
    with pytest.raises(StockRefused, match="collected"), writing(shelf) as session:
        sell_slip(session, number)
    assert left(shelf) == 15
