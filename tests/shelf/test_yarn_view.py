"""A yarn's page: its colours with their lots, its latest movements and slips, and it as data."""

import os
import subprocess
import sys
from datetime import UTC, date, datetime

import pytest
from sqlalchemy import Engine, insert, select

from shopdesk.services.holds import HoldOrder, hold_skeins
from shopdesk.shelf.branch_lots import LotAtBranch
from shopdesk.shelf.loading import shelf_yarn
from shopdesk.shelf.stock import correct, receive
from shopdesk.shelf.writing import writing
from shopdesk.shelf.yarn_view import LotStockLine, YarnView, yarn_document, yarn_view
from shopdesk.shop.shop import Shop
from shopdesk.store.database import reading
from shopdesk.store.models import Slip, Yarn
from tests.factories import A_DAY, a_care, a_label, a_lot, a_weighing, a_wraps
from tests.services.slips_at_counter import SLIP_LOT, a_slip, slip_1_of_north, stock_shelf
from tests.shelf.rows import put_yarn
from tests.test_architecture import ROOT


@pytest.fixture
def stocked(shelf: Engine) -> Engine:
    """A yarn of two lots, and another with a lot of the same name."""
    stock_shelf(shelf)
    with writing(shelf) as session:
        put_yarn(session, "T-2", lots=(a_lot(7, "M2231", "14"),))
    return shelf


def seen(shelf: Engine, sku: str = "T-1") -> YarnView:
    with reading(shelf) as session:
        view = yarn_view(session, sku)
    assert view is not None
    return view


def test_each_colour_has_its_lots_by_branch(stocked: Engine) -> None:
    hold_skeins(Shop(stocked), HoldOrder(((SLIP_LOT, 4),)))
    with writing(stocked) as session:
        receive(session, LotAtBranch("T-1", "14", "M2231", "north"), 5)
    (colour,) = seen(stocked).colours
    assert (colour.code, colour.name, colour.retired) == ("14", "Moss", False)
    assert colour.lots == (
        LotStockLine("M2231", "main", 20, 16),
        LotStockLine("M2231", "north", 5, 5),
        LotStockLine("M2240", "main", 3, 3),
    )
    assert colour.available == 24
    assert [lot.on_hand for lot in seen(stocked, "T-2").colours[0].lots] == [7]


def test_the_latest_thirty_movements_are_shown(stocked: Engine) -> None:
    with writing(stocked) as session:
        for number in range(1, 31):
            correct(session, SLIP_LOT, 1, "MB", f"found {number}")
    movements = seen(stocked).movements
    assert [one.note for one in movements] == [f"found {number}" for number in range(30, 0, -1)]
    first = movements[0]
    assert (first.colour_code, first.lot, first.branch) == ("14", "M2231", "main")
    assert (first.at, first.change) == (date.today(), 1)
    assert (first.reason, first.staff) == ("corrected", "MB")
    assert [one.change for one in seen(stocked, "T-2").movements] == [7]


AHEAD = """
import sys
from shopdesk.shelf.yarn_view import yarn_view
from shopdesk.store.database import open_shelf, reading
with reading(open_shelf(sys.argv[1])) as session:
    print(yarn_view(session, "T-1").movements[0].at)
"""


def test_a_movement_is_of_the_day_that_it_was_at_the_counter(
    stocked: Engine, shelf_url: str
) -> None:
    """Where clocks are 13 hours ahead of UTC, 11 o'clock by UTC is the next day already."""
    with writing(stocked) as session:
        receive(session, SLIP_LOT, 1, at=datetime(2026, 3, 2, 11, tzinfo=UTC))
    command = [sys.executable, "-c", AHEAD, shelf_url]
    there = {**os.environ, "TZ": "XST-13"}
    done = subprocess.run(command, env=there, capture_output=True, text=True, check=True, cwd=ROOT)
    assert done.stdout == "2026-03-03\n"


def test_the_latest_twenty_slips_are_shown_and_all_are_counted(stocked: Engine) -> None:
    assert (seen(stocked).slips, seen(stocked).slip_count) == ((), 0)
    a_slip(stocked)
    slip_1_of_north(stocked)
    with writing(stocked) as session:
        row = session.execute(select(*Slip.__table__.c).where(Slip.branch_id == 1)).one()._asdict()
        del row["id"]
        session.execute(insert(Slip), [row | {"number": n} for n in range(2, 21)])
        session.execute(insert(Slip), [row | {"number": 21, "sku": "T-2"}])
    view = seen(stocked)
    assert [one.number for one in view.slips] == [*range(20, 1, -1), 1]
    assert [one.branch for one in view.slips] == [*["main"] * 19, "north"]
    assert view.slip_count == 21
    assert [one.number for one in seen(stocked, "T-2").slips] == [21]


def test_a_retired_yarn_is_shown_and_an_unknown_one_is_none(stocked: Engine) -> None:
    with writing(stocked) as session:
        session.scalars(select(Yarn).where(Yarn.sku == "T-2")).one().retired = True
    assert [seen(stocked, sku).retired for sku in ("T-1", "T-2")] == [False, True]
    with reading(stocked) as session:
        assert yarn_view(session, "T-9") is None


def test_a_yarn_as_data_says_each_fact_once(shelf: Engine) -> None:
    """What is not known of a measurement is left out; care stands behind the fibre's words."""
    label = a_label(fibres="wool 75, silk 25", attributes=frozenset({"merino"}), care=a_care(40))
    with writing(shelf) as session:
        put_yarn(session, "T-1", label=label, measurements=(a_wraps(11), a_weighing(10, 4)))
    with reading(shelf) as session:
        yarn = shelf_yarn(session, "T-1")
    assert yarn is not None
    document = yarn_document(yarn)
    names = list(document)
    assert names.index("attributes") < names.index("wash_c") < names.index("notes")
    assert (document["sku"], document["price"], document["put_up_m"]) == ("T-1", "6.50", 112.5)
    assert (document["wash_c"], document["wash_action"], document["bleach"]) == (40, "hand", None)
    assert document["fibres"] == [
        {"fibre": "wool", "percent": "75"}, {"fibre": "silk", "percent": "25"},
    ]  # fmt: skip
    wraps, weighing = document["measurements"]
    assert wraps.items() >= {"kind": "wraps", "on": A_DAY.isoformat(), "wraps_per_inch": 11}.items()
    assert weighing.items() >= {"kind": "length", "length_m": 10, "mass_g": 4}.items()
    assert "mass_g" not in wraps
    assert document["lots"][0]["available"] == 10
