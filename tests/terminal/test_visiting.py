"""The verbs of a customer's visit: exit codes, JSON, and no name in sight."""

import json
from datetime import date
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner, Result
from sqlalchemy import Engine

from shopdesk.services.unmet_asks import Unmet, record_unmet
from shopdesk.shelf.writing import writing
from shopdesk.store.database import open_shelf
from shopdesk.store.settings import ShopSettings, save_settings
from shopdesk.store.types import now
from shopdesk.terminal.main import main
from tests.factories import a_band_gauge, a_label, a_lot
from tests.services.slips_at_counter import a_slip, stock_shelf
from tests.shelf.rows import put_yarn
from tests.terminal.shops import shop_with

LOT = ("T-1", "--colour", "14", "--lot", "M2231")
ADA = b"Ada Lambswell\n01632 960111\n"


@pytest.fixture
def shop(tmp_path: Path, empty_shelf_file: Path) -> Path:
    """The data folder of a shop with two lots and slip 1."""
    return shop_with(tmp_path / "here", empty_shelf_file, stock_shelf, _long_returns, a_slip)


def _long_returns(shelf: Engine) -> None:
    with writing(shelf) as session:
        save_settings(session, ShopSettings(return_days=365))


def run(shop: Path, *words: str, given: bytes = b"") -> Result:
    return CliRunner().invoke(main, ["--data", str(shop), *words], input=given)


def said(shop: Path, *words: str, given: bytes = b"") -> Any:
    """Runs a verb that must succeed, and returns the JSON it prints."""
    done = run(shop, *words, "--json", given=given)
    assert done.exit_code == 0, done.stderr
    return json.loads(done.stdout)


def refused(shop: Path, *words: str) -> str:
    done = run(shop, *words)
    assert (done.exit_code, done.stdout) == (2, "")
    return done.stderr


def free(shop: Path) -> int:
    return int(said(shop, "onemore", *LOT)["found"][0]["same_lot"][0]["free"])


def test_hold_extend_collect_and_release(shop: Path) -> None:
    (first,) = said(shop, "hold", *LOT, "--skeins", "4", "--customer", given=ADA)["holds"]
    assert (first["state"], first["skeins"], first["lot"]) == ("held", 4, "M2231")
    (second,) = said(shop, "hold", "--slip", "1")["holds"]
    assert (second["skeins"], second["slip"]) == (5, 1)
    assert free(shop) == 11
    said(shop, "release", str(second["hold"]))
    assert [one["hold"] for one in said(shop, "hold", "--list")["holds"]] == [first["hold"]]
    for _ in range(2):
        assert said(shop, "collect", str(first["hold"]))["holds"][0]["state"] == "collected"
    assert free(shop) == 16
    until = date.today().isoformat()
    assert "was collected" in refused(shop, "extend", str(first["hold"]), "--until", until)


def test_some_are_collected_and_the_rest_goes_back(shop: Path) -> None:
    said(shop, "hold", *LOT, "--skeins", "5")
    (kept,) = said(shop, "collect", "1", "--skeins", "2")["holds"]
    assert (kept["skeins"], kept["state"]) == (3, "held")
    (gone,) = said(shop, "collect", "1", "--skeins", "1", "--release-rest")["holds"]
    assert (gone["skeins"], gone["state"]) == (2, "released")
    assert free(shop) == 17
    assert "no rest is left" in refused(shop, "collect", "1", "--release-rest")


def test_what_cannot_be_is_one_line_and_exit_code_2(shop: Path) -> None:
    assert "more than the 20 that are free" in refused(shop, "hold", *LOT, "--skeins", "21")
    assert "nothing to hold" in refused(shop, "hold")
    assert "is no day" in refused(shop, "hold", *LOT, "--skeins", "1", "--until", "soon")
    assert "there is no hold 9" in refused(shop, "collect", "9")
    assert "there is no slip 9" in refused(shop, "onemore", "--slip", "9")
    assert "no yarn is named" in refused(shop, "onemore")
    assert "no yarn is named" in refused(shop, "onemore", "T-1", "--lot", "M2231")
    assert "does not check" in refused(shop, "onemore", "--barcode", "4006381333932")
    assert "there is no branch 'south'" in refused(
        shop, "transfer", *LOT, "--skeins", "1", "--to", "south"
    )
    assert "is no code" in refused(shop, "branch", "North Street")
    assert "nothing is left over" in refused(shop, "leftover")


def test_one_more_by_slip_tells_where_and_how(shop: Path) -> None:
    (found,) = said(shop, "onemore", "--slip", "1", "--language", "de")["found"]
    assert found["advice"] == ["20 Knäuel derselben Partie sind hier frei."]
    assert [place["lot"] for place in found["other_lots"]] == ["M2240"]


def test_left_over_comes_back_and_a_part_ball_is_weighed(shop: Path) -> None:
    lot = ("--colour", "14", "--lot", "M2231")
    view = said(shop, "leftover", "--slip", "1", *lot, "--skeins", "2")
    assert view["lots"][0]["came_back"] == 2
    assert free(shop) == 22
    # 100 g of 230 m: 40 g hold 92 m, by proportion.
    ball = said(shop, "leftover", "--sku", "T-1", "--grams", "40")
    assert (ball["metres"], ball["basis"]) == (92.0, "label")
    assert ball["low"] < 92 < ball["high"]


def test_skeins_go_to_a_new_branch(shop: Path) -> None:
    codes = said(shop, "branch", "south", "--name", "South Gate")["branches"]
    assert {"code": "south", "name": "South Gate"} in codes
    assert said(shop, "transfer", *LOT, "--skeins", "4", "--to", "south")["free"] == 16


def test_the_morning_names_nobody(shop: Path) -> None:
    said(shop, "hold", *LOT, "--skeins", "4", "--customer", given=ADA)
    for words in (("morning",), ("morning", "--json"), ("hold", "--list")):
        done = run(shop, *words)
        assert done.exit_code == 0
        assert "Lambswell" not in done.stdout + done.stderr


def test_a_customer_is_shown_then_forgotten(shop: Path) -> None:
    said(shop, "hold", *LOT, "--skeins", "4", "--customer", given=ADA)
    shown = run(shop, "forget", "--show", given=ADA)
    assert [one["phone"] for one in json.loads(shown.stdout)["contacts"]] == ["01632 960111"]
    gone = run(shop, "forget", given=ADA)
    assert "removed: 1 contacts" in gone.stdout
    again = run(shop, "forget", "--show", given=ADA)
    assert json.loads(again.stdout)["contacts"] == []
    log = shop / "shopdesk.log"
    assert not log.exists() or b"Lambswell" not in log.read_bytes()


def test_the_morning_says_category_fibre_and_yarn_in_words(shop: Path) -> None:
    engine = open_shelf(f"sqlite:///{shop / 'shopdesk.sqlite3'}")
    # Craft Yarn Council: 28 stitches are category 1, DK is category 3.
    band = a_label("DK", 225, gauge=a_band_gauge(28, 36, 3.0))
    with writing(engine) as session:
        record_unmet(session, Unmet("hat", "knit", "x", (3,), fibres=("wool",), at=now()))
        put_yarn(session, "T-2", label=band, lots=(a_lot(1, "Q1", "02", name="Dusk"),))
    engine.dispose()
    done = run(shop, "morning").stdout
    assert "3 Light (DK, light worsted): 1" in done
    assert "wool: 1" in done
    assert "Dusk (T-2 colour 02 lot Q1)" in done
    document = said(shop, "morning")
    assert [one["sku"] for one in document["bands_to_look_at"]] == ["T-2"]
    assert document["last_balls"][0]["colour_name"] == "Dusk"
