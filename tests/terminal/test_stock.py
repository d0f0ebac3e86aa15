"""`shopdesk shelf`: find, show and change stock, with exit codes and JSON."""

import json
import shutil
from pathlib import Path

import pytest
from click.testing import CliRunner

from shopdesk.terminal.main import main


@pytest.fixture
def shop(tmp_path: Path, demo_shelf_file: Path) -> Path:
    """The folder of a shop with the demo catalog."""
    shutil.copy(demo_shelf_file, tmp_path / "shopdesk.sqlite3")
    return tmp_path


def run(shop: Path, *arguments: str) -> tuple[int, str, str]:
    result = CliRunner().invoke(main, ["--data", str(shop), "shelf", *arguments])
    return result.exit_code, result.stdout, result.stderr


def test_a_yarn_is_found_by_its_first_letters(shop: Path) -> None:
    code, out, told = run(shop, "find", "ambre")
    assert (code, told) == (0, "")
    assert out.startswith("OY-0101  Ambrethorn  50 g / 400 m  9.80  ")
    assert json.loads(run(shop, "find", "ambre", "--json")[1])["yarns"][0]["sku"] == "OY-0101"


def test_nothing_found_is_exit_code_1(shop: Path) -> None:
    assert run(shop, "find", "zzz") == (1, "", "")
    code, _, told = run(shop, "find", "2100101000011")
    assert code == 1
    assert "does not check" in told


@pytest.mark.parametrize(
    "options",
    [("--fibre", "Baumwolle"), ("--category", "6"), ("--machine",)],
)
def test_what_it_must_be(shop: Path, options: tuple[str, ...]) -> None:
    everything = json.loads(run(shop, "find", "oy", "--json")[1])
    some = json.loads(run(shop, "find", "oy", "--json", *options)[1])
    assert some["yarns"]
    assert some != everything


def test_a_fibre_nobody_knows_is_refused(shop: Path) -> None:
    code, out, told = run(shop, "find", "--fibre", "unobtainium")
    assert (code, out) == (2, "")
    assert "is not a fibre" in told


def test_a_yarn_is_shown_by_its_barcode(shop: Path) -> None:
    code, out, _ = run(shop, "show", "02100101000003", "--json")
    yarn = json.loads(out)
    assert (code, yarn["sku"], yarn["fibres"]) == (
        0, "OY-0101", [{"fibre": "wool", "percent": "100"}],
    )  # fmt: skip
    assert {lot["lot"] for lot in yarn["lots"]} >= {"6760", "2576"}
    assert "put_up_printed: 50 g / 400 m" in run(shop, "show", "OY-0101")[1]


def test_no_such_yarn_is_one_clear_line(shop: Path) -> None:
    code, out, told = run(shop, "show", "nothing")
    assert (code, out) == (2, "")
    assert told.count("\n") == 1


def test_stock_is_received_sold_and_corrected(shop: Path) -> None:
    lot = ("OY-0101", "01")
    assert run(shop, "stock", "receive", *lot, "5", "--lot", "6760") == (
        0, "OY-0101 colour 01 lot 6760: 18 on hand\n", "",
    )  # fmt: skip
    code, out, _ = run(shop, "stock", "sell", *lot, "3", "--lot", "6760", "--json")
    assert (code, json.loads(out)["on_hand"]) == (0, 15)
    correct = ("stock", "correct", "--lot", "6760", "--note", "moths", "--", *lot, "-2")
    assert run(shop, *correct)[1] == "OY-0101 colour 01 lot 6760: 13 on hand\n"
    assert run(shop, "stock", "count", *lot, "4", "--lot", "6760")[1].endswith(": 4 on hand\n")


@pytest.mark.parametrize(
    ("arguments", "told"),
    [
        (("sell", "OY-0101", "01", "99", "--lot", "6760"), "more than the 13 that are free"),
        (("sell", "OY-0101", "01", "1", "--lot", "none"), "there is no"),
        (("correct", "OY-0101", "01", "1", "--lot", "6760"), "needs its reason"),
        (("receive", "OY-0101", "01", "0", "--lot", "6760"), "give 1 or more"),
        (("receive", "OY-0101", "77", "1"), "no yarn OY-0101 in colour 77"),
        (("count", "OY-0101", "01", "1", "--lot", "6760", "--branch", "moon"), "no branch"),
    ],
)
def test_what_cannot_be_changes_nothing(shop: Path, arguments: tuple[str, ...], told: str) -> None:
    before = run(shop, "show", "OY-0101", "--json")[1]
    code, out, lines = run(shop, "stock", *arguments)
    assert (code, out) == (2, "")
    assert told in lines
    assert run(shop, "show", "OY-0101", "--json")[1] == before
