"""The backups beside a counter: one is made at once if due, and a failure is logged, not fatal."""

import json
from pathlib import Path

import pytest

from shopdesk.shop.location import DataLocation, find_place
from shopdesk.upkeep.backup import DailyBackups, backups
from shopdesk.upkeep.setup import set_up_shop

OFTEN = 0.01


@pytest.fixture
def place(tmp_path: Path) -> DataLocation:
    """An empty shop."""
    made = find_place(str(tmp_path / "shop"), {})
    set_up_shop(made, demo=False)[0].dispose()
    return made


def watched(place: DataLocation) -> list[dict[str, object]]:
    """Lets the backups look, and returns what the log tells of them."""
    daily = DailyBackups(place, kept=2, every_seconds=OFTEN)
    daily.start()
    daily.join(5 * OFTEN)
    daily.end()
    assert not daily.is_alive()
    lines = (place.folder / "shopdesk.log").read_text().splitlines()
    return [json.loads(line) for line in lines]


def test_one_backup_is_made_however_often_it_looks(place: DataLocation) -> None:
    (entry,) = watched(place)
    (made,) = backups(place)
    assert (entry["event"], entry["file"]) == ("backup", made.name)


def test_a_failure_is_logged_and_the_counter_goes_on(place: DataLocation) -> None:
    (place.folder / "backups").write_text("in the way")
    entries = watched(place)
    assert {entry["event"] for entry in entries} == {"backup failed"}
