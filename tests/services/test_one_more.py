"""One more skein: the same lot, another branch, another lot, and how to blend it in."""

from dataclasses import replace
from datetime import date, timedelta

import pytest
from sqlalchemy import Engine, select, update
from sqlalchemy.orm import Session

from shopdesk.craft.errors import InputError
from shopdesk.parsing.gtins import GtinRefused
from shopdesk.services.holds import HoldOrder, hold_skeins
from shopdesk.services.one_more import (
    OneMore,
    SkeinSought,
    find_one_more,
    skein_sought,
)
from shopdesk.services.sales import SlipUnknown
from shopdesk.shelf.branch_lots import LotAtBranch
from shopdesk.shelf.stock import count, receive, sell, transfer
from shopdesk.shelf.writing import writing
from shopdesk.shop.shop import Shop
from shopdesk.store.models import Colourway, StockMovement, Yarn
from shopdesk.store.types import now
from shopdesk.wording.translate import english
from tests.factories import a_lot
from tests.services.slips_at_counter import OTHER_LOT, SLIP_LOT, a_slip, stock_shelf
from tests.shelf.rows import put_yarn

NORTH = LotAtBranch("T-1", "14", "M2231", "north")


@pytest.fixture
def counter(shelf: Engine) -> Engine:
    """Twenty skeins of the slip's lot, three of another that came 40 days later."""
    stock_shelf(shelf)
    with writing(shelf) as session:
        row = session.scalars(select(StockMovement).where(StockMovement.change == 3)).one()
        row.at += timedelta(days=40)
    return shelf


def the_only(engine: Engine, sought: SkeinSought) -> OneMore:
    answer = find_one_more(Shop(engine), sought)
    assert answer.colours == ()
    (found,) = answer.found
    return found


def of_slip(engine: Engine) -> OneMore:
    return the_only(engine, SkeinSought(1))


def of_band(engine: Engine, sku: str, colour: str, lot: str = "") -> OneMore:
    return the_only(engine, SkeinSought(sku=sku, colour=colour, lot=lot))


def colours(engine: Engine, sought: SkeinSought) -> list[str]:
    answer = find_one_more(Shop(engine), sought)
    assert answer.found == ()
    return [one.colour_code for one in answer.colours]


def a_second_colour(session: Session) -> LotAtBranch:
    """Adds the colour Rust to the yarn and returns a lot of it that is yet to arrive."""
    yarn = session.scalars(select(Yarn.id)).one()
    session.add(Colourway(yarn_id=yarn, code="15", name="Rust", family="red"))
    session.flush()
    return LotAtBranch("T-1", "15", "M1")


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
    until = date.today() + timedelta(days=3)
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
    found = of_band(counter, "T-1", "14", "M2231")
    assert codes(found) == ["onemore.not_here", "onemore.no_other_lot"]


def test_hand_dyed_alternates_even_within_the_lot(counter: Engine) -> None:
    with writing(counter) as session:
        session.execute(update(Yarn).values(hand_dyed=True))
    found = of_band(counter, "t-1", "14", " M2231 ")
    assert codes(found) == ["onemore.same_lot_here", "lots.hand_dyed_alternate"]


def lots_after(counter: Engine, *arrivals: tuple[str, int, int]) -> list[str | None]:
    """Puts lots on the shelf by their days after the slip's and skeins; returns all in order."""
    with writing(counter) as session:
        for lot, days, skeins in arrivals:
            receive(session, LotAtBranch("T-1", "14", lot), skeins)
            row = session.scalars(select(StockMovement).order_by(StockMovement.id.desc())).first()
            assert row is not None
            row.at += timedelta(days=days)
    return [one.where.lot for one in of_band(counter, "T-1", "14", "M2231").other]


def test_other_lots_stand_by_days_then_by_what_is_free(counter: Engine) -> None:
    """Before or after is alike; of as many days that with more skeins, then the first by name."""
    arrivals = ("A", -10, 1), ("B", 10, 2), ("C", 9, 1), ("E", 10, 2), ("D", 10, 2)
    assert lots_after(counter, *arrivals) == ["C", "B", "D", "E", "A", "M2240"]


def test_a_lot_of_which_nothing_is_free_is_no_other_lot(counter: Engine) -> None:
    hold_skeins(Shop(counter), HoldOrder(((OTHER_LOT, 2),)))
    assert [one.free for one in of_band(counter, "T-1", "14", "M2231").other] == [1]
    hold_skeins(Shop(counter), HoldOrder(((OTHER_LOT, 1),)))
    assert of_band(counter, "T-1", "14", "M2231").other == ()


def test_a_count_below_what_is_held_leaves_none_free(counter: Engine) -> None:
    hold_skeins(Shop(counter), HoldOrder(((SLIP_LOT, 20),)))
    with writing(counter) as session:
        count(session, SLIP_LOT, 1)
    (same,) = of_band(counter, "T-1", "14", "M2231").same
    assert (same.free, same.held, same.days_apart) == (0, 20, 0)


def test_a_lot_whose_arrival_is_not_known_stands_last(counter: Engine) -> None:
    """Of the wanted lot or of the other: then no day tells which is nearest."""
    with writing(counter) as session:
        sell(session, SLIP_LOT, 20)
        receive(session, LotAtBranch("T-1", "14", "M9"), 9)
        row = session.scalars(select(StockMovement).where(StockMovement.change == 9)).one()
        row.change, row.reason = 0, "counted"
    found = of_band(counter, "T-1", "14", "M2231")
    assert [(one.where.lot, one.days_apart) for one in found.other] == [("M2240", 40), ("M9", None)]
    (nearest,) = (one for one in found.advice if one.code == "onemore.nearest_lot")
    assert (nearest.values["lot"], nearest.values["count"]) == ("M2240", 40)
    unknown = of_band(counter, "T-1", "14", "M1")
    assert [one.days_apart for one in unknown.other] == [None, None]
    assert codes(unknown)[:2] == ["onemore.not_here", "onemore.another_lot"]


def test_skeins_without_lots_are_told_as_such(counter: Engine) -> None:
    """Where no lot is written on the band, those without one are the same."""
    with writing(counter) as session:
        receive(session, LotAtBranch("T-1", "14", None), 6)
        sell(session, SLIP_LOT, 20)
        sell(session, OTHER_LOT, 3)
    found = of_band(counter, "T-1", "14", "M2231")
    assert [one.where.lot for one in found.other] == [None]
    assert codes(found)[:2] == ["onemore.not_here", "onemore.without_lots"]
    alike = of_band(counter, "T-1", "14")
    assert [(one.where.lot, one.free) for one in alike.same] == [(None, 6)]
    assert codes(alike) == ["onemore.same_lot_here"]


def test_another_colour_or_yarn_has_its_own_lots_holds_and_days(counter: Engine) -> None:
    with writing(counter) as session:
        rust = a_second_colour(session)
        receive(session, rust, 4)
        put_yarn(session, "T-2", lots=(a_lot(7, "M2231", "14"),))
    hold_skeins(Shop(counter), HoldOrder(((LotAtBranch("T-2", "14", "M2231"), 7),)))
    hold_skeins(Shop(counter), HoldOrder(((rust, 4),)))
    with writing(counter) as session:
        sell(session, SLIP_LOT, 20)
    found = of_band(counter, "T-1", "14", "M2231")
    assert (found.same, "onemore.held" in codes(found)) == ((), False)
    (same,) = of_band(counter, "T-1", "15", "M1").same
    assert (same.where, same.free, same.held) == (rust, 0, 4)
    assert "onemore.held" in codes(of_band(counter, "T-1", "15", "M1"))


def test_only_a_hold_that_counts_is_waited_for(counter: Engine) -> None:
    """Of two the one that ends first; one that is over is none."""
    days = [date.today() + timedelta(days=n) for n in (5, 2)]
    for until in days:
        hold_skeins(Shop(counter), HoldOrder(((SLIP_LOT, 10),), until=until))
    (held,) = (one for one in of_band(counter, "T-1", "14", "M2231").advice if "held" in one.code)
    assert held.values["until_date"] == days[1].isoformat()
    later = Shop(counter, clock=lambda: now() + timedelta(days=30))
    (found,) = find_one_more(later, SkeinSought(sku="T-1", colour="14", lot="M2231")).found
    assert "onemore.held" not in codes(found)


def test_what_is_typed_counts_up_to_60_letters() -> None:
    sought = skein_sought("x" * 61, "y" * 61, "z" * 61)
    assert sought == SkeinSought(sku="x" * 60, colour="y" * 60, lot="z" * 60)


def test_a_band_without_its_lot_lists_every_lot(counter: Engine) -> None:
    found = of_band(counter, "T-1", "14")
    assert codes(found)[0] == "onemore.lot_not_known"
    assert {one.where.lot for one in found.other} == {"M2231", "M2240"}


def test_a_scanned_number_finds_the_colour_in_any_of_its_forms(counter: Engine) -> None:
    # GS1 General Specifications: UPC-12, EAN-13 and GTIN-14 of one article differ by leading 0s.
    with writing(counter) as session:
        for colour in session.scalars(select(Colourway)):
            colour.gtin = "036000291452"
    for scanned in ("036000291452", "0036000291452", "00036000291452"):
        found = the_only(counter, SkeinSought(barcode=scanned, lot="M2231"))
        assert (found.band.colour_code, found.lots) == ("14", ("M2231",))
    with pytest.raises(InputError, match="no yarn has this article number"):
        find_one_more(Shop(counter), SkeinSought(barcode="4006381333931"))
    with pytest.raises(GtinRefused):
        find_one_more(Shop(counter), SkeinSought(barcode="4006381333932"))


def test_a_yarns_own_number_leaves_its_colours_to_choose(counter: Engine) -> None:
    with writing(counter) as session:
        session.scalars(select(Yarn)).one().gtin = "036000291452"
        receive(session, a_second_colour(session), 2)
    sought = SkeinSought(barcode="036000291452", lot="M2231")
    assert colours(counter, sought) == ["14", "15"]
    every = find_one_more(Shop(counter), replace(sought, every_colour=True))
    assert [one.band.colour_code for one in every.found] == ["14", "15"]
    assert every.colours == ()
    assert the_only(counter, replace(sought, colour="15")).band.colour == "Rust"
    with pytest.raises(InputError, match="T-1 has no colour 99") as refused:
        find_one_more(Shop(counter), replace(sought, colour="99"))
    assert refused.value.field == "colour"


def test_an_article_number_without_a_colour_leaves_it_to_choose(counter: Engine) -> None:
    assert colours(counter, SkeinSought(sku=" t-1 ")) == ["14"]


@pytest.mark.parametrize(
    "sought",
    [
        SkeinSought(),
        SkeinSought(sku=" ", colour="14", lot="M2231"),
        SkeinSought(sku="T-1", lot="M2231", every_colour=True),
    ],
)
def test_a_skein_that_nothing_names_is_refused(counter: Engine, sought: SkeinSought) -> None:
    with pytest.raises(InputError) as refused:
        find_one_more(Shop(counter), sought)
    assert refused.value.problem.wrong.code == "problem_visit.no_skein"
    assert refused.value.field == "find"


@pytest.mark.parametrize(
    ("typed", "sought"),
    [
        ("12", SkeinSought(12, slip_branch="north")),
        ("1 234-567", SkeinSought(1234567, slip_branch="north")),
        ("12345678", SkeinSought(barcode="12345678", colour="14", lot="M1")),
        (" 4-006381 333931 ", SkeinSought(barcode="4-006381 333931", colour="14", lot="M1")),
        ("OY-3105", SkeinSought(sku="OY-3105", colour="14", lot="M1")),
        ("١٢", SkeinSought(sku="١٢", colour="14", lot="M1")),
    ],
)
def test_one_box_takes_a_slip_a_barcode_or_an_article_number(
    typed: str, sought: SkeinSought
) -> None:
    # A barcode has 8, 12, 13 or 14 digits (GS1 General Specifications).
    assert skein_sought(typed, " 14", "M1 ", "north") == sought


def test_a_slip_of_another_branch_is_looked_up_there_and_lies_here_first(counter: Engine) -> None:
    a_slip(counter)
    with writing(counter) as session:
        transfer(session, SLIP_LOT, "north", 8)
    north = Shop(counter, "north")
    with pytest.raises(SlipUnknown):
        find_one_more(north, SkeinSought(1))
    (found,) = find_one_more(north, SkeinSought(1, slip_branch="main")).found
    assert [(one.where, one.free) for one in found.same] == [(NORTH, 8), (SLIP_LOT, 12)]
    assert english(found.advice[0]) == "8 skeins of the same lot are free here."


def test_what_is_not_on_the_shelf_is_told(counter: Engine) -> None:
    with pytest.raises(InputError, match="there is no yarn T-9") as refused:
        find_one_more(Shop(counter), SkeinSought(sku="T-9"))
    assert refused.value.field == "find"
    with pytest.raises(InputError, match="T-1 has no colour 99") as refused:
        find_one_more(Shop(counter), SkeinSought(sku="T-1", colour="99"))
    assert refused.value.field == "colour"
