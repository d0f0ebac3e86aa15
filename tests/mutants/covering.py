"""Which tests a mutant is shown to, nearest first, from traces of every test file."""

import ast
import json
from collections import defaultdict
from collections.abc import Collection, Iterator
from functools import cached_property
from pathlib import Path
from typing import NamedTuple

from tests.mutants.mutants import Mutant, functions_of
from tests.mutants.sampling import NOT_COUNTED, TABLES, room_of
from tests.mutants.testing import fingerprint

UNTRACED = {"bench", "browser", "mutants"}
LONGEST_TEST_SECONDS = 20
WORTH_A_START_SECONDS = 3
"""Nearer tests that take less than this together are run with the next ones."""


class Group(NamedTuple):
    """Tests to run in one go, in this order, and what they took when they were traced."""

    tests: list[str]
    seconds: float


class Plan(NamedTuple):
    """The tests for one mutant, the nearest first, and how many more there was no time for."""

    groups: list[Group]
    left: int


def test_files(root: Path) -> list[Path]:
    """Returns the test files that mirror a room; those at the top are of the project itself."""
    found = sorted((root / "tests").glob("*/**/test_*.py"))
    short = [path.relative_to(root) for path in found]
    return [path for path in short if path.parts[1] not in UNTRACED]


class Traces:
    """The traces of all test files, kept in a folder, one for each text of a test file.

    A trace knows a function by its text, so that it outlives moves; of a function that was
    changed since, it tells who ran it at all. Which tests run what may shift without any change
    of theirs: an emptied folder makes all traces anew.
    """

    def __init__(self, root: Path, folder: Path) -> None:
        self.root, self.folder = root, folder
        self.lines: dict[str, dict[str, dict[int, set[str]]]] = {}
        """By 'module:function' and the function's text: the tests of each of its lines."""
        self.seconds: dict[str, float] = {}
        self.failed: list[str] = []
        """The tests that fail without any fault and can tell nothing."""

    def kept_at(self, file: Path) -> Path:
        """Returns where the trace of a test file is, or is to be."""
        text = (self.root / file).read_text(encoding="utf-8")
        return self.folder / f"{file.stem}-{fingerprint(f'{file} {text}')}.json"

    def missing(self) -> list[Path]:
        """Returns the test files that are not traced as they are now."""
        return [file for file in test_files(self.root) if not self.kept_at(file).exists()]

    def read(self) -> None:
        """Reads the traces of all test files."""
        for file in test_files(self.root):
            kept = json.loads(self.kept_at(file).read_text(encoding="utf-8"))
            self.seconds |= zip(kept["tests"], kept["seconds"], strict=True)
            self.failed += kept["failed"]
            for key, lines in kept["functions"].items():
                name, _, text = key.rpartition(":")
                of_text = self.lines.setdefault(name, {}).setdefault(text, defaultdict(set))
                for line, bits in lines.items():
                    some = (test for at, test in enumerate(kept["tests"]) if bits >> at & 1)
                    of_text[int(line)].update(some)

    def planned(self, mutant: Mutant, budget_seconds: float) -> Plan:
        """Returns the tests to run: the mirror's, the room's, the rest, in the time there is."""
        readers = self._readers(mutant) if mutant.path.suffix == ".csv" else []
        homes = {mutant.path, *(path for path, _ in readers)}
        tests = {test for path, name in readers for test in self._of_function(path, name)}
        if readers:
            tests |= {test for test in self.seconds if test.startswith(f"tests/{TABLES}/")}
        else:
            tests = self._of_lines(mutant)
        groups, spent, left, last = list[Group](), 0.0, 0, -1
        for away, test in self._ordered(tests, homes):
            took = self.seconds[test]
            if spent + took > budget_seconds:
                left += 1
                continue
            if not groups or (away != last and groups[-1].seconds >= WORTH_A_START_SECONDS):
                groups.append(Group([], 0.0))
            groups[-1].tests.append(test)
            groups[-1] = groups[-1]._replace(seconds=groups[-1].seconds + took)
            spent, last = spent + took, away
        return Plan(groups, left)

    def _ordered(self, tests: set[str], homes: Collection[Path]) -> list[tuple[int, str]]:
        """Returns distance and test, file by file, quick files and tests first."""
        quick = [test for test in tests if self.seconds[test] <= LONGEST_TEST_SECONDS]
        whole = defaultdict[str, float](float)
        for test in quick:
            whole[test.partition("::")[0]] += self.seconds[test]
        places = []
        for test in quick:
            file = test.partition("::")[0]
            places.append((distance(file, homes), whole[file], file, self.seconds[test], test))
        return [(place[0], place[-1]) for place in sorted(places)]

    def _of_lines(self, mutant: Mutant) -> set[str]:
        """Returns the tests that can notice a mutant because they run its statement."""
        functions = functions_of(self.root / mutant.path)
        if mutant.function not in functions:
            return self._of_function(mutant.path, "")
        node, text = functions[mutant.function]
        texts = dict(self.lines.get(f"{mutant.path.stem}:{mutant.function}", {}))
        lines = texts.pop(fingerprint(text), {})
        first, last = (line - node.lineno for line in mutant.statement)
        if first <= 0:
            return self._of_function(mutant.path, mutant.function)
        now = {test for line in range(first, last + 1) for test in lines.get(line, ())}
        before = (tests for of_text in texts.values() for at, tests in of_text.items() if at)
        return now.union(*before)

    def _of_function(self, path: Path, function: str) -> set[str]:
        """Returns the tests of a function, or of the whole module and its importers for ''."""
        keys = [f"{path.stem}:{function}"]
        if not function:
            name = ".".join(path.with_suffix("").parts)
            stems = {path.stem} | {one.stem for one, text in self._modules if name in text}
            keys = [key for key in self.lines if key.partition(":")[0] in stems]
        texts = [lines for key in keys for lines in self.lines.get(key, {}).values()]
        return {test for lines in texts for tests in lines.values() for test in tests}

    @cached_property
    def _modules(self) -> list[tuple[Path, str]]:
        found = sorted((self.root / "shopdesk").rglob("*.py"))
        return [(path.relative_to(self.root), path.read_text(encoding="utf-8")) for path in found]

    def _readers(self, mutant: Mutant) -> list[tuple[Path, str]]:
        """Returns module and function, '' at module level, of who reads the row of a figure.

        A table of named values is read by the row's name, any other by its own.
        """
        header = (self.root / mutant.path).read_text(encoding="utf-8").partition("\n")[0]
        by_row = self._naming(mutant.function) if header.startswith("name,value,") else ()
        return list(by_row) or list(self._naming(mutant.path.stem)) or [(mutant.path, "")]

    def _naming(self, word: str) -> Iterator[tuple[Path, str]]:
        """Yields the functions in which a word stands as a text of its own."""
        for path, text in self._modules:
            if f'"{word}"' in text:
                functions = functions_of(self.root / path)
                inside = [name for name, (node, _) in functions.items() if _names(node, word)]
                yield from ((path, name) for name in inside)
                if not inside and _names(ast.parse(text), word):
                    yield path, ""


def distance(file: str, homes: Collection[Path]) -> int:
    """Returns 0 for the mirror of one of these modules, 1 in its room, 2 elsewhere, 3 far off."""
    room = Path(file).parts[1]
    same_room = [home for home in homes if room == room_of(home)]
    if same_room:
        return 0 if Path(file).stem in {f"test_{home.stem}" for home in same_room} else 1
    return 3 if room in NOT_COUNTED else 2


def _names(tree: ast.AST, word: str) -> bool:
    return any(isinstance(node, ast.Constant) and node.value == word for node in ast.walk(tree))
