"""`shopdesk import` and `shopdesk export`: documented options, reports and exit codes."""

import json
import shutil
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from shopdesk.terminal.main import main
from tests.exchange.import_files import csv_file, workbook
from tests.terminal.running import shopdesk

HEADINGS = ("sku", "colour", "lot", "skeins")


@pytest.fixture
def shop(tmp_path: Path, demo_shelf_file: Path) -> Path:
    """The data folder of a shop with the demo catalog."""
    folder = tmp_path / "data"
    folder.mkdir()
    shutil.copy(demo_shelf_file, folder / "shopdesk.sqlite3")
    return folder


def run(shop: Path, *arguments: str | Path, given: bytes | None = None) -> Result:
    return CliRunner().invoke(main, ["--data", str(shop), *map(str, arguments)], input=given)


def stock_of(shop: Path, lot: str) -> str:
    lines = run(shop, "export", "stock").stdout.splitlines()
    return next(line for line in lines if line.split(",")[2:3] == [lot])


def test_look_apply_and_undo(shop: Path, tmp_path: Path) -> None:
    file = csv_file(tmp_path / "s.csv", [HEADINGS, ("OY-0101", "01", "6760", "2")])
    looked = run(shop, "import", file, "--kind", "stock")
    assert looked.exit_code == 0, looked.output
    assert "OY-0101 colour 01 lot 6760 in main; skeins: 13 -> 2" in looked.stdout
    assert stock_of(shop, "6760") == "OY-0101,01,6760,13,main"
    assert run(shop, "import", file, "--kind", "stock", "--apply").exit_code == 0
    assert stock_of(shop, "6760") == "OY-0101,01,6760,2,main"
    undone = run(shop, "import", "--undo", "--json")
    assert json.loads(undone.stdout) == {"undone": 1, "kind": "stock", "file": "s.csv"}
    assert stock_of(shop, "6760") == "OY-0101,01,6760,13,main"
    assert run(shop, "import", "--undo").exit_code == 1


def test_refused_lines_exit_1_and_change_nothing(shop: Path, tmp_path: Path) -> None:
    rows = [HEADINGS, ("OY-0101", "01", "6760", "2"), ("OY-0101", "01", "1", "two")]
    file = csv_file(tmp_path / "s.csv", rows)
    arguments = ("import", file, "--kind", "stock", "--json")
    for more in ([], ["--apply"]):
        result = run(shop, *arguments, *more)
        assert result.exit_code == 1
        (refusal,) = json.loads(result.stdout)["refusals"]
        assert (refusal["line"], refusal["column"], refusal["value"]) == (3, "skeins", "two")
    assert stock_of(shop, "6760") == "OY-0101,01,6760,13,main"
    assert run(shop, *arguments, "--apply", "--without-refused").exit_code == 0
    assert stock_of(shop, "6760") == "OY-0101,01,6760,2,main"


@pytest.mark.parametrize(
    ("arguments", "told"),
    [
        (["nowhere.csv", "--kind", "stock"], "nowhere.csv cannot be read"),
        ([".", "--kind", "stock"], ". is a folder"),
        ([], "give FILE and --kind"),
        (["FILE"], "give FILE and --kind"),
        (["FILE", "--kind", "stock", "--map", "sku"], "write HEADING=FIELD"),
        (["FILE", "--kind", "stock", "--map", "sku=moon"], "'moon' is not a field"),
        (["FILE", "--kind", "colours"], "no column holds colour"),
    ],
)
def test_bad_input_exits_2(shop: Path, tmp_path: Path, arguments: list[str], told: str) -> None:
    file = csv_file(tmp_path / "s.csv", [("sku", "skeins"), ("OY-0101", "2")])
    result = run(shop, "import", *(str(file) if a == "FILE" else a for a in arguments))
    assert result.exit_code == 2
    assert told in result.stderr


def test_own_headings_are_mapped_and_remembered(shop: Path, tmp_path: Path) -> None:
    rows = [("Nr", "colour", "lot", "Da", "colour name"), ("OY-0101", "01", "6760", "2", "x")]
    file = csv_file(tmp_path / "s.csv", rows)
    mapped = ("--map", "Nr=sku", "--map", "Da=skeins", "--map", "colour name=")
    assert run(shop, "import", file, "--kind", "stock", *mapped, "--apply").exit_code == 0
    assert "1 unchanged" in run(shop, "import", file, "--kind", "stock").stdout


def test_deliveries_for_a_branch_from_standard_input(shop: Path) -> None:
    given = b"sku;colour;lot;qty\nOY-0101;01;6760;3\n"
    options = ("--kind", "deliveries", "--delivery", "D-5", "--branch")
    done = run(shop, "import", "-", *options, "main", "--apply", given=given)
    assert done.exit_code == 0, done.output
    assert stock_of(shop, "6760") == "OY-0101,01,6760,16,main"
    refused = run(shop, "import", "-", *options, "moon", given=given)
    assert "there is no branch moon" in refused.stdout


def test_a_workbook_from_standard_input(shop: Path) -> None:
    given = workbook([HEADINGS, ("OY-0101", "01", "6760", 2)])
    done = run(shop, "import", "-", "--kind", "stock", "--apply", given=given)
    assert done.exit_code == 0, done.output
    assert stock_of(shop, "6760") == "OY-0101,01,6760,2,main"


@pytest.mark.parametrize("kind", ["yarns", "colours", "stock"])
def test_an_exported_file_comes_back_unchanged(shop: Path, tmp_path: Path, kind: str) -> None:
    file = tmp_path / f"{kind}.csv"
    assert run(shop, "export", kind, "-o", file).exit_code == 0
    assert file.read_bytes().startswith(b"\xef\xbb\xbfsku,")
    assert run(shop, "export", kind).stdout_bytes == file.read_bytes()[3:]
    report = run(shop, "import", file, "--kind", kind, "--json")
    assert (report.exit_code, json.loads(report.stdout)["changes"]) == (0, [])


def test_an_export_that_cannot_be_written_exits_2(shop: Path, tmp_path: Path) -> None:
    assert run(shop, "export", "yarns", "--output", tmp_path).exit_code == 2


def test_the_program_itself_imports(shop: Path, tmp_path: Path) -> None:
    file = csv_file(tmp_path / "s.csv", [HEADINGS, ("OY-0101", "01", "6760", "2")])
    done = shopdesk("--data", shop, "import", file, "--kind", "stock")
    assert done.returncode == 0
    assert b"0 new, 1 changed, 0 unchanged, 0 refused" in done.stdout
    assert done.stderr == b""
