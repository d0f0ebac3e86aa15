"""What a forked child does with pytest: run chosen tests until one fails, or trace a file's."""

import functools
import hashlib
import os
import sys
import time
from collections.abc import Callable
from functools import lru_cache, reduce, wraps
from operator import or_
from pathlib import Path
from typing import Any

import pytest

from tests.mutants.mutants import functions_of

OPTIONS = (
    "--quiet", "--tb=no", "-p", "no:cacheprovider",
    "-m", "not browser and not slow", "--hypothesis-profile=ci",
    "-W", "ignore::pytest.PytestAssertRewriteWarning",
)  # fmt: skip
REMEMBERING = type(lru_cache(len))
ALWAYS = "*"
"""Stands for all tests of a file: what ran while a fixture was made for one of them."""
# They compare with a copy of the tables, which is renewed when a table changes.
AGAINST_A_COPY = {
    "test_values_without_publication_are_as_recorded",
    "test_swapping_any_two_values_makes_a_check_fail",
}


class _Chosen:
    """Runs only the tests that are wanted, in that order, and remembers the first that fails."""

    def __init__(self, wanted: list[str]) -> None:
        self.wanted, self.failed, self.ran = wanted, "", 0

    def pytest_collection_modifyitems(self, items: list[pytest.Item]) -> None:
        places = {test: place for place, test in enumerate(self.wanted)}
        # A fault can rename a test whose parameters come from the code: take its like then.
        renamed = set(places) - {item.nodeid for item in items}
        for test in renamed:
            places.setdefault(test.partition("[")[0], places[test])
        chosen = {}
        for item in items:
            place = places.get(item.nodeid, places.get(item.nodeid.partition("[")[0]))
            if place is not None:
                chosen[item] = place
        items[:] = sorted(chosen, key=chosen.__getitem__)

    def pytest_runtest_logreport(self, report: pytest.TestReport) -> None:
        self.ran += report.when == "call"
        if report.failed:
            self.failed = self.failed or report.nodeid

    def pytest_collectreport(self, report: pytest.CollectReport) -> None:
        if report.failed:
            self.failed = self.failed or report.nodeid


def run(tests: list[str]) -> dict[str, Any]:
    """Runs these tests until one fails; 'passed' only if pytest says so."""
    chosen = _Chosen(tests)
    files = list(dict.fromkeys(test.partition("::")[0] for test in tests))
    code = pytest.main([*OPTIONS, "--exitfirst", *files], plugins=[chosen])
    outcome = "passed" if code == pytest.ExitCode.OK else "failed"
    return {"outcome": outcome, "by": chosen.failed, "ran": chosen.ran}


class _Tracer:
    """Notes for each test that passes its CPU seconds, and has its lines traced under its name.

    A remembered result hides who needs the lines that made it. What is made once, by `cache`, is
    therefore traced as of all tests of the file; what `lru_cache` remembers is forgotten.
    """

    def __init__(self, coverage: Any) -> None:
        self.coverage, self.context, self.begun = coverage, "", 0.0
        self.seconds = dict[str, float]()
        self.unfit, self.failed = set[str](), set[str]()

    def switch(self, context: str) -> str:
        """Traces from here on under this name, and returns the one before."""
        before, self.context = self.context, context
        self.coverage.switch_context(context)
        return before

    def cache(self, function: Callable[..., Any]) -> Callable[..., Any]:
        """Stands in for functools.cache while the package is imported."""

        @wraps(function)
        def traced(*given: Any, **named: Any) -> Any:
            before = self.switch(ALWAYS)
            try:
                return function(*given, **named)
            finally:
                self.switch(before)

        ours = function.__module__.startswith("shopdesk.")
        return lru_cache(maxsize=None)(traced if ours else function)

    @pytest.hookimpl(tryfirst=True)
    def pytest_runtest_setup(self) -> None:
        self.switch(ALWAYS)
        for name, module in list(sys.modules.items()):
            if name.startswith("shopdesk."):
                for one in vars(module).values():
                    if isinstance(one, REMEMBERING) and one.cache_parameters()["maxsize"]:
                        one.cache_clear()
        self.begun = _cpu_seconds()

    @pytest.hookimpl(tryfirst=True)
    def pytest_runtest_call(self, item: pytest.Item) -> None:
        self.switch(item.nodeid)

    @pytest.hookimpl(tryfirst=True)
    def pytest_runtest_teardown(self, item: pytest.Item) -> None:
        self.seconds[item.nodeid] = _cpu_seconds() - self.begun
        self.switch(ALWAYS)

    def pytest_runtest_logreport(self, report: pytest.TestReport) -> None:
        name = report.nodeid.partition("[")[0].rpartition("::")[2]
        if not report.passed or name in AGAINST_A_COPY:
            self.unfit.add(report.nodeid)
        if report.failed:
            self.failed.add(report.nodeid)


def trace(file: str) -> dict[str, Any]:
    """Runs a file's tests; returns their CPU seconds and, by function, who runs each line.

    The tests of a line are the bits of a number; lines count from the function's first.
    Tests that fail without any fault are left out and named. Raises RuntimeError if none ran.
    """
    import coverage

    package = Path("shopdesk").resolve()
    tracing = coverage.Coverage(data_file=None, config_file=False, source=[str(package)])
    tracer = _Tracer(tracing)
    functools.cache = tracer.cache
    tracing.start()
    code = pytest.main([*OPTIONS, file], plugins=[tracer])
    tracing.stop()
    if code in {pytest.ExitCode.INTERRUPTED, pytest.ExitCode.INTERNAL_ERROR}:
        raise RuntimeError(f"the tests of {file} cannot be collected: {code!r}")
    tests = [test for test in tracer.seconds if test not in tracer.unfit]
    bits = {test: 1 << number for number, test in enumerate(tests)}
    bits[ALWAYS] = (1 << len(tests)) - 1
    data, functions = tracing.get_data(), dict[str, Any]()
    for path in map(Path, data.measured_files()):
        lines = {
            line: reduce(or_, (bits.get(context, 0) for context in contexts))
            for line, contexts in data.contexts_by_lineno(str(path)).items()
        }
        for name, (node, text) in functions_of(path).items():
            ran = {at - node.lineno: lines[at] for at in _lines(node) if lines.get(at)}
            if ran:
                functions[f"{path.stem}:{name}:{fingerprint(text)}"] = ran
    seconds = [round(tracer.seconds[test], 6) for test in tests]
    failed = sorted(tracer.failed)
    return {"tests": tests, "seconds": seconds, "functions": functions, "failed": failed}


def _cpu_seconds() -> float:
    """Returns what this process and its ended children have used."""
    ended = os.times()
    return time.process_time() + ended.children_user + ended.children_system


def _lines(node: Any) -> range:
    return range(node.lineno, node.end_lineno + 1)


def fingerprint(text: str) -> str:
    """Returns what tells one text from another, short."""
    return hashlib.sha256(text.encode()).hexdigest()[:12]
