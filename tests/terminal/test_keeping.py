"""`shopdesk backup`, `restore`, `doctor` and `passphrase` as verbs."""

import io
import sqlite3
from contextlib import closing
from pathlib import Path

import pytest
from click.testing import CliRunner

from shopdesk.shop.location import find_place, prepare
from shopdesk.shop.passphrase import kept_passphrase
from shopdesk.store.database import open_shelf
from shopdesk.store.upgrading import upgrade
from shopdesk.terminal.main import main

TYPED = "purl ladder otter eleven"


@pytest.fixture
def shop(tmp_path: Path) -> Path:
    """The folder of an empty shop."""
    place = find_place(str(tmp_path / "kept"), {})
    prepare(place)
    engine = open_shelf(place.url)
    upgrade(engine)
    engine.dispose()
    return place.folder


def run(shop: Path, *arguments: str | Path) -> tuple[int, str, str]:
    result = CliRunner().invoke(main, ["--data", str(shop), *map(str, arguments)])
    return result.exit_code, result.stdout, result.stderr


def test_a_backup_prints_where_it_is_and_restores(shop: Path, tmp_path: Path) -> None:
    target = tmp_path / "copy.sqlite3"
    assert run(shop, "backup", "-o", target) == (0, f"{target}\n", "")
    with closing(sqlite3.connect(shop / "shopdesk.sqlite3")) as opened, opened:
        opened.execute("INSERT INTO setting (name, value) VALUES ('later', '1')")
    code, out, told = run(shop, "restore", target)
    assert (code, told) == (0, "")
    assert "The former database is kept as" in out
    with closing(sqlite3.connect(shop / "shopdesk.sqlite3")) as opened:
        assert opened.execute("SELECT count(*) FROM setting WHERE name = 'later'").fetchone() == (
            0,
        )


@pytest.mark.parametrize(
    ("arguments", "told"),
    [
        (["restore", "nowhere.sqlite3"], "nowhere.sqlite3 is not a file"),
        (["backup", "-o", "nowhere/copy.sqlite3"], "No such file or directory"),
    ],
)
def test_what_cannot_be_is_one_clear_line(shop: Path, arguments: list[str], told: str) -> None:
    code, out, lines = run(shop, *arguments)
    assert (code, out) == (1, "")
    assert told in lines
    assert lines.count("\n") == 1


def test_the_doctor_ends_with_1_until_all_is_well(shop: Path) -> None:
    code, out, told = run(shop, "doctor")
    assert code == 1
    assert "LOOK  last backup:" in out
    assert told == "shopdesk: 1 of these needs attention\n"
    run(shop, "backup")
    code, out, told = run(shop, "doctor")
    assert (code, told) == (0, "")
    assert "LOOK" not in out


def test_the_verb_sets_and_removes_the_passphrase(tmp_path: Path) -> None:
    place = find_place(str(tmp_path / "shop"), {})
    done = CliRunner().invoke(main, ["passphrase"], input=f"{TYPED}\n")
    assert done.exit_code == 0
    assert TYPED not in done.output
    kept = kept_passphrase(place)
    assert kept is not None
    assert kept.fits(TYPED)
    assert CliRunner().invoke(main, ["passphrase", "--remove"]).exit_code == 0
    assert kept_passphrase(place) is None


@pytest.mark.parametrize("given", [b"", b"short\n", b"\xff\xfe\n", b"aaaaaaaaaaaaaaaa\n"])
def test_a_weak_passphrase_changes_nothing(given: bytes, tmp_path: Path) -> None:
    done = CliRunner().invoke(main, ["passphrase"], input=io.BytesIO(given))
    assert done.exit_code == 2
    assert done.stderr.startswith("shopdesk: ")
    assert kept_passphrase(find_place(str(tmp_path / "shop"), {})) is None
