"""Page and command change stock, sell slips and send skeins alike, and list the same mornings."""

import json
from datetime import date, timedelta
from html import unescape
from pathlib import Path

import pytest
from sqlalchemy import Engine

from shopdesk.services.holds import HoldOrder, hold_skeins
from shopdesk.shelf.stock import count
from shopdesk.shelf.writing import writing
from shopdesk.shop.shop import Shop
from shopdesk.wording.formatting import capital
from tests.factories import a_band_gauge, a_label, a_lot
from tests.pages import read_page
from tests.services.slips_at_counter import (
    OTHER_LOT,
    SLIP_LOT,
    a_slip,
    slip_1_of_north,
    stock_shelf,
)
from tests.services.two_copies import TwoCopies, two_copies
from tests.shelf.rows import put_yarn

BAND = {"sku": "T-1", "colour": "14", "lot": "M2231", "skeins": "4"}
LOT = ("--lot", "M2231")
ADA = "Ada Lamb\n01632 960111\n"


def of_ada(shelf: Engine) -> None:
    """Makes slip 1 of main, of a customer who agreed to be asked, 15 days ago."""
    on = date.today() - timedelta(days=15)
    a_slip(shelf, on, name="Ada Lamb", phone="01632 960111", ask=True)


@pytest.fixture
def copies(tmp_path: Path, empty_shelf_file: Path) -> TwoCopies:
    return two_copies(tmp_path, empty_shelf_file, stock_shelf, of_ada, slip_1_of_north)


def sell_on_page(copies: TwoCopies, path: str) -> int:
    page = copies.counter.look("/branches")
    sent = {"csrf_token": page.held("csrf_token")}
    return copies.counter.client.post(path, data=sent).status_code


@pytest.mark.compares("sales.book_sale")
@pytest.mark.parametrize(("query", "branch"), [("", "main"), ("?branch=north", "north")])
def test_a_slip_is_sold_once_in_its_own_branch(copies: TwoCopies, query: str, branch: str) -> None:
    assert sell_on_page(copies, f"/slips/1/sold{query}") == 303
    (sold,) = copies.said("shelf", "sold", "1", "--branch", branch, "--json")["lots"]
    assert sold["on_hand"] == {"main": 20 - 5, "north": 9 - 5}[branch]
    assert copies.changed_alike()
    again = copies.command("shelf", "sold", "1", "--branch", branch)
    assert sell_on_page(copies, f"/slips/1/sold{query}") == 409
    assert (again.exit_code, "sold already" in again.stderr) == (2, True)
    assert copies.changed_alike()


@pytest.mark.compares("stock_changes.change_stock")
@pytest.mark.parametrize("branch", ["main", "north"])
@pytest.mark.parametrize(
    ("kind", "skeins"), [("receive", "3"), ("count", "2"), ("sell", "2"), ("correct", "-2")]
)
def test_stock_is_changed(copies: TwoCopies, kind: str, skeins: str, branch: str) -> None:
    lot = {"colour": "14", "lot": "M2231", "branch": branch}
    page = copies.counter.fill(
        "/shelf/yarn/stock?sku=T-1", **lot, change=kind, skeins=skeins, staff="MB", note="moths"
    )
    assert page.status_code == 303
    more = ("--branch", branch, "--staff", "MB", "--note", "moths")
    done = copies.command("shelf", "stock", kind, *LOT, *more, "--", "T-1", "14", skeins)
    assert done.exit_code == 0
    assert copies.changed_alike()


@pytest.mark.parametrize("skeins", ["1000001", "9223372036854775807", "-99999999"])
@pytest.mark.parametrize("kind", ["receive", "count", "sell", "correct"])
def test_more_skeins_than_any_shop_has_are_refused_alike(
    copies: TwoCopies, kind: str, skeins: str
) -> None:
    """Among them the greatest number that a column of SQLite holds."""
    lot = {"colour": "14", "lot": "M2231", "branch": "main"}
    page = copies.counter.fill(
        "/shelf/yarn/stock?sku=T-1", **lot, change=kind, skeins=skeins, staff="MB", note="moths"
    )
    more = ("--branch", "main", "--staff", "MB", "--note", "moths")
    done = copies.command("shelf", "stock", kind, *LOT, *more, "--", "T-1", "14", skeins)
    assert (page.status_code, done.exit_code) == (422, 2), done.output
    assert copies.unchanged()


def test_more_skeins_than_any_shop_has_are_not_sent(copies: TwoCopies) -> None:
    words = ("transfer", "T-1", "--colour", "14", *LOT, "--to", "north", "--staff", "MB")
    refused = copies.command(*words, "--skeins", "1000001")
    assert (refused.exit_code, "1000001 skeins are more" in refused.stderr) == (2, True)


@pytest.mark.parametrize(
    ("name", "most", "said"),
    [
        ("staff", 60, "The name of staff"),
        ("note", 200, "The note"),
        ("lot", 40, "The lot's number"),
    ],
)
def test_words_that_no_column_holds_are_refused_alike(
    copies: TwoCopies, name: str, most: int, said: str
) -> None:
    for letters in (most, most + 1):
        typed = {"lot": "M2231", name: "w" * letters}
        page = copies.counter.fill(
            "/shelf/yarn/stock?sku=T-1", colour="14", change="receive", skeins="1", **typed
        )
        words = [word for option, text in typed.items() for word in (f"--{option}", text)]
        command = copies.command("shelf", "stock", "receive", "T-1", "14", "1", *words)
        assert (page.status_code, command.exit_code) == ((303, 0) if letters == most else (422, 2))
        assert copies.changed_alike()
    refusal = f"{said} is too long; use at most {most} letters"
    assert refusal in unescape(page.text)
    assert capital(command.stderr.removeprefix("shopdesk: ").strip()) == refusal


@pytest.mark.parametrize(
    ("kind", "skeins"), [("receive", "0"), ("count", "-1"), ("sell", "21"), ("correct", "2")]
)
def test_stock_that_cannot_be_is_refused_in_the_same_words(
    copies: TwoCopies, kind: str, skeins: str
) -> None:
    page = copies.counter.fill(
        "/shelf/yarn/stock?sku=T-1", colour="14", lot="M2231", change=kind, skeins=skeins
    )
    command = copies.command("shelf", "stock", kind, *LOT, "--", "T-1", "14", skeins)
    assert (page.status_code, command.exit_code) == (422, 2)
    assert capital(command.stderr.removeprefix("shopdesk: ").strip()) in page.text
    assert copies.unchanged()


@pytest.mark.compares("branches.transfer_skeins")
def test_skeins_are_sent_to_another_branch(copies: TwoCopies) -> None:
    way = {"branch": "main", "to_branch": "north", "staff": "MB"}
    assert (
        copies.counter.fill(
            "/branches/transfer", copies.counter.look("/branches"), **BAND, **way
        ).status_code
        == 303
    )
    words = ("transfer", "T-1", "--colour", "14", *LOT, "--skeins", "4", "--to", "north")
    assert copies.said(*words, "--staff", "MB", "--json")["free"] == 16
    assert copies.changed_alike()


@pytest.mark.compares("branches.add_branch", "branches.list_branches")
def test_a_branch_is_added_and_listed(copies: TwoCopies) -> None:
    added = copies.counter.fill("/branches", code="south", name="South Gate")
    assert added.status_code == 303
    listed = copies.said("branch", "south", "--name", "South Gate", "--json")["branches"]
    assert copies.changed_alike()
    text = copies.counter.look("/branches").text
    assert [one["code"] for one in listed] == ["main", "north", "south"]
    assert all(one["code"] in text and one["name"] in text for one in listed)
    again = copies.counter.fill("/branches", copies.counter.look("/branches"), code="south")
    refused = copies.command("branch", "south")
    assert (again.status_code, refused.exit_code) == (422, 2)
    assert "already" in again.text
    assert "already" in refused.stderr


def a_busy_morning(shelf: Engine) -> None:
    """A hold that ends today of more than is there, a last ball, and a contradicted band."""
    hold_skeins(Shop(shelf), HoldOrder(((SLIP_LOT, 6),), until=date.today()))
    # Craft Yarn Council: 28 stitches are category 1, DK is category 3.
    band = a_label("DK", 225, gauge=a_band_gauge(28, 36, 3.0))
    with writing(shelf) as session:
        count(session, SLIP_LOT, 4)
        count(session, OTHER_LOT, 1)
        put_yarn(session, "T-2", label=band, lots=(a_lot(7, "Q1", "02", name="Dusk"),))


@pytest.mark.compares("morning.morning_list")
def test_the_same_morning_is_listed(tmp_path: Path, empty_shelf_file: Path) -> None:
    copies = two_copies(tmp_path, empty_shelf_file, stock_shelf, of_ada, a_busy_morning)
    text = " ".join(copies.counter.look("/morning").text.split())
    listed = copies.said("morning", "--json")
    assert [one["hold"] for one in listed["holds_that_end"]] == [1]
    assert "Holds that end today 1" in text
    (over,) = listed["more_put_by_than_there_is"]
    assert f"{over['held']} on hold, {over['on_hand']} on the shelf" in text
    assert (over["held"], over["on_hand"]) == (6, 4)
    assert [one["slip"] for one in listed["slips_without_a_swatch"]] == [1]
    assert "Ask how the swatch came out 1 " in text
    assert [one["lot"] for one in listed["last_balls"]] == ["M2240"]
    assert "Down to the last ball 1 " in text
    assert [one["sku"] for one in listed["bands_to_look_at"]] == ["T-2"]
    assert "Bands to look at 1 " in text


def test_the_command_tidies_before_it_lists_and_the_page_does_not(
    tmp_path: Path, empty_shelf_file: Path
) -> None:
    def ran_out(shelf: Engine) -> None:
        long_ago = Shop(shelf, clock=lambda: Shop(shelf).clock() - timedelta(days=30))
        hold_skeins(long_ago, HoldOrder(((SLIP_LOT, 2),)))

    copies = two_copies(tmp_path, empty_shelf_file, stock_shelf, ran_out)
    copies.counter.look("/morning")
    assert copies.unchanged()
    copies.said("morning", "--json")
    assert not copies.unchanged()


@pytest.mark.compares("hands.keep_hand")
@pytest.mark.parametrize(("way", "signed"), [("tighter", 4.0), ("looser", -4.0)])
def test_a_hand_is_kept_the_same(copies: TwoCopies, way: str, signed: float) -> None:
    boxes = {"name": "Ada Lamb", "phone": "01632 960111", "percent": "4", "way": way}
    sent = copies.counter.fill("/customers", **boxes, agreed="y", do="hand")
    assert sent.status_code == 303
    said = copies.said("hand", f"--{way}", "4", "--agreed", given=ADA)
    assert said == {"hand": {"percent": 4.0, "way": way}} == copies.said("hand", given=ADA)
    assert copies.changed_alike()
    contacts = copies.said("forget", "--show", given=ADA)["contacts"]
    assert signed in [one["hand_percent_tighter"] for one in contacts]
    shown = copies.counter.fill("/customers", name="Ada Lamb", do="show").text
    assert f"/?hand={signed}" in shown


def test_a_hand_is_refused_the_same(copies: TwoCopies) -> None:
    sent = copies.counter.fill("/customers", name="Ada Lamb", percent="99", do="hand")
    assert sent.status_code == 422
    page = read_page(sent.text)
    refused = copies.command("hand", "--tighter", "99", given=ADA)
    assert refused.exit_code == 2
    for box, option in (("percent", "--tighter"), ("agreed", "--agreed")):
        [words] = [
            line.split(f"{option}: ", 1)[1]
            for line in refused.stderr.splitlines()
            if f"{option}: " in line
        ]
        assert page.message(box) == f"{words[:1].upper()}{words[1:]}."


@pytest.mark.compares("privacy.customer_record", "privacy.forget_customer")
def test_what_is_kept_of_a_customer_is_given_out_and_forgotten(copies: TwoCopies) -> None:
    given = copies.counter.fill("/customers", name="Ada Lamb", do="file")
    record = copies.said("forget", "--show", given=ADA)
    timeless = [
        {**one, "contacts": [{**who, "left_at": ""} for who in one["contacts"]]}
        for one in (json.loads(given.text), record)
    ]
    assert timeless[0] == timeless[1]
    assert [one["slip"] for one in record["slips"]] == [1]
    assert copies.counter.fill("/customers", name="Ada Lamb", do="forget").status_code == 303
    assert copies.command("forget", given=ADA).exit_code == 0
    assert copies.changed_alike()


def test_nobody_named_is_refused(copies: TwoCopies) -> None:
    sent = copies.counter.fill("/customers", do="forget")
    refused = copies.command("forget", given="\n\n")
    assert (sent.status_code, refused.exit_code) == (422, 2)
    told = "nobody is named; give a name or a telephone number"
    assert told in refused.stderr
    assert capital(told) in sent.text
    assert copies.unchanged()
