"""The measure itself: what it plants and draws, and that it tells a weak test from a good one."""

import ast
import shutil
import subprocess
from collections.abc import Callable
from pathlib import Path

import pytest

from tests.mutants import worker
from tests.mutants.__main__ import ROOT, Result, main
from tests.mutants.covering import Traces
from tests.mutants.mutants import Mutant, functions_of, mutants_of, mutated
from tests.mutants.sampling import (
    COUNTED,
    NOT_COUNTED,
    candidates,
    changed_lines,
    equivalents,
    is_equivalent,
    sampled,
)
from tests.mutants.testing import fingerprint

HERE = Path(__file__).parent
MODULE, TABLE = Path("shopdesk/craft/sums.py"), Path("shopdesk/reference/sizes.csv")


@pytest.mark.parametrize(
    ("line", "kind", "changed"),
    [
        ("a < b", "comparison", ["a <= b"]),
        ("a >= b", "comparison", ["a > b"]),
        ("a == b != c", "comparison", ["a != b != c", "a == b == c"]),
        ("a not in b", "comparison", ["a in b"]),
        ("a is not b", "comparison", ["a is b"]),
        ("a - (b - c)", "arithmetic", ["a + (b - c)", "a - (b + c)"]),
        (
            "a * b // c ** d",
            "arithmetic",
            ["a * b / c ** d", "a / b // c ** d", "a * b // (c * d)"],
        ),
        ("a += b", "arithmetic", ["a -= b"]),
        ("a and b and c or d", "and/or", ["(a and b and c) and d", "(a or b or c) or d"]),
        ("not (a or b)", "not", ["a or b"]),
        ("f(3, 1.5, -2)", "constant", ["f(4, 1.5, -2)", "f(3, 1.65, -2)", "f(3, 1.5, -3)"]),
        ("a = Decimal('0.20')", "constant", ["a = Decimal('0.220')"]),
        ("a: Literal[3] = f(0.0)", "constant", ["a: Literal[3] = f(0.1)"]),
        ("a = 'x' + b + f'{c}'", "arithmetic", []),
        ("a = True, 'word'", "constant", []),
    ],
)
def test_each_kind_of_fault(line: str, kind: str, changed: list[str]) -> None:
    text = f"def f():\n    '''Two.'''\n    {line}\n"
    found = [one for one in mutants_of(MODULE, text) if one.kind == kind]
    assert list(map(tree, [one.after for one in found])) == list(map(tree, changed))
    for one in found:
        assert (one.function, one.line, tree(one.before)) == ("f", 3, tree(line))
        assert tree(mutated(one, text)) == tree(text.replace(line, one.after))


def tree(text: str) -> str:
    """Returns what Python understands of a text, however it is written."""
    return ast.dump(ast.parse(text))


def test_only_the_head_of_a_long_statement_is_named() -> None:
    text = "@cache\ndef f(a=1):\n    if a:\n        return 0.5\n    elif a > 7:\n        pass\n"
    found = mutants_of(MODULE, text)
    assert [(one.line, one.before, one.after) for one in found] == [
        (2, "def f(a=1):", "def f(a=2):"),
        (4, "return 0.5", "return 0.55"),
        (5, "if a > 7:", "if a >= 7:"),
        (5, "if a > 7:", "if a > 8:"),
    ]
    assert [one.statement for one in found] == [(2, 2), (4, 4), (5, 5), (5, 5)]


@pytest.mark.parametrize(
    ("constant", "grown"),
    [("1", "2"), ("0", "1"), ("100_000", "110000"), ("0.0", "0.1"), ("2.5", "2.75"), ("95", "105")],
)
def test_constants_grow_by_a_tenth_too(constant: str, grown: str) -> None:
    assert [one.after for one in mutants_of(MODULE, f"a = {constant}\n")] == [f"a = {grown}"]


def test_figures_of_a_table_grow_by_a_tenth() -> None:
    text = 'name,mm,code,source,status\n"a, b",2.50,007,page 3,S\nc,3,x2,page 40,S\n'
    first, second = mutants_of(TABLE, text)
    assert (first.function, first.before, first.after) == ("a, b", "mm 2.50", "mm 2.75")
    assert mutated(first, text) == text.replace("2.50", "2.75")
    assert (second.line, second.before, second.after) == (3, "mm 3", "mm 4")
    assert mutated(second, text) == text.replace("c,3", "c,4")


def test_every_drawn_fault_is_python_that_differs() -> None:
    for one in sampled(candidates(ROOT, ["shopdesk/craft", "shopdesk/patterns"]), 40, seed=3):
        text = (ROOT / one.path).read_text(encoding="utf-8")
        assert tree(mutated(one, text)) != tree(text), one


def test_a_sample_is_the_same_for_a_seed_wherever_its_lines_are() -> None:
    text = "def f(a):\n" + "".join(f"    a = a + {n} < {n}\n" for n in range(40))
    found = mutants_of(MODULE, text)
    moved = mutants_of(Path("shopdesk/shop/sums.py"), f"import math\n\n\n{text}")
    keys = [one.key for one in sampled(found, 20, seed=1)]
    assert [one.key for one in sampled(reversed(found), 20, seed=1)] == keys
    assert [one.key for one in sampled(moved, 20, seed=1)] == keys
    assert [one.key for one in sampled(found, 20, seed=2)] != keys
    assert len(set(keys)) == 20


def test_only_changed_lines_count_and_a_move_changes_none(tmp_path: Path) -> None:
    def git(*words: str) -> None:
        own = ("-c", "user.name=x", "-c", "user.email=x@example.org", "-c", "core.hooksPath=none")
        subprocess.run(["git", *own, *words], cwd=tmp_path, check=True, capture_output=True)

    lines = [f"a = {n}\n" for n in range(20)]
    module = tmp_path / MODULE
    module.parent.mkdir(parents=True)
    module.write_text("".join(lines))
    for words in (["init"], ["add", "."], ["commit", "-m", "Begin"]):
        git(*words)
    moved = module.with_name("totals.py")
    git("mv", str(module), str(moved))
    assert candidates(tmp_path, since="HEAD") == []
    moved.write_text("".join([*lines[:5], "b = 1.0\n", *lines[5:9], "c = 2.0\n", *lines[10:]]))
    assert changed_lines(tmp_path, "HEAD") == {"shopdesk/craft/totals.py": {6, 11}}
    assert [one.after for one in candidates(tmp_path, since="HEAD")] == ["b = 1.1", "c = 2.2"]


def test_who_ran_a_function_by_its_former_text_is_shown_its_faults_too(tmp_path: Path) -> None:
    """Of its text as it is now the lines count; a module that is imported runs each first line."""
    module, tests = tmp_path / MODULE, "tests/craft/test_sums.py::test_"
    module.parent.mkdir(parents=True)
    module.write_text("def f(a):\n    b = a + 1\n    return b\n")
    text = functions_of(module)["f"][1]
    traces = Traces(tmp_path, tmp_path)
    traces.lines["sums:f"] = {
        fingerprint(text): {0: {f"{tests}imports"}, 1: {f"{tests}runs"}},
        "former": {0: {f"{tests}imports"}, 4: {f"{tests}ran"}},
    }
    traces.seconds = {f"{tests}{name}": 1.0 for name in ("imports", "runs", "ran")}
    shown = [
        {
            test.removeprefix(tests)
            for group in traces.planned(one, 60).groups
            for test in group.tests
        }
        for one in mutants_of(MODULE, module.read_text())
    ]
    assert shown == [{"runs", "ran"}] * 2


def test_every_room_counts_or_does_not() -> None:
    rooms = {path.parent.name for path in (ROOT / "shopdesk").glob("*/__init__.py")}
    assert rooms == COUNTED | NOT_COUNTED
    assert COUNTED.isdisjoint(NOT_COUNTED)


def test_a_listed_equivalent_is_known_by_its_words(tmp_path: Path) -> None:
    listed = tmp_path / "listed.toml"
    listed.write_text(
        '[[equivalent]]\nmodule = "craft/sums.py"\nfunction = "f"\nbefore = "a < b"\n'
        'after = "a <= b"\nreason = "a is never b"\n'
    )
    text = "def f(a, b):\n    a < b\n    a > b\n"
    first, second = mutants_of(MODULE, text)
    (elsewhere, _) = mutants_of(Path("shopdesk/aircraft/sums.py"), text)
    known = equivalents(listed)
    assert [is_equivalent(one, known) for one in (first, second, elsewhere)] == [True, False, False]


def test_every_listed_equivalent_is_still_in_the_code() -> None:
    listed = equivalents()
    ends = {end for several in listed.values() for end in several}
    found = [one for end in ends for path in ROOT.glob(f"shopdesk/**/{end}") for one in of(path)]
    assert {one.key[1:] for one in found if is_equivalent(one, listed)} == set(listed)


def of(path: Path) -> list[Mutant]:
    """Returns the mutants of one of our own files."""
    return mutants_of(path.relative_to(ROOT), path.read_text(encoding="utf-8"))


def test_a_child_that_waits_for_ever_is_told_from_one_that_ends(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    with subprocess.Popen(["sleep", "0.3"]) as ends:
        assert worker._ended(ends.pid) == 0
    monkeypatch.setattr(worker, "STILL_SECONDS", 0.5)
    with subprocess.Popen(["sleep", "600"]) as waits:
        assert worker._ended(waits.pid) is None
        waits.kill()


SUMS = """from functools import cache
import csv
from pathlib import Path
def good(a, b):
    return a - b
def weak(a, b):
    return a - b
def endless(n):
    while n > 0:
        n -= 1
    return n
def unused(a):
    return a + a
@cache
def sizes():
    text = (Path(__file__).parent.parent / "reference" / "sizes.csv").read_text()
    return [float(row["mm"]) for row in csv.DictReader(text.splitlines()) if "sizes"]
def largest():
    return max(sizes())
"""
TESTS = """import pytest
from shopdesk.craft.sums import endless, good, largest, sizes, weak
@pytest.fixture(scope="module")
def given():
    return weak(2, 1)
def test_weak():
    assert weak(3, 0) == 3
def test_nothing_of(given):
    assert given
def test_good():
    assert good(3, 1) == 2
def test_endless():
    assert endless(3) == 0
def test_largest():
    assert largest() == 3
def test_sizes_are_read_once():
    assert len(sizes()) == 2
def test_that_fails_anyway():
    assert good(3, 1) == 1
"""
COPY = """from shopdesk.craft.sums import sizes
def test_values_without_publication_are_as_recorded():
    assert sizes() == [2.0, 3.0]
"""
PROFILE = "from hypothesis import settings\nsettings.register_profile('ci', derandomize=True)\n"


@pytest.fixture(scope="module")
def tried(tmp_path_factory: pytest.TempPathFactory) -> Callable[..., dict[str, Result]]:
    """Tries all mutants of a made project, and gives the results by what stands there then."""
    root = tmp_path_factory.mktemp("made")
    for name, text in {
        "shopdesk/__init__.py": "",
        str(MODULE): SUMS,
        str(TABLE): "mm,source,status\n2.0,x,S\n3.0,x,S\n",
        "tests/craft/test_sums.py": TESTS,
        "tests/reference/test_tables.py": COPY,
        "tests/conftest.py": PROFILE,
        "pyproject.toml": "[tool.pytest.ini_options]\npythonpath = ['.']\n",
    }.items():
        (root / name).parent.mkdir(parents=True, exist_ok=True)
        (root / name).write_text(text)
    shutil.copytree(HERE, root / "tests" / "mutants")

    def run(*options: str) -> dict[str, Result]:
        with pytest.MonkeyPatch.context() as patched:
            patched.setattr("tests.mutants.__main__.SPARE_CPU_SECONDS", 8)
            results = main(["--root", str(root), "--processes", "1", *options])
        assert (root / MODULE).read_text() == SUMS
        return {f"{one.mutant.function}: {one.mutant.after}": one for one in results}

    return run


def test_a_good_test_kills_and_a_weak_one_does_not(
    tried: Callable[..., dict[str, Result]], capsys: pytest.CaptureFixture[str]
) -> None:
    results = tried()
    assert {name: one.outcome for name, one in results.items()} == {
        "good: return a + b": "killed",
        "weak: return a + b": "survived",
        "endless: while n >= 0:": "killed",
        "endless: while n > 1:": "killed",
        "endless: n += 1": "killed",
        "endless: n -= 2": "killed",
        "unused: return a - a": "survived",
        "2.0: mm 2.2": "survived",
        "3.0: mm 3.3": "killed",
    }
    assert results["good: return a + b"].by == "tests/craft/test_sums.py::test_good"
    assert results["3.0: mm 3.3"].by == "tests/craft/test_sums.py::test_largest"
    plans = {name: [group.tests for group in one.plan.groups] for name, one in results.items()}
    assert plans["good: return a + b"] == [["tests/craft/test_sums.py::test_good"]]
    # What a fixture of the file ran, or a function that remembers, is for all its tests.
    assert len(plans["weak: return a + b"][0]) == len(plans["2.0: mm 2.2"][0]) == 6
    told = capsys.readouterr().out
    assert "fail without a fault: tests/craft/test_sums.py::test_that_fails_anyway\n" in told
    assert "| craft | 7 | 5 | 2 | 0 | 0 |" in told
    assert "| all | 9 | 6 | 3 | 0 | 0 |" in told
    assert "sums.py:7 weak (arithmetic)\n    return a - b\n  → return a + b" in told
    assert "tests/craft/test_sums.py (6)" in told.partition("weak (arithmetic)")[2]
    assert "no test runs it" in told.partition("unused (arithmetic)")[2]


def test_without_time_for_the_tests_nothing_is_decided(
    tried: Callable[..., dict[str, Result]],
) -> None:
    results = tried("--budget", "0", "--only", str(MODULE))
    outcomes = {name.partition(":")[0]: one.outcome for name, one in results.items()}
    assert outcomes == {
        "good": "undecided", "weak": "undecided", "endless": "undecided", "unused": "survived"
    }  # fmt: skip


def test_a_list_tries_nothing(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["--list", "--sample", "3", "--only", "shopdesk/craft"]) == []
    told = capsys.readouterr().out
    assert told.startswith("3 of ")
    assert told.count("→") == 3
