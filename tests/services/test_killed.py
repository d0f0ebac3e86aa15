"""Killed at random moments of slips, holds and imports: what was told is kept, nothing is half.

The moments are counted, not timed. One half of the workers dies at its moment, so that it is
known whether the step was kept; the other half is killed from outside while it goes on, so that
some end within a statement or a commit.

A process that is killed is not a machine without power: what the disk does then, no test can say.
For that SQLite is asked to wait for the disk at every commit (synchronous = FULL), the only
setting that is shipped; SQLite's manual says what it promises.
"""

import json
import os
import random
import signal
import subprocess
import sys
from collections import Counter
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from dataclasses import replace
from pathlib import Path

import pytest
from sqlalchemy import Engine, func, select, text

from shopdesk.services.slips import slip
from shopdesk.shelf.stock import discrepancies
from shopdesk.shelf.writing import writing
from shopdesk.store.database import open_shelf, reading
from shopdesk.store.models import Contact, Hold, ImportRun
from shopdesk.upkeep.backup import unsound
from tests.exchange.import_files import exported
from tests.exchange.many_lots import put_many_colours, stock_file
from tests.factories import a_label, a_lot
from tests.machine import times
from tests.moments import Way
from tests.services.shop_killed import STEPS_BEFORE, Ending, kind_of
from tests.shelf.rows import put_yarn
from tests.test_architecture import ROOT

KINDS = ("slip", "hold", "import")
KILLS = {"sqlite": 60, "postgresql": 15}
SKEINS = 100_000
YARNS = 2
PATIENCE_SECONDS = 120
NAME = "shopdesk that is killed"


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
        env=os.environ | {"PGAPPNAME": NAME},
    )
    try:
        yield process
    finally:
        process.kill()
        process.communicate(timeout=PATIENCE_SECONDS)


def endings(moments: Mapping[str, int], kills: int, chance: random.Random) -> Iterator[Ending]:
    """Yields how each worker ends, for each kind of step in turn in the same ways.

    It dies before the commit, is killed anywhere, dies after the commit, is killed amid it.
    """
    for number in range(kills):
        kind, turn = KINDS[number % len(KINDS)], number // len(KINDS) % 4
        after = moments[kind]
        moment = (chance.randrange(1, after), chance.randrange(after), after, after - 1)[turn]
        yield Ending(0, kind, max(1, moment), Way.SOON if turn % 2 else Way.HERE)


def kill_one(process: subprocess.Popen[str], ending: Ending) -> int:
    """Lets a worker begin with a step, sees it killed, returns the first step that was not told."""
    assert process.stdin is not None
    assert process.stdout is not None
    process.stdin.write(ending.line())
    process.stdin.flush()
    word, number = process.stdout.readline().split()
    assert word == "worker"
    told, ended = ending.first, False
    for line in process.stdout:
        if line == "gone\n":
            assert ended, "the worker fell over by itself"
            return told
        if line == f"{ending.way}\n":
            ended = True
            if ending.way is Way.SOON:
                os.kill(int(number), signal.SIGKILL)
            continue
        assert int(line) == told
        told += 1
    raise AssertionError("the program ended")


def wait_for_the_server(engine: Engine) -> None:
    """Returns when no work of a killed worker goes on; SQLite's work ends with its process."""
    if engine.dialect.name != "postgresql":
        return
    working = text(
        "SELECT count(*) FROM pg_stat_activity"
        " WHERE datname = current_database() AND application_name = :name"
    )
    while True:
        with engine.connect() as connection:
            if connection.scalar(working, {"name": NAME}) == 0:
                return


def require_whole(engine: Engine, told: int, states: list[list[str]]) -> bool:
    """Fails if a step that was told is missing, was taken twice, or one is there by half.

    Returns whether the step that was not told is kept.
    """
    wanted = Counter(kind_of(step) for step in range(told))
    with reading(engine) as session:
        slips = session.scalar(select(func.count()).select_from(Contact)) or 0
        assert all(slip(session, number) for number in range(1, slips + 1))
        assert slip(session, slips + 1) is None
        held = session.scalar(select(func.count()).select_from(Hold)) or 0
        runs = session.scalars(select(ImportRun.file_name).order_by(ImportRun.id)).all()
        assert list(discrepancies(session)) == []
    assert held % 2 == 0
    more = Counter(slip=slips, hold=held // 2)
    more["import"] = len(runs)
    more.subtract(wanted)
    kept = more[kind_of(told)] == 1
    assert {kind: found for kind, found in more.items() if found} == (
        {kind_of(told): 1} if kept else {}
    )
    imported = states[int(runs[-1][0])] if runs else []
    assert [line for line in imported_lines(engine) if not line.endswith(",0")] == imported
    return kept


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
    kills, told, ends = KILLS[shelf.dialect.name] * times(), STEPS_BEFORE, Counter[str]()
    with counter(shelf_url, files) as process:
        assert process.stdout is not None
        moments = json.loads(process.stdout.readline())
        for ending in endings(moments, kills, random.Random(batch)):
            before, told = told, kill_one(process, replace(ending, first=told))
            wait_for_the_server(shelf)
            kept = require_whole(shelf, told, states)
            assert told > before
            if ending.way is Way.HERE:
                assert kind_of(told) == ending.kind
                assert kept == (ending.moment == moments[ending.kind])
                ends[f"{ending.kind} {'kept' if kept else 'lost'}"] += 1
    print(f"{kills} kills, {told} steps told; where the worker died by itself: {dict(ends)}")
    assert set(ends) == {f"{kind} {end}" for kind in KINDS for end in ("kept", "lost")}
    if shelf.dialect.name == "sqlite":
        assert shelf.url.database is not None
        assert unsound(Path(shelf.url.database)) is None
    again = open_shelf(shelf_url)
    require_whole(again, told, states)
    again.dispose()
