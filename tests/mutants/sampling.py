"""Which mutants are tried: the rooms that count, a sample by chance, the lines that changed."""

import hashlib
import re
import subprocess
import tomllib
from collections.abc import Iterable, Mapping, Sequence
from pathlib import Path

from tests.mutants.mutants import Mutant, mutants_of

# Every room of the package is in one of the two; a room's tables of columns and migrations are
# no arithmetic. Of the room of tables only the figures count.
COUNTED = {
    "answering",
    "craft",
    "exchange",
    "parsing",
    "patterns",
    "reference",
    "services",
    "shelf",
}
NOT_COUNTED = {"counter", "shop", "slips", "store", "terminal", "upkeep", "wording"}
NO_ARITHMETIC = {"migrations", "tables"}
TABLES = "reference"
EQUIVALENTS = Path(__file__).with_name("equivalents.toml")
Equivalents = Mapping[tuple[str, str, str], Sequence[str]]
"""Of function, before and after: the ends of the paths for which they are equivalent."""


def room_of(path: Path) -> str:
    """Returns the room of a file whose path starts at the project's root."""
    return path.parts[1]


def candidates(root: Path, only: Sequence[str] = (), since: str = "") -> list[Mutant]:
    """Returns all mutants, of these paths only, on lines changed since that commit only."""
    found = []
    for path in sorted((root / "shopdesk").rglob("*.*")):
        short = path.relative_to(root)
        if path.suffix == (".csv" if room_of(short) == TABLES else ".py") and _counts(short, only):
            found += mutants_of(short, path.read_text(encoding="utf-8"))
    if not since:
        return found
    changed = changed_lines(root, since)
    return [one for one in found if one.line in changed.get(one.path.as_posix(), ())]


def _counts(path: Path, only: Sequence[str]) -> bool:
    wanted = not only or any(path.as_posix().startswith(start.rstrip("/")) for start in only)
    return wanted and room_of(path) in COUNTED and NO_ARITHMETIC.isdisjoint(path.parts)


def changed_lines(root: Path, since: str) -> dict[str, set[int]]:
    """Returns by path the lines of today's files that a commit has not; moves are no changes."""
    command = ["git", "diff", "--unified=0", "--find-renames", "--no-color", since, "--"]
    told = subprocess.run(command, cwd=root, capture_output=True, text=True, check=True).stdout
    changed: dict[str, set[int]] = {}
    path = ""
    for line in told.splitlines():
        if line.startswith("+++ "):
            path = line.removeprefix("+++ ").removeprefix("b/")
        elif hunk := re.match(r"@@ \S+ \+(\d+)(?:,(\d+))? @@", line):
            first = int(hunk[1])
            changed.setdefault(path, set()).update(range(first, first + int(hunk[2] or 1)))
    return changed


def sampled(found: Iterable[Mutant], number: int, seed: int) -> list[Mutant]:
    """Returns so many of them by chance: the same ones for a seed, wherever lines have moved."""

    def chance(mutant: Mutant) -> str:
        return hashlib.sha256(repr((seed, mutant.key)).encode()).hexdigest()

    drawn = sorted(found, key=chance)[:number]
    return sorted(drawn, key=lambda one: (one.path, one.number))


def equivalents(file: Path = EQUIVALENTS) -> Equivalents:
    """Returns the faults that change nothing, as they are listed by hand with a reason."""
    listed: dict[tuple[str, str, str], list[str]] = {}
    for one in tomllib.loads(file.read_text(encoding="utf-8")).get("equivalent", []):
        assert one["reason"].strip(), one
        key = (one["function"], one["before"], one["after"])
        listed.setdefault(key, []).append(one["module"])
    return listed


def is_equivalent(mutant: Mutant, listed: Equivalents) -> bool:
    """Returns whether a fault is listed as changing nothing."""
    ends = listed.get(mutant.key[1:], ())
    return any(f"/{mutant.path.as_posix()}".endswith(f"/{end}") for end in ends)
