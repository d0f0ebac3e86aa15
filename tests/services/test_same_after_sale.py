"""What comes after a sale is the same by page and by command: what is kept, said and refused."""

import json
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner, Result
from sqlalchemy import Engine, select

from shopdesk.counter.application import create_app
from shopdesk.services.leftovers import BroughtBack, may_come_back, take_back
from shopdesk.services.slips import SlipOrder, make_slip
from shopdesk.services.swatches import find_swatch, list_swatches
from shopdesk.shelf.stock import receive
from shopdesk.shelf.writing import writing
from shopdesk.shop.location import CounterBranch
from shopdesk.shop.shop import Shop
from shopdesk.store.database import open_shelf, reading
from shopdesk.store.models import Colourway, StockMovement
from shopdesk.store.settings import ShopSettings, save_settings
from shopdesk.terminal.main import main
from shopdesk.wording.formatting import day
from tests.ask_documents import an_ask_document
from tests.counter.conftest import SECRET, Counter
from tests.pages import read_page
from tests.services.slips_at_counter import a_judged_yarn, a_slip, shop_on, stock_shelf
from tests.services.test_one_more import NORTH
from tests.slip_factories import a_choice
from tests.terminal.shops import shop_with

# 036000291452 is the worked example of the GS1 General Specifications.
BARCODE = "036000291452"


def _two_branches(shelf: Engine) -> None:
    """Main has the slip 1 of five skeins, north a slip 1 of two; unopened ones may come back."""
    stock_shelf(shelf)
    a_slip(shelf)
    with writing(shelf) as session:
        save_settings(session, ShopSettings(return_days=3650))
        receive(session, NORTH, 7)
    order = SlipOrder(an_ask_document(), a_choice(skeins=2), "CD")
    make_slip(shop_on(shelf, branch="north"), a_judged_yarn(), order)
    with writing(shelf) as session:
        session.scalars(select(Colourway)).one().gtin = BARCODE


@dataclass
class TwoShops:
    """Two shops alike: one that is used by its pages, one by its commands."""

    by_page: Engine
    by_command: Engine
    folder: Path

    def counter(self, branch: str = "main") -> Counter:
        stands = CounterBranch(self.folder)
        stands.keep(branch)
        return Counter(create_app(self.by_page, SECRET, branch=stands).test_client())

    def run(self, *words: str) -> Result:
        return CliRunner().invoke(main, ["--data", str(self.folder), *words])

    def said(self, *words: str) -> Any:
        done = self.run(*words, "--json")
        assert done.exit_code == 0, done.stderr
        return json.loads(done.stdout)

    def refused(self, *words: str) -> list[str]:
        """Returns the lines of a refusal, each without the command's name."""
        done = self.run(*words)
        assert (done.exit_code, done.stdout) == (2, "")
        return [line.removeprefix("shopdesk: ") for line in done.stderr.splitlines()]

    def alike(self, what: Any, branch: str = "main") -> Any:
        """Returns what both shops have of `what`, which must be the same."""
        page, command = (what(Shop(one, branch)) for one in (self.by_page, self.by_command))
        assert page == command
        return page


@pytest.fixture
def shops(tmp_path: Path, empty_shelf_file: Path) -> Iterator[TwoShops]:
    page = shop_with(tmp_path / "page", empty_shelf_file, _two_branches)
    command = shop_with(tmp_path / "command", empty_shelf_file, _two_branches)
    engines = [open_shelf(f"sqlite:///{one / 'shopdesk.sqlite3'}") for one in (page, command)]
    yield TwoShops(*engines, command)
    for engine in engines:
        engine.dispose()


def sentence(line: str) -> str:
    """Returns a line of the terminal as a page says it: without its option, as a sentence."""
    words = line.split(": ", 1)[1] if line.startswith("--") else line
    return f"{words[:1].upper()}{words[1:]}."


def movements(shop: Shop) -> list[tuple[Any, ...]]:
    with reading(shop.engine) as session:
        found = session.scalars(select(StockMovement).order_by(StockMovement.id))
        return [(m.lot_id, m.branch_id, m.change, m.reason, m.staff, m.note) for m in found]


WEIGHED = {"width": "15", "height": "15", "mass": "6"}


@pytest.mark.compares("swatches.report_swatch")
@pytest.mark.parametrize(("branch", "skeins"), [("main", 5), ("north", 2)])
def test_a_swatch_of_a_slip_is_kept_the_same(shops: TwoShops, branch: str, skeins: int) -> None:
    typed = {"stitches": "20", "rows": "27", "tool": "6", "tool_system": "US", **WEIGHED}
    path = "/swatches/new?slip=1"
    sent = shops.counter(branch).fill(path, **typed, washed="yes", staff="AB", from_shop="y")
    assert sent.headers["Location"].startswith("/swatches/1")
    options = [word for name in typed for word in (f"--{name.replace('_', '-')}", typed[name])]
    who = ("--washed", "--staff", "AB", "--from-shop", "--branch", branch)
    assert shops.said("swatch", "1", *options, *who)["swatch"] == 1
    (kept,) = shops.alike(lambda shop: list_swatches(shop, 1), branch)
    assert kept.subject.lines[0].skeins == skeins
    assert (kept.event.staff, kept.event.from_customer) == ("AB", False)


def test_a_swatch_of_a_yarn_is_kept_the_same(shops: TwoShops) -> None:
    shops.counter().fill("/swatches/new?sku=T-1&craft=crochet", stitches="16", over="4",
                         over_unit="in", asked="y")  # fmt: skip
    measured = ("--stitches", "16", "--over", "4 in", "--asked")
    shops.said("swatch", "--yarn", "T-1", "--crochet", *measured)
    kept = shops.alike(lambda shop: find_swatch(shop, 1))
    assert (kept.subject.craft.value, kept.subject.slip_number) == ("crochet", None)
    assert kept.event.asked_for


def test_a_swatch_is_refused_in_the_same_words(shops: TwoShops) -> None:
    typed = {"stitches": "many", "rows": "0", "mass": "6", "hand": "x" * 61}
    page = read_page(shops.counter().fill("/swatches/new?slip=1", **typed).text)
    lines = shops.refused("swatch", "1", "--stitches", "many", "--rows", "0", "--mass", "6")
    assert [line.split(":")[0] for line in lines] == ["--stitches", "--rows", "--width", "--height"]
    for line in lines:
        assert sentence(line) == page.message(line.split(":")[0].removeprefix("--"))
    assert page.message("hand")
    for address, words in (("slip=9", ("9",)), ("yarn=T-9", ("--yarn", "T-9"))):
        page = read_page(shops.counter().client.get(f"/swatches?{address}").text)
        told = page.message(address.split("=")[0])
        assert [told] == [sentence(x) for x in shops.refused("swatch", *words, "--stitches", "22")]
    assert shops.alike(lambda shop: find_swatch(shop, 1)) is None


@pytest.mark.parametrize(
    ("typed", "options", "field"),
    [
        ({"rows": "3"}, ("--rows", "3"), "rows"),
        (
            {"width": "15", "height": "15", "mass": "900"},
            ("--width", "15", "--height", "15", "--mass", "900"),
            "mass",
        ),
        (
            {"width": "8", "height": "15", "mass": "5"},
            ("--width", "8", "--height", "15", "--mass", "5"),
            "over",
        ),
    ],
)
def test_a_swatch_that_cannot_be_is_asked_back_in_the_same_words(
    shops: TwoShops, typed: dict[str, str], options: tuple[str, ...], field: str
) -> None:
    sent = shops.counter().fill("/swatches/new?slip=1", stitches="22", **typed)
    [line] = shops.refused("swatch", "1", "--stitches", "22", *options)
    assert line.startswith(f"--{field}: ")
    assert sentence(line) == read_page(sent.text).message(field)
    assert shops.alike(lambda shop: list_swatches(shop, 1)) == ()


@pytest.mark.compares("one_more.find_one_more")
@pytest.mark.parametrize("branch", ["main", "north"])
@pytest.mark.parametrize(
    ("address", "words"),
    [
        ("find=1", ("--slip", "1")),
        (f"find={BARCODE}&lot=M2240", ("--barcode", BARCODE, "--lot", "M2240")),
        ("find=t-1&colour=14&lot=M2231", ("t-1", "--colour", "14", "--lot", "M2231")),
        ("find=T-1&colour=14", ("T-1", "--colour", "14")),
    ],
)
def test_one_more_is_found_the_same(
    shops: TwoShops, branch: str, address: str, words: tuple[str, ...]
) -> None:
    page = shops.counter(branch).look(f"/one-more?{address}")
    (found,) = shops.said("onemore", *words, "--branch", branch)["found"]
    assert found["advice"]
    shown = " ".join(page.text.split())
    places = []
    for told in found["advice"]:
        places.append(shown.index(told))
    assert places == sorted(places)
    listed = [f"colour=14&lot={one['lot']}&branch={one['branch']}"
              for one in (*found["same_lot"], *found["other_lots"])]  # fmt: skip
    assert listed
    assert [link.split("&", 1)[1] for link in page.links if "/holds/new?sku=T-1" in link] == listed


@pytest.mark.parametrize(
    ("address", "box", "words"),
    [
        ("find=9", "find", ("--slip", "9")),
        ("find=4006381333931", "find", ("--barcode", "4006381333931")),
        ("find=4006381333932", "find", ("--barcode", "4006381333932")),
        ("find=T-9&colour=14", "find", ("T-9", "--colour", "14")),
        ("find=T-1&colour=99", "colour", ("T-1", "--colour", "99")),
        (f"find={BARCODE}&colour=99", "colour", ("--barcode", BARCODE, "--colour", "99")),
    ],
)
def test_one_more_is_refused_in_the_same_words(
    shops: TwoShops, address: str, box: str, words: tuple[str, ...]
) -> None:
    answer = shops.counter().client.get(f"/one-more?{address}")
    assert answer.status_code == 422
    told = read_page(answer.text).message(box)
    assert [told] == [sentence(line) for line in shops.refused("onemore", *words)]


@pytest.mark.compares("leftovers.take_back")
@pytest.mark.parametrize(("branch", "left"), [("main", 3), ("north", 0)])
def test_skeins_come_back_the_same(shops: TwoShops, branch: str, left: int) -> None:
    sent = shops.counter(branch).fill("/slips/1/returns", skeins="2", staff="MB")
    assert sent.status_code == 303
    words = ("--slip", "1", "--colour", "14", "--lot", "M2231", "--skeins", "2")
    shops.said("leftover", *words, "--staff", "MB", "--branch", branch)
    view = shops.alike(lambda shop: may_come_back(shop, 1), branch)
    assert view.lines[0].may_come_back == left
    assert shops.alike(movements)[-1][2:] == (2, "returned", "MB", "slip 1")


@pytest.mark.compares("leftovers.may_come_back")
@pytest.mark.parametrize(("branch", "skeins"), [("main", 5), ("north", 2)])
def test_what_may_come_back_is_told_the_same(shops: TwoShops, branch: str, skeins: int) -> None:
    for shelf in (shops.by_page, shops.by_command):
        take_back(Shop(shelf, branch), BroughtBack(1, "14", "M2231", 1))
    page = " ".join(shops.counter(branch).look("/slips/1/returns").text.split())
    view = shops.said("leftover", "--slip", "1", "--branch", branch)
    (lot,) = view["lots"]
    assert (lot["lot"], lot["sold"], lot["came_back"]) == ("M2231", skeins, 1)
    assert f"{lot['sold']} on the slip, {lot['came_back']} came back" in page
    last = date.fromisoformat(view["last_day"])
    assert view["in_time"] is True
    assert f"Unopened skeins come back until {day(last, ShopSettings().reader())}" in page


def test_skeins_that_cannot_come_back_are_refused_in_the_same_words(shops: TwoShops) -> None:
    page = read_page(shops.counter().fill("/slips/1/returns", skeins="6").text)
    words = ("--slip", "1", "--colour", "14", "--lot", "M2231", "--skeins", "6")
    told = [sentence(line) for line in shops.refused("leftover", *words)]
    assert told == [page.message("skeins")]
    assert "6 skeins cannot come back of the 5 that are out" in told[0]
    assert shops.alike(lambda shop: may_come_back(shop, 1)).lines[0].came_back == 0


@pytest.mark.compares("leftovers.weigh_remnant")
def test_a_part_ball_is_weighed_the_same(shops: TwoShops) -> None:
    # 100 g of 230 m: 40.5 g hold 93.15 m, by proportion.
    page = shops.counter().look("/left-over?sku=T-1&grams=40,5").text
    line = shops.run("leftover", "--sku", "T-1", "--grams", "40,5").stdout
    assert line.startswith("about 93 m (")
    low, high = line.split("(")[1].split(" m)")[0].split(" to ")
    shown = " ".join(page.split())
    assert "About 93 m" in shown
    assert f"Between {low} m and {high} m; basis: label." in shown


@pytest.mark.parametrize(
    ("sku", "grams"), [("T-9", "40"), ("T-1", "x"), ("T-1", "0"), ("T-1", "20000"), ("T-9", "-1")]
)
def test_a_part_ball_is_refused_in_the_same_words(shops: TwoShops, sku: str, grams: str) -> None:
    answer = shops.counter().client.get("/left-over", query_string={"sku": sku, "grams": grams})
    assert answer.status_code == 422
    page = read_page(answer.text)
    lines = shops.refused("leftover", "--sku", sku, f"--grams={grams}")
    assert lines
    said = {line.split(":")[0].removeprefix("--"): sentence(line) for line in lines}
    assert {box: page.message(box) for box in ("sku", "grams") if page.message(box)} == said
