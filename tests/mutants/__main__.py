"""Measures the tests: plants faults one by one and counts those that no test notices.

Faults are drawn by chance, always the same for a seed. Traces of the tests are kept in a folder
and made where they are missing, which takes long the first time: python -m tests.mutants
"""

import argparse
import json
import os
import shutil
import subprocess
import sys
from collections import Counter
from collections.abc import Callable, Iterable, Mapping, Sequence
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass
from pathlib import Path
from queue import SimpleQueue
from tempfile import TemporaryDirectory
from typing import Any

from tests.mutants.covering import Plan, Traces
from tests.mutants.mutants import Mutant, mutated
from tests.mutants.sampling import candidates, equivalents, is_equivalent, room_of, sampled

ROOT = Path(__file__).resolve().parents[2]
TRACE_CPU_SECONDS = 1800
SPARE_CPU_SECONDS, SLOWED_DOWN = 30, 5
"""A fault that makes tests use more CPU than this, and so many times theirs, is noticed too."""
NOT_PASSED_ON = ("SHOPDESK", "CI", "PYTHONPATH")
OUTCOMES = ("killed", "survived", "undecided", "equivalent")


@dataclass(frozen=True, slots=True)
class Result:
    """What came of one mutant; `by` is the test that noticed, or why nothing is known."""

    mutant: Mutant
    outcome: str
    plan: Plan
    by: str = ""


class Worker:
    """A process of its own on a copy of the project, to be used by one thread at a time."""

    def __init__(self, root: Path, copy: Path) -> None:
        copy.mkdir()
        for entry in root.iterdir():
            if entry.is_dir() and entry.name[0] != ".":
                shutil.copytree(entry, copy / entry.name)
            elif entry.is_file():
                shutil.copy2(entry, copy / entry.name)
        kept = {name: os.environ[name] for name in os.environ if not name.startswith(NOT_PASSED_ON)}
        self.process = subprocess.Popen(
            [sys.executable, "-m", "tests.mutants.worker"],
            cwd=copy,
            env=kept | {"PYTHONPATH": str(copy)},
            stdin=subprocess.PIPE,
            stdout=subprocess.PIPE,
            text=True,
        )

    def done(self, job: Mapping[str, Any]) -> dict[str, Any]:
        """Does a job and returns its result. Raises RuntimeError if the worker itself fails."""
        assert self.process.stdin is not None
        assert self.process.stdout is not None
        self.process.stdin.write(json.dumps(job) + "\n")
        self.process.stdin.flush()
        result = json.loads(self.process.stdout.readline())
        if result.get("outcome") == "broken":
            raise RuntimeError(result["told"])
        return result


def arguments_of(written: Sequence[str] | None) -> argparse.Namespace:
    """Returns what to try and how."""
    parser = argparse.ArgumentParser(prog="python -m tests.mutants", description=__doc__)
    parser.add_argument("--sample", type=int, default=200, help="how many mutants; 200")
    parser.add_argument("--seed", type=int, default=1, help="of the chance they are drawn by; 1")
    parser.add_argument("--since", default="", help="only lines changed since this commit")
    parser.add_argument("--only", nargs="+", default=[], help="only in paths that start so")
    parser.add_argument("--list", action="store_true", help="show the mutants, try none")
    parser.add_argument("--budget", type=float, default=60, help="seconds of tests for each; 60")
    parser.add_argument("--processes", type=int, default=os.cpu_count() or 1)
    parser.add_argument("--root", type=Path, default=ROOT, help="of the project; this one")
    parser.add_argument("--traces", type=Path, help="folder for the traces; .mutants in the root")
    return parser.parse_args(written)


def each_done(
    work: Callable[[Worker, Any], Any], things: Sequence[Any], root: Path, processes: int
) -> Iterable[Any]:
    """Does the work for each thing with some workers and yields the results in order."""
    free: SimpleQueue[Worker] = SimpleQueue()

    def one(thing: Any) -> Any:
        worker = free.get()
        try:
            return work(worker, thing)
        finally:
            free.put(worker)

    with TemporaryDirectory() as folder, ThreadPoolExecutor(processes) as threads:
        workers = [Worker(root, Path(folder, str(number))) for number in range(processes)]
        for worker in workers:
            free.put(worker)
        try:
            yield from threads.map(one, things)
        finally:
            for worker in workers:
                worker.process.kill()
                worker.process.communicate()


def make_traces(traces: Traces, processes: int) -> None:
    """Traces the test files that are not traced as they are now."""
    missing = traces.missing()
    traces.folder.mkdir(parents=True, exist_ok=True)

    def trace(worker: Worker, file: Path) -> None:
        told = worker.done({"file": str(file), "cpu_seconds": TRACE_CPU_SECONDS})
        if "tests" not in told:
            raise RuntimeError(f"{file} cannot be traced: {told}")
        kept = traces.kept_at(file)
        kept.with_suffix(".new").write_text(json.dumps(told), encoding="utf-8")
        kept.with_suffix(".new").replace(kept)
        print(f"traced {file}: {len(told['tests'])} tests", file=sys.stderr)

    if missing:
        list(each_done(trace, missing, traces.root, processes))


def tried(worker: Worker, job: tuple[int, Mutant, Plan, str]) -> Result:
    """Returns what the tests say of one mutant: the nearest are run first."""
    number, mutant, plan, text = job
    fault = {"path": str(mutant.path), "text": text, "number": number}
    for tests, seconds in plan.groups:
        limit = SPARE_CPU_SECONDS + SLOWED_DOWN * seconds
        told = worker.done(fault | {"tests": tests, "cpu_seconds": limit})
        if told["outcome"] == "waited":
            return Result(mutant, "undecided", plan, "it waits for something")
        if told["outcome"] != "passed":
            return Result(mutant, "killed", plan, told.get("by") or told["outcome"])
    if plan.left:
        return Result(mutant, "undecided", plan, f"no time for {plan.left} more tests")
    return Result(mutant, "survived", plan)


def job_of(number: int, mutant: Mutant, traces: Traces, budget: float) -> Any:
    """Returns what a worker needs to try a mutant."""
    text = mutated(mutant, (traces.root / mutant.path).read_text(encoding="utf-8"))
    return number, mutant, traces.planned(mutant, budget), text


def table_of(results: Sequence[Result]) -> str:
    """Returns the counts by room as a Markdown table with their sum."""
    counts: dict[str, Counter[str]] = {}
    for one in results:
        for room in (room_of(one.mutant.path), "all"):
            counts.setdefault(room, Counter())[one.outcome] += 1
    rows = [["room", "mutants", *OUTCOMES], ["---"] * (2 + len(OUTCOMES))]
    for room in sorted(counts, key=lambda room: (room == "all", room)):
        row = counts[room]
        rows.append([room, str(row.total()), *(str(row[outcome]) for outcome in OUTCOMES)])
    return "\n".join(f"| {' | '.join(row)} |" for row in rows)


def shown(mutant: Mutant) -> str:
    """Returns where a mutant is and what it changes."""
    place = f"{mutant.path}:{mutant.line} {mutant.function}".rstrip()
    return f"{place} ({mutant.kind})\n    {mutant.before}\n  → {mutant.after}"


def told_of(one: Result) -> str:
    """Returns a mutant that was not killed with the tests it was shown to."""
    tests = [test for group in one.plan.groups for test in group.tests]
    files = Counter(test.partition("::")[0] for test in tests)
    ran = ", ".join(f"{file} ({number})" for file, number in files.items()) or "no test runs it"
    return f"{one.outcome}: {shown(one.mutant)}\n    {one.by or ran}"


def main(written: Sequence[str] | None = None) -> list[Result]:
    """Tries the mutants, prints the counts and whatever was not noticed, and returns all."""
    given = arguments_of(written)
    root = given.root.resolve()
    found = candidates(root, given.only, given.since)
    drawn = sampled(found, given.sample, given.seed)
    print(
        f"{len(drawn)} of {len(found)} mutants, seed {given.seed}, {given.budget:g} s of tests each"
    )
    if given.list:
        print("\n".join(map(shown, drawn)))
        return []
    traces = Traces(root, given.traces or root / ".mutants")
    make_traces(traces, given.processes)
    traces.read()
    listed = equivalents()
    same = [one for one in drawn if is_equivalent(one, listed)]
    results = [Result(one, "equivalent", Plan([], 0)) for one in same]
    others = [one for one in drawn if one not in same]
    jobs = [job_of(number, one, traces, given.budget) for number, one in enumerate(others)]
    for result in each_done(tried, jobs, root, given.processes):
        results.append(result)
        place = f"{result.mutant.path}:{result.mutant.line}"
        print(f"{len(results)} {result.outcome}: {place} {result.by}", file=sys.stderr)
        if result.outcome in {"survived", "undecided"}:
            print(f"{told_of(result)}\n", flush=True)
    if traces.failed:
        print(f"Left out, because they fail without a fault: {', '.join(traces.failed)}")
    print(table_of(results))
    return results


if __name__ == "__main__":
    main()
