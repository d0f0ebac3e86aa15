"""Runs what is measured: works in turn in this process, or Python in a fresh one."""

import os
import subprocess
import sys
import time
from collections.abc import Callable
from pathlib import Path
from statistics import median

from tests.bench.shelves import ROOT

NOT_PASSED_ON = ("SHOPDESK", "PYTHONDONTWRITEBYTECODE")
"""Programs run from kept bytecode, as installed ones do."""


def python(*arguments: str | Path) -> str:
    """Runs a fresh Python in the project's folder and returns what it prints."""
    done = subprocess.run(
        [sys.executable, *map(str, arguments)],
        cwd=ROOT,
        env={name: os.environ[name] for name in os.environ if not name.startswith(NOT_PASSED_ON)},
        capture_output=True,
        text=True,
        check=True,
    )
    return done.stdout


def alternating(rounds: int, *works: Callable[[], object]) -> list[float]:
    """Returns the median seconds of each work; all are done in turn, after once uncounted."""
    seconds: list[list[float]] = [[] for _ in works]
    for number in range(rounds + 1):
        for work, its in zip(works, seconds, strict=True):
            begun = time.perf_counter()
            work()
            if number:
                its.append(time.perf_counter() - begun)
    return [median(its) for its in seconds]
