"""The backups beside a counter: one is made at once if due, and a failure is logged, not fatal."""

import json
import threading
from pathlib import Path

import pytest

from shopdesk.shop.location import DataLocation, find_place
from shopdesk.upkeep import backup as daily_module
from shopdesk.upkeep.backup import DailyBackups, backups, daily_backup
from shopdesk.upkeep.setup import set_up_shop

LOOKS = 4
PATIENCE_SECONDS = 120


@pytest.fixture
def place(tmp_path: Path) -> DataLocation:
    """An empty shop."""
    made = find_place(str(tmp_path / "shop"), {})
    set_up_shop(made, demo=False)[0].dispose()
    return made


def watched(place: DataLocation, monkeypatch: pytest.MonkeyPatch) -> list[dict[str, object]]:
    """Lets the backups look several times, and returns what the log tells of them."""
    looked = threading.Semaphore(0)

    def look(place: DataLocation, kept: int) -> Path | None:
        looked.release()
        return daily_backup(place, kept)

    monkeypatch.setattr(daily_module, "daily_backup", look)
    daily = DailyBackups(place, kept=2, every_seconds=0)
    daily.start()
    for _ in range(LOOKS):
        assert looked.acquire(timeout=PATIENCE_SECONDS)
    daily.end()
    assert not daily.is_alive()
    lines = (place.folder / "shopdesk.log").read_text().splitlines()
    return [json.loads(line) for line in lines]


def test_one_backup_is_made_however_often_it_looks(
    place: DataLocation, monkeypatch: pytest.MonkeyPatch
) -> None:
    (entry,) = watched(place, monkeypatch)
    (made,) = backups(place)
    assert (entry["event"], entry["file"]) == ("backup", made.name)


def test_a_failure_is_logged_and_the_counter_goes_on(
    place: DataLocation, monkeypatch: pytest.MonkeyPatch
) -> None:
    (place.folder / "backups").write_text("in the way")
    entries = watched(place, monkeypatch)
    assert len(entries) >= LOOKS
    assert {entry["event"] for entry in entries} == {"backup failed"}
