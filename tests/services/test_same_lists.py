"""Page and command do the same with the shelf's lists: find, check, import, export, read."""

import json
import shutil
from collections.abc import Iterator
from dataclasses import dataclass
from io import BytesIO
from pathlib import Path
from urllib.parse import parse_qs, urlsplit

import pytest
from sqlalchemy import Engine

from shopdesk.counter.application import create_app
from shopdesk.counter.forms.ask_form import ask_form_data
from shopdesk.store.database import open_shelf
from tests.counter.conftest import SECRET, Counter
from tests.pages import Page, read_page
from tests.terminal.demo_shop import Run, document_of, runner


@dataclass
class TwoShops:
    """Two copies of one shop: one is changed at its counter, the other by commands."""

    counter: Counter
    run: Run

    def export(self, kind: str) -> tuple[str, str]:
        """Returns a table of the one shop from its page, and of the other from the command."""
        page = self.counter.client.get(f"/exports/{kind}.csv")
        return page.text.removeprefix("\ufeff"), self.run("export", kind).stdout_bytes.decode()


@pytest.fixture
def shops(few_yarns_file: Path, tmp_path: Path) -> Iterator[TwoShops]:
    for name in ("page", "command"):
        (tmp_path / name).mkdir()
        shutil.copy(few_yarns_file, tmp_path / name / "shopdesk.sqlite3")
    shelf: Engine = open_shelf(f"sqlite:///{tmp_path / 'page' / 'shopdesk.sqlite3'}")
    yield TwoShops(Counter(create_app(shelf, SECRET).test_client()), runner(tmp_path / "command"))
    shelf.dispose()


def skus(page: Page) -> list[str]:
    """Returns the yarns that a page links to, each once, in its order."""
    links = (urlsplit(link) for link in page.links)
    found = (parse_qs(link.query)["sku"][0] for link in links if link.path == "/shelf/yarn")
    return list(dict.fromkeys(found))


@pytest.mark.compares("yarn_finding.find_yarns")
@pytest.mark.parametrize(
    ("asked", "arguments"),
    [
        ({"q": "a"}, ["a"]),
        ({"q": "oy 31"}, ["oy", "31"]),
        ({"category": "3", "in_stock": "y"}, ["--category", "3", "--in-stock"]),
        ({"fibre": "cotton", "machine": "y"}, ["--fibre", "cotton", "--machine"]),
        ({"q": "b", "retired": "y"}, ["b", "--retired"]),
        ({"q": "zzzz"}, ["zzzz"]),
    ],
)
def test_the_same_yarns_are_found(
    shops: TwoShops, asked: dict[str, str], arguments: list[str]
) -> None:
    answer = shops.counter.client.get("/shelf", query_string=asked)
    told = json.loads(shops.run("shelf", "find", *arguments, "--json").stdout)
    assert skus(read_page(answer.text)) == [yarn["sku"] for yarn in told["yarns"]]
    assert bool(told["yarns"]) is (asked.get("q") != "zzzz")


@pytest.mark.compares("yarn_finding.identify_scan", "yarn_finding.show_yarn")
@pytest.mark.parametrize("scanned", ["2100101000003", "OY-0101"])
def test_the_same_yarn_is_shown(shops: TwoShops, scanned: str) -> None:
    found = shops.counter.client.get("/shelf", query_string={"q": scanned})
    page = shops.counter.look(found.headers["Location"])
    yarn = document_of(shops.run("shelf", "show", scanned, "--json"))
    assert found.headers["Location"].endswith(f"sku={yarn['sku']}")
    assert yarn["lots"]
    for words in (yarn["name"], yarn["put_up_printed"], *(lot["lot"] for lot in yarn["lots"])):
        assert words in page.text


def test_no_such_yarn_is_refused_by_both(shops: TwoShops) -> None:
    assert shops.counter.client.get("/shelf/yarn?sku=nothing").status_code == 404
    assert shops.run("shelf", "show", "nothing").exit_code == 2
    assert shops.run("check", "--yarn", "nothing").exit_code == 2


@pytest.mark.compares("labels.check_shelf")
def test_the_same_labels_are_questioned_in_the_same_order(shops: TwoShops) -> None:
    page = shops.counter.look("/shelf/check")
    checked = document_of(shops.run("check", "--json"))["yarns"]
    questioned = [yarn for yarn in checked if yarn["findings"]]
    assert questioned
    assert skus(page) == [yarn["sku"] for yarn in questioned]
    for yarn in questioned:
        for finding in yarn["findings"]:
            assert " ".join(finding["text"].split()) in " ".join(page.text.split())


@pytest.mark.compares("labels.check_yarn")
def test_the_same_is_said_of_one_label(shops: TwoShops) -> None:
    every = document_of(shops.run("check", "--json"))["yarns"]
    (sku, *_), (fine, *_) = (
        [yarn["sku"] for yarn in every if bool(yarn["findings"]) is questioned]
        for questioned in (True, False)
    )
    for one in (sku, fine):
        page = " ".join(shops.counter.look(f"/shelf/yarn?sku={one}").text.split())
        (checked,) = document_of(shops.run("check", "--yarn", one, "--json"))["yarns"]
        said = [line["text"] for line in (*checked["findings"], *checked["measure_next"])]
        places = [page.index(" ".join(text.split())) for text in said]
        assert places == sorted(places)
        assert ("Nothing speaks against the band" in page) is (not checked["findings"])


TABLE = "sku,colour,lot,skeins\nOY-3101,01,N1,4\nOY-3102,01,N2,7\n"


def take_in(shops: TwoShops, tmp_path: Path, text: str, kind: str, do: str = "apply") -> str:
    """Takes the table in at the counter and by the command; returns what the page says."""
    client = shops.counter.client
    token = shops.counter.look("/imports").held("csrf_token")
    sent = {"csrf_token": token, "kind": kind, "file": (BytesIO(text.encode()), "t.csv")}
    address = client.post("/imports", data=sent).headers["Location"]
    client.get(address)
    done = client.post(address, data={"csrf_token": token, "do": do}, follow_redirects=True).text
    (tmp_path / "t.csv").write_text(text, encoding="utf-8")
    rest = ["--without-refused"] if do == "apply-rest" else []
    shops.run("import", tmp_path / "t.csv", "--kind", kind, "--apply", *rest)
    return done


@pytest.mark.compares("table_files.take_in_table", "table_files.undo_import")
def test_a_table_is_taken_in_and_undone_the_same(shops: TwoShops, tmp_path: Path) -> None:
    before, _ = shops.export("stock")
    assert "Import 1 is done" in take_in(shops, tmp_path, TABLE, "stock")
    page, command = shops.export("stock")
    assert page == command != before
    assert "OY-3101,01,N1,4,main" in page
    token = shops.counter.look("/imports").held("csrf_token")
    shops.counter.client.post("/imports/undo", data={"csrf_token": token, "number": "1"})
    assert shops.run("import", "--undo").exit_code == 0
    page, command = shops.export("stock")
    assert page == command


@pytest.mark.parametrize(("do", "changes"), [("apply", False), ("apply-rest", True)])
def test_refused_lines_are_left_out_by_both_or_stop_both(
    shops: TwoShops, tmp_path: Path, do: str, changes: bool
) -> None:
    before, _ = shops.export("stock")
    take_in(shops, tmp_path, TABLE + "OY-3101,01,N3,some\n", "stock", do)
    page, command = shops.export("stock")
    assert page == command
    assert (page != before) is changes


@pytest.mark.compares("table_files.export_table")
@pytest.mark.parametrize("kind", ["yarns", "colours", "stock"])
def test_the_same_table_is_exported(shops: TwoShops, kind: str) -> None:
    page, command = shops.export(kind)
    assert page == command
    assert page.count("\n") > 10


def test_a_yarn_that_is_typed_is_as_one_that_is_imported(shops: TwoShops, tmp_path: Path) -> None:
    facts = {
        "sku": "NEW-1", "name": "Fellside", "price": "4,50", "put_up_g": "1.75 oz",
        "put_up_m": "125", "fibres": "wool 75, polyamide 25", "knit_stitches_low": "22",
        "attributes": "superwash", "wash_c": "30", "hand_dyed": "yes",
    }  # fmt: skip
    assert shops.counter.fill("/shelf/yarn/new", **facts).status_code == 303
    lines = [";".join(facts), ";".join(facts.values())]
    (tmp_path / "yarn.csv").write_text("\n".join(lines), encoding="utf-8")
    done = shops.run("import", tmp_path / "yarn.csv", "--kind", "yarns", "--apply")
    assert done.exit_code == 0, done.output
    page, command = shops.export("yarns")
    assert page == command
    assert "NEW-1,Fellside" in page


def test_a_colour_that_is_typed_is_as_one_that_is_imported(shops: TwoShops, tmp_path: Path) -> None:
    facts = {"family": "yellow", "gtin": "6291041500213"}
    sent = shops.counter.fill(
        "/shelf/yarn/colour?sku=OY-3101", code="N7", colour_name="Lantern", **facts
    )
    assert sent.status_code == 303
    text = "sku,colour,name,family,gtin\nOY-3101,N7,Lantern,yellow,6291041500213\n"
    (tmp_path / "colour.csv").write_text(text, encoding="utf-8")
    done = shops.run("import", tmp_path / "colour.csv", "--kind", "colours", "--apply")
    assert done.exit_code == 0, done.output
    page, command = shops.export("colours")
    assert page == command
    assert "OY-3101,N7,Lantern" in page


def test_a_patterns_words_become_the_same_ask(shops: TwoShops) -> None:
    words = (
        "Hat for a child\nYarn: 2 balls DK, 50 g = 120 m, 75% wool, 25% nylon\n"
        "4 mm needles\nTension: 22 sts and 30 rows to 10 cm in st st"
    )
    token = shops.counter.look("/pattern").held("csrf_token")
    sent = {"csrf_token": token, "text": words, "language": ""}
    page = read_page(shops.counter.client.post("/pattern", data=sent).text).sent()
    ask = document_of(shops.run("read", "-", given=words))
    typed = ask_form_data(ask)
    assert ask["gauge"]["stitches"] == 22
    shared = [name for name in typed if name in page]
    assert {"craft", "item", "wearer", "stitches", "rows", "tool", "parts-0-count"} <= set(shared)
    assert {name: page[name] for name in shared} == {name: typed.getlist(name) for name in shared}
