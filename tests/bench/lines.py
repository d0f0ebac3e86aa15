"""One line of the table: what was measured, its floor in the same run, and their ratio."""

import os
import platform
import sqlite3
import sys
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date

HEADINGS = ("row", "what", "measured", "floor", "ratio", "goal")


@dataclass(frozen=True, slots=True)
class Line:
    """A measurement and its floor, both in words, with the ratio that the goal is about."""

    row: str
    what: str
    measured: str
    floor: str
    ratio: float
    goal: str = ""


def in_time(row: str, what: str, seconds: float, floor: tuple[str, float], goal: str = "") -> Line:
    """Returns the line of a time in seconds against its floor's, named and in seconds."""
    name, least = floor
    return Line(row, what, shown(seconds), f"{name}: {shown(least)}", seconds / least, goal)


def shown(seconds: float) -> str:
    """Returns a time as people read it, with three figures."""
    return f"{seconds:.3g} s" if seconds >= 1 else f"{seconds * 1000:.3g} ms"


def markdown(lines: Iterable[Line]) -> str:
    """Returns the lines as a Markdown table."""
    rows = [
        (one.row, one.what, one.measured, one.floor, f"{one.ratio:.2f}", one.goal) for one in lines
    ]
    ruled = [HEADINGS, ("---",) * len(HEADINGS), *rows]
    return "\n".join(f"| {' | '.join(row)} |" for row in ruled)


def machine() -> str:
    """Returns in words when and on what it was measured."""
    python = ".".join(map(str, sys.version_info[:3]))
    busy = f"load {os.getloadavg()[0]:.1f} at the start"
    return (
        f"Measured on {date.today().isoformat()}, {os.cpu_count()} cores ({platform.machine()}, "
        f"{busy}), Python {python}, SQLite {sqlite3.sqlite_version}."
    )
