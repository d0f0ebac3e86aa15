"""One more skein: the same lot, another branch, another lot, and how to blend it in."""

from datetime import timedelta

import pytest
from sqlalchemy import Engine, select, update

from shopdesk.parsing.gtins import GtinRefused
from shopdesk.services.hold_records import today
from shopdesk.services.holds import HoldOrder, hold_skeins
from shopdesk.services.one_more import (
    BandUnknown,
    OneMore,
    by_band,
    by_barcode,
    by_slip,
    colours_of,
)
from shopdesk.shelf.branch_lots import LotAtBranch
from shopdesk.shelf.stock import receive, sell, transfer
from shopdesk.shelf.writing import writing
from shopdesk.shop.shop import Shop
from shopdesk.store.database import reading
from shopdesk.store.models import Colourway, StockMovement, Yarn
from shopdesk.wording.translate import english
from tests.services.slips_at_counter import OTHER_LOT, SLIP_LOT, a_slip, stock_shelf

NORTH = LotAtBranch("T-1", "14", "M2231", "north")


@pytest.fixture
def counter(shelf: Engine) -> Engine:
    """Twenty skeins of the slip's lot, three of another that came 40 days later."""
    stock_shelf(shelf)
    with writing(shelf) as session:
        row = session.scalars(select(StockMovement).where(StockMovement.change == 3)).one()
        row.at += timedelta(days=40)
    return shelf


def of_slip(engine: Engine, number: int = 1) -> OneMore:
    with reading(engine) as session:
        (found,) = by_slip(session, number)
    return found


def codes(found: OneMore) -> list[str]:
    return [one.code for one in found.advice]


def test_the_same_lot_here_is_said_first(counter: Engine) -> None:
    a_slip(counter)
    found = of_slip(counter)
    assert (found.lots, found.band.colour) == (("M2231",), "Moss")
    assert [(one.where, one.free) for one in found.same] == [(SLIP_LOT, 20)]
    assert [english(one) for one in found.advice] == ["20 skeins of the same lot are free here."]


def test_another_branch_comes_before_another_lot(counter: Engine) -> None:
    a_slip(counter)
    with writing(counter) as session:
        transfer(session, SLIP_LOT, "north", 20)
    found = of_slip(counter)
    assert [(one.where, one.free) for one in found.same] == [(NORTH, 20)]
    assert codes(found)[:3] == [
        "onemore.not_here",
        "onemore.same_lot_in_branch",
        "onemore.nearest_lot",
    ]
    assert "20 skeins of the same lot are free in the branch north." in map(english, found.advice)


def test_what_is_on_hold_is_told_with_the_day_it_ends(counter: Engine) -> None:
    a_slip(counter)
    until = today() + timedelta(days=3)
    hold_skeins(Shop(counter), HoldOrder(((SLIP_LOT, 20),), until=until))
    found = of_slip(counter)
    assert [(one.free, one.held) for one in found.same] == [(0, 20)]
    held = next(one for one in found.advice if one.code == "onemore.held")
    assert held.values["until_date"] == until.isoformat()


def test_the_lot_that_came_nearest_in_time_comes_first_and_says_how_to_blend(
    counter: Engine,
) -> None:
    a_slip(counter)
    with writing(counter) as session:
        sell(session, SLIP_LOT, 20)
        receive(session, LotAtBranch("T-1", "14", "M2233"), 1)
    found = of_slip(counter)
    assert [(one.where.lot, one.days_apart) for one in found.other] == [
        ("M2233", 0),
        ("M2240", 40),
    ]
    assert codes(found) == [
        "onemore.not_here",
        "onemore.nearest_same_day",
        "onemore.compare",
        "lots.alternate_rows",
        "onemore.unravel_to_blend",
        "onemore.whole_part",
    ]


def test_when_nothing_is_left_it_says_so(counter: Engine) -> None:
    with writing(counter) as session:
        sell(session, SLIP_LOT, 20)
        sell(session, OTHER_LOT, 3)
        found = by_band(session, "T-1", "14", "M2231")
    assert codes(found) == ["onemore.not_here", "onemore.no_other_lot"]


def test_hand_dyed_alternates_even_within_the_lot(counter: Engine) -> None:
    with writing(counter) as session:
        session.execute(update(Yarn).values(hand_dyed=True))
    with reading(counter) as session:
        found = by_band(session, "t-1", "14", "M2231")
    assert codes(found) == ["onemore.same_lot_here", "lots.hand_dyed_alternate"]


def test_a_band_without_its_lot_lists_every_lot(counter: Engine) -> None:
    with reading(counter) as session:
        found = by_band(session, "T-1", "14")
    assert codes(found)[0] == "onemore.lot_not_known"
    assert {one.where.lot for one in found.other} == {"M2231", "M2240"}


def test_a_scanned_number_finds_the_colour_in_any_of_its_forms(counter: Engine) -> None:
    # GS1 General Specifications: UPC-12, EAN-13 and GTIN-14 of one article differ by leading 0s.
    with writing(counter) as session:
        for colour in session.scalars(select(Colourway)):
            colour.gtin = "036000291452"
    with reading(counter) as session:
        for scanned in ("036000291452", "0036000291452", "00036000291452"):
            assert [one.colour_code for one in by_barcode(session, scanned)] == ["14"]
        with pytest.raises(BandUnknown, match="no yarn has this article number"):
            by_barcode(session, "4006381333931")
        with pytest.raises(GtinRefused):
            by_barcode(session, "4006381333932")


def test_what_is_not_on_the_shelf_is_told(counter: Engine) -> None:
    with reading(counter) as session:
        with pytest.raises(BandUnknown, match="there is no yarn T-9"):
            colours_of(session, "T-9")
        with pytest.raises(BandUnknown, match="T-1 has no colour 99"):
            by_band(session, "T-1", "99")
