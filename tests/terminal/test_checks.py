"""`shopdesk check`: labels and the trail of stock, with exit codes."""

import json
import shutil
from pathlib import Path

import pytest
from click.testing import CliRunner
from sqlalchemy import update

from shopdesk.shelf.writing import writing
from shopdesk.store.database import open_shelf
from shopdesk.store.models import Stock
from shopdesk.terminal.main import main


@pytest.fixture
def shop(tmp_path: Path, demo_shelf_file: Path) -> Path:
    """The folder of a shop with the demo catalog."""
    shutil.copy(demo_shelf_file, tmp_path / "shopdesk.sqlite3")
    return tmp_path


def run(shop: Path, *arguments: str) -> tuple[int, str, str]:
    result = CliRunner().invoke(main, ["--data", str(shop), "check", *arguments])
    return result.exit_code, result.stdout, result.stderr


def test_the_demo_shelf_has_a_label_to_question(shop: Path) -> None:
    code, out, told = run(shop)
    assert (code, told) == (1, "")
    assert "checked: " in out
    assert "  > " in out


def test_the_json_has_the_worst_first(shop: Path) -> None:
    code, out, _ = run(shop, "--json")
    yarns = json.loads(out)["yarns"]
    assert code == 1
    assert [yarn["contradicted"] for yarn in yarns] == sorted(
        (yarn["contradicted"] for yarn in yarns), reverse=True
    )
    assert all(finding["text"] for yarn in yarns for finding in yarn["findings"])


def test_one_yarn_in_another_language(shop: Path) -> None:
    sku = json.loads(run(shop, "--json")[1])["yarns"][0]["sku"]
    code, out, _ = run(shop, "--yarn", sku, "--language", "de")
    assert code == 1
    assert out.startswith(sku)
    assert "1 checked" in out


def test_an_unknown_yarn_is_one_clear_line(shop: Path) -> None:
    code, out, told = run(shop, "--yarn", "nothing")
    assert (code, out) == (2, "")
    assert "there is no yarn nothing" in told


def test_stock_that_adds_up_and_stock_that_does_not(shop: Path) -> None:
    assert run(shop, "--stock") == (0, "Every stock is the sum of its movements.\n", "")
    engine = open_shelf(f"sqlite:///{shop / 'shopdesk.sqlite3'}")
    with writing(engine) as session:
        first = session.query(Stock).first()
        assert first is not None
        session.execute(
            update(Stock)
            .where(Stock.lot_id == first.lot_id, Stock.branch_id == first.branch_id)
            .values(on_hand=first.on_hand + 3)
        )
    engine.dispose()
    code, out, _ = run(shop, "--stock", "--json")
    (found,) = json.loads(out)["discrepancies"]
    assert (code, found["on_hand"] - found["moved"]) == (1, 3)
