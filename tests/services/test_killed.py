"""Killed at random moments of slips, holds and imports: what was told is kept, nothing is half.

A process that is killed is not a machine without power: what the disk does then, no test can say.
For that SQLite is asked to wait for the disk at every commit (synchronous = FULL), the only
setting that is shipped; SQLite's manual says what it promises.
"""

import os
import random
import signal
import subprocess
import sys
import time
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest
from sqlalchemy import Engine, func, select

from shopdesk.services.slips import slip
from shopdesk.shelf.stock import discrepancies
from shopdesk.shelf.writing import writing
from shopdesk.store.database import open_shelf, reading
from shopdesk.store.models import Contact, Hold, ImportRun
from shopdesk.upkeep.backup import unsound
from tests.exchange.import_files import exported
from tests.exchange.many_lots import put_many_colours, stock_file
from tests.factories import a_label, a_lot
from tests.services.shop_killed import KINDS as STEPS
from tests.services.shop_killed import kind_of
from tests.shelf.rows import put_yarn
from tests.test_architecture import ROOT

KILLS = {"sqlite": 60, "postgresql": 15}
SKEINS = 100_000
YARNS = 2
LONGEST_LIFE_SECONDS = 0.4
PATIENCE_SECONDS = 120


def put_on_shelf(engine: Engine) -> None:
    put_many_colours(engine, YARNS)
    lots = (
        a_lot(SKEINS, "M2231", "14", name="Moss"),
        a_lot(SKEINS, "M2240", "14", name="Moss"),
    )
    with writing(engine) as session:
        put_yarn(session, "T-1", lots=lots, label=a_label(grams=100, metres_per_100g=230))


@contextmanager
def counter(url: str, files: list[Path]) -> Iterator[subprocess.Popen[str]]:
    """Starts the program that forks a worker for each line it is sent."""
    process = subprocess.Popen(
        [sys.executable, "-m", "tests.services.shop_killed", url, *map(str, files)],
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
        text=True,
        cwd=ROOT,
    )
    try:
        assert process.stdout is not None
        assert process.stdout.readline() == "ready\n"
        yield process
    finally:
        process.kill()
        process.communicate(timeout=PATIENCE_SECONDS)


def kill_one(process: subprocess.Popen[str], first: int, after_seconds: float) -> int:
    """Lets a worker begin with a step, kills it, and returns the first step that was not told."""
    assert process.stdin is not None
    assert process.stdout is not None
    process.stdin.write(f"{first}\n")
    process.stdin.flush()
    word, number = process.stdout.readline().split()
    assert word == "worker"
    time.sleep(after_seconds)
    os.kill(int(number), signal.SIGKILL)
    told = first
    for line in process.stdout:
        if line == "gone\n":
            return told
        assert int(line) == told
        told += 1
    raise AssertionError("the program ended")


def require_whole(engine: Engine, told: int, states: list[list[str]]) -> None:
    """Fails if a step that was told is missing, was taken twice, or one is there by half."""
    with reading(engine) as session:
        done = {kind: sum(kind_of(step) == kind for step in range(told)) for kind in KINDS}
        maybe = kind_of(told)
        slips = session.scalar(select(func.count()).select_from(Contact)) or 0
        assert slips - done["slip"] in ((0, 1) if maybe == "slip" else (0,))
        assert all(slip(session, number) for number in range(1, slips + 1))
        assert slip(session, slips + 1) is None
        held = session.scalar(select(func.count()).select_from(Hold)) or 0
        assert held - 2 * done["hold"] in ((0, 2) if maybe == "hold" else (0,))
        runs = session.scalars(select(ImportRun.file_name).order_by(ImportRun.id)).all()
        assert len(runs) - done["import"] in ((0, 1) if maybe == "import" else (0,))
        assert list(discrepancies(session)) == []
    imported = states[int(runs[-1][0])] if runs else []
    assert [line for line in imported_lines(engine) if not line.endswith(",0")] == imported


KINDS = ("slip", "hold", "import")


def imported_lines(engine: Engine) -> list[str]:
    """Returns the lines of stock that come from the imports alone."""
    lines = exported(engine, "stock").splitlines()
    return sorted(line.removesuffix(",main") for line in lines if "SKU-" in line)


def expected_lines(path: Path) -> list[str]:
    lines = path.read_text().splitlines()[1:]
    return sorted(line for line in lines if not line.endswith(",0"))


@pytest.mark.slow
@pytest.mark.parametrize("batch", [1, 2])
def test_what_was_told_is_kept_and_nothing_is_half(
    shelf: Engine, shelf_url: str, tmp_path: Path, batch: int
) -> None:
    put_on_shelf(shelf)
    files = [stock_file(tmp_path / f"{n}.csv", YARNS, n + 1) for n in range(2)]
    states = [expected_lines(path) for path in files]
    chance, told, idle = random.Random(batch), len(STEPS), 0
    with counter(shelf_url, files) as process:
        for _ in range(KILLS[shelf.dialect.name]):
            before = told
            told = kill_one(process, told, chance.uniform(0, LONGEST_LIFE_SECONDS))
            idle += told == before
            require_whole(shelf, told, states)
    assert told > KILLS[shelf.dialect.name]
    assert idle < KILLS[shelf.dialect.name] // 2
    if shelf.dialect.name == "sqlite":
        assert shelf.url.database is not None
        assert unsound(Path(shelf.url.database)) is None
    again = open_shelf(shelf_url)
    require_whole(again, told, states)
    again.dispose()
