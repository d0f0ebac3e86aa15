"""Two counters of one house on one shelf: each sees its own branch first, and its own slips."""

from pathlib import Path

import pytest
from sqlalchemy import Engine

from shopdesk.counter.application import create_app
from shopdesk.services.hold_records import open_holds
from shopdesk.services.slips import SlipOrder, make_slip, slips_found
from shopdesk.shelf.branch_lots import LotAtBranch
from shopdesk.shelf.stock import available, receive, transfer
from shopdesk.shelf.writing import writing
from shopdesk.shop.location import CounterBranch, CounterBranchRefused
from shopdesk.store.database import reading
from shopdesk.store.models import Branch
from tests.ask_documents import an_ask_document
from tests.counter.asks import PULLOVER
from tests.counter.conftest import SECRET, Counter
from tests.counter.test_choosing import SKU, first_colour, yarn_path
from tests.services.slips_at_counter import (
    SLIP_LOT,
    a_judged_yarn,
    a_slip,
    shop_on,
    stock_shelf,
)
from tests.slip_factories import a_choice

NORTH_LOT = LotAtBranch("T-1", "14", "M2231", "north")


def counter_in(shelf: Engine, folder: Path, branch: str) -> Counter:
    folder.mkdir()
    stands = CounterBranch(folder)
    stands.keep(branch)
    return Counter(create_app(shelf, SECRET, branch=stands).test_client())


@pytest.fixture
def stocked(shelf: Engine) -> Engine:
    """Both branches have the lot, and each a slip 1: for five skeins in main, for two in north."""
    stock_shelf(shelf)
    a_slip(shelf)
    order = SlipOrder(an_ask_document(), a_choice(skeins=2), "CD")
    with writing(shelf) as session:
        receive(session, NORTH_LOT, 7)
    make_slip(shop_on(shelf, branch="north"), a_judged_yarn(), order)
    return shelf


@pytest.fixture
def main(stocked: Engine, tmp_path: Path) -> Counter:
    return counter_in(stocked, tmp_path / "main", "main")


@pytest.fixture
def north(stocked: Engine, tmp_path: Path) -> Counter:
    return counter_in(stocked, tmp_path / "north", "north")


def test_the_branch_is_chosen_on_the_settings_page_and_outlives_the_server(
    stocked: Engine, tmp_path: Path
) -> None:
    counter = Counter(create_app(stocked, SECRET, branch=CounterBranch(tmp_path)).test_client())
    page = counter.look("/settings")
    assert page.held("counter_branch") == "main"
    sent = {"csrf_token": page.held("csrf_token"), "counter_branch": "north"}
    assert counter.client.post("/settings/counter", data=sent).status_code == 303
    assert "stands in North now" in counter.look("/settings").text
    unknown = {**sent, "counter_branch": "south"}
    assert counter.client.post("/settings/counter", data=unknown).status_code == 400
    again = Counter(create_app(stocked, SECRET, branch=CounterBranch(tmp_path)).test_client())
    assert again.look("/settings").held("counter_branch") == "north"


def test_each_counter_has_its_own_slip_of_the_same_number(main: Counter, north: Counter) -> None:
    assert "5 skeins" in main.look("/slips/1").text
    assert "2 skeins" in north.look("/slips/1").text
    theirs = main.look("/slips/1?branch=north")
    assert "Slip 1 of North" in theirs.text
    assert "2 skeins" in theirs.text
    of_slip = [link for link in theirs.links if "slip=1" in link or "/slips/1" in link]
    assert of_slip
    assert all("branch=north" in link for link in of_slip)
    assert all("branch=" not in link for link in north.look("/slips/1").links)
    assert main.client.get("/slips/1?branch=south").status_code == 404


def test_a_slip_is_found_in_the_branch_that_is_asked(main: Counter) -> None:
    assert main.look("/slips").held("branch") == "main"
    assert main.fill("/slips", number="1").headers["Location"] == "/slips/1"
    there = main.fill("/slips", number="1", branch="north")
    assert there.headers["Location"] == "/slips/1?branch=north"


def test_a_slip_is_held_and_sold_in_its_own_branch(
    main: Counter, north: Counter, stocked: Engine
) -> None:
    main.fill("/holds/new?slip=1&branch=north")
    north.fill("/holds/new?slip=1")
    main.fill("/holds/new?slip=1")
    with reading(stocked) as session:
        held = [(one.where.branch, one.skeins, one.slip_branch) for one in open_holds(session)]
        free = available(session, SLIP_LOT), available(session, NORTH_LOT)
    assert held == [("north", 2, "north")] * 2 + [("main", 5, "main")]
    assert free == (15, 3)


def test_one_more_says_what_lies_here_first(main: Counter, north: Counter) -> None:
    assert "20 skeins of the same lot are free here" in main.look("/one-more?find=1").text
    assert "7 skeins of the same lot are free here" in north.look("/one-more?find=1").text
    assert "20 skeins of the same lot are free here" in (
        main.look("/one-more?find=1&branch=north").text
    )


def test_a_swatch_belongs_to_the_slip_of_its_branch(main: Counter, north: Counter) -> None:
    page = main.look("/swatches/new?slip=1&branch=north")
    sent = main.fill(
        "/swatches/new?slip=1&branch=north", page, stitches="22", stitches_over="10", staff="MB"
    )
    assert sent.status_code == 303, sent.text
    heading = "Swatches that came back"
    assert heading in north.look("/slips/1").text
    assert heading not in main.look("/slips/1").text


def test_an_answer_takes_the_lots_that_lie_here(demo_shelf: Engine, tmp_path: Path) -> None:
    with writing(demo_shelf) as session:
        session.add(Branch(code="north", name="North"))
    here = counter_in(demo_shelf, tmp_path / "main", "main")
    page = here.look(yarn_path(here, PULLOVER))
    colour = first_colour(page)
    with reading(demo_shelf) as session:
        from shopdesk.shelf.loading import shelf_yarn

        yarn = shelf_yarn(session, SKU)
        assert yarn is not None
        lots = [lot for lot in yarn.lots if lot.colour_code == colour and lot.available]
    with writing(demo_shelf) as session:
        where = LotAtBranch(SKU, colour, lots[0].lot)
        transfer(session, where, "north", 1)
    there = counter_in(demo_shelf, tmp_path / "north", "north")
    page = there.look(yarn_path(there, PULLOVER))
    rest = sum(lot.available for lot in lots) - 1
    assert f"{rest} skeins in branch main" in page.text
    assert "1 skein in branch North" in here.look(yarn_path(here, PULLOVER)).text
    there.fill(yarn_path(there, PULLOVER), page, colour_0=colour, staff="MR")
    with reading(demo_shelf) as session:
        assert [one.branch for one in slips_found(session, branch="north")] == ["north"]
        assert slips_found(session) == ()


def test_a_branch_that_cannot_be_kept_is_told(tmp_path: Path) -> None:
    assert CounterBranch().code() == CounterBranch(tmp_path / "none").code() == "main"
    for folder in (None, tmp_path / "none"):
        with pytest.raises(CounterBranchRefused):
            CounterBranch(folder).keep("north")
