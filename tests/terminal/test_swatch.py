"""`shopdesk swatch`: what is printed, what is kept, and what is refused."""

import json
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner, Result

from shopdesk.terminal.main import main
from tests.services.slips_at_counter import stock_shelf
from tests.services.test_swatches import a_slip
from tests.terminal.shops import shop_with


@pytest.fixture
def shop(tmp_path: Path, empty_shelf_file: Path) -> Path:
    """The data folder of a shop with slip 1: 22 x 30, size M of 40 in."""
    return shop_with(tmp_path / "here", empty_shelf_file, stock_shelf, a_slip)


def run(shop: Path, *words: str, given: str = "") -> Result:
    return CliRunner().invoke(main, ["--data", str(shop), "swatch", *words], input=given)


def said(shop: Path, *words: str, given: str = "") -> Any:
    done = run(shop, *words, "--json", given=given)
    assert done.exit_code == 0, done.stderr
    return json.loads(done.stdout)


def test_22_wanted_and_20_got_turns_40_into_44_inches(shop: Path) -> None:
    # Worked textbook example.
    words = ("1", "--stitches", "20", "--rows", "27", "--tool", "6", "--tool-system", "US")
    found = said(shop, *words, "--washed", "--dry-run")
    assert found["measure"]["finished_cm"] == pytest.approx(44 * 2.54)
    assert found["other_size"]["values"]["size"] == "S"
    assert found["measured"]["tool_mm"] == 4.0
    assert (found["swatch"], found["slip"], found["sku"]) == (None, 1, "T-1")


def test_lines_say_the_same_in_the_language_asked_for(shop: Path) -> None:
    done = run(shop, "1", "--stitches", "5,5", "--over", "1 in", "--language", "de")
    assert done.exit_code == 0, done.stderr
    assert done.stdout.startswith("swatch 1, kept")
    assert "Ist die Maschenprobe gewaschen?" in done.stdout
    assert "The yarn's own gauge:" in done.stdout


def test_a_swatch_is_kept_unless_it_is_a_dry_run(shop: Path) -> None:
    before = said(shop, "1", "--stitches", "22", "--dry-run")["own_gauge"]
    assert said(shop, "1", "--stitches", "22", "--rows", "30")["swatch"] == 1
    after = said(shop, "1", "--stitches", "22", "--dry-run")["own_gauge"]
    assert after["before"] != before["before"]


def test_a_knitters_name_is_typed_and_never_printed(shop: Path) -> None:
    done = run(shop, "1", "--stitches", "22", "--knitter", "--json", given="Ada Lambswell\n")
    assert done.exit_code == 0
    assert "Lambswell" not in done.stdout


def test_a_weighed_swatch_of_the_shops_own_without_a_slip(shop: Path) -> None:
    words = ("--yarn", "T-1", "--stitches", "22", "--from-shop", "--staff", "AB")
    found = said(shop, *words, "--width", "15 cm", "--height", "6 in", "--mass", "6 g")
    # 6 g on 15 cm x 15.24 cm by arithmetic.
    assert found["weighed"]["grams_per_m2"]["value"] == pytest.approx(6 / (0.15 * 0.1524))
    assert found["gauge"][0]["code"] == "swatch.for_the_yarn"


@pytest.mark.parametrize(
    ("words", "told"),
    [
        (("--stitches", "22"), "give the number of its SLIP, or --yarn"),
        (("1", "--yarn", "T-1", "--stitches", "22"), "give the number of its SLIP, or --yarn"),
        (("9", "--stitches", "22"), "there is no slip 9"),
        (("--yarn", "T-9", "--stitches", "22"), "there is no yarn 'T-9'"),
        (("1", "--stitches", "many"), "--stitches: 'many' is not a number"),
        (("1", "--stitches", "22", "--rows", "30", "--rows-over", "x"), "--rows-over: 'x'"),
        (("1", "--stitches", "22", "--mass", "6 g"), "--width: the swatch was weighed"),
        (("1", "--stitches", "22", "--pattern", "knots"), "--pattern: this is not in the list"),
    ],
)
def test_what_cannot_be_is_one_line_and_exit_code_2(
    shop: Path, words: tuple[str, ...], told: str
) -> None:
    done = run(shop, *words)
    assert done.exit_code == 2
    assert told in done.stderr
    assert done.stdout == ""
