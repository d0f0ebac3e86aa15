"""Runs tests in forked children, on a copy of the project in which one file has a fault.

A worker loads the libraries once, so that a child pays only for the package and the tests it
needs. Jobs come as lines of JSON on the standard input, results go as such to the output.
"""

import json
import os
import resource
import signal
import sys
import time
import traceback
from contextlib import suppress
from importlib import import_module
from pathlib import Path
from tempfile import TemporaryFile
from typing import IO, Any

LIBRARIES = (
    "alembic.command", "babel.numbers", "click.testing", "coverage", "flask", "flask_wtf",
    "hypothesis", "openpyxl", "pint", "psycopg", "pydantic", "pypdf", "pytest",
    "reportlab.pdfgen.canvas", "reportlab.platypus", "sqlalchemy.orm", "stdnum", "waitress",
)  # fmt: skip
MEMORY_BYTES = 6 * 2**30
STILL_SECONDS = 120
"""A child is ended that has done nothing for so long: however busy the machine, it could have."""


def serve() -> None:
    """Does one job after the other until the input ends."""
    for library in LIBRARIES:
        import_module(library)
    told = os.fdopen(os.dup(1), "w")
    os.dup2(os.open(os.devnull, os.O_WRONLY), 1)
    os.dup2(1, 2)
    for line in sys.stdin:
        told.write(json.dumps(_done(json.loads(line))) + "\n")
        told.flush()


def _done(job: dict[str, Any]) -> dict[str, Any]:
    """Plants the job's fault, runs its tests in a child, mends the file and says what happened."""
    if "path" not in job:
        return _forked(job)
    path = Path(job["path"])
    text, times = path.read_text(encoding="utf-8"), path.stat()
    path.write_text(job["text"], encoding="utf-8")
    # Bytecode is told from its source by the time in whole seconds: no two faults may share it.
    os.utime(path, (times.st_atime, times.st_mtime + job["number"] + 1))
    try:
        return _forked(job)
    finally:
        path.write_text(text, encoding="utf-8")
        os.utime(path, ns=(times.st_atime_ns, times.st_mtime_ns))


def _forked(job: dict[str, Any]) -> dict[str, Any]:
    with TemporaryFile("w+") as told:
        child = os.fork()
        if child == 0:
            _be_child(job, told)
        ended = _ended(child)
        with suppress(ProcessLookupError):
            os.killpg(child, signal.SIGKILL)
        if ended is None:
            os.waitpid(child, 0)
            return {"outcome": "waited"}
        told.seek(0)
        text = told.read()
    if text:
        return json.loads(text)
    return {"outcome": "endless" if ended == -signal.SIGXCPU else "crashed"}


def _ended(child: int) -> int | None:
    """Returns the exit code of a child, or None if it waits for something that never comes."""
    used, since = list[str](), time.monotonic()
    while time.monotonic() - since < STILL_SECONDS:
        done, status = os.waitpid(child, os.WNOHANG)
        if done:
            return os.waitstatus_to_exitcode(status)
        state, *numbers = Path(f"/proc/{child}/stat").read_text().rpartition(")")[2].split()
        # The 14th and the 15th field are its CPU time; T is a child that somebody has stopped.
        if state == "T" or numbers[10:12] != used:
            used, since = numbers[10:12], time.monotonic()
        time.sleep(0.02)
    return None


def _be_child(job: dict[str, Any], told: IO[str]) -> None:
    os.setsid()
    seconds = int(job["cpu_seconds"]) + 1
    resource.setrlimit(resource.RLIMIT_CPU, (seconds, seconds + 5))
    resource.setrlimit(resource.RLIMIT_AS, (MEMORY_BYTES, MEMORY_BYTES))
    try:
        from tests.mutants import testing

        result = testing.trace(job["file"]) if "file" in job else testing.run(job["tests"])
    except BaseException:
        result = {"outcome": "broken", "told": traceback.format_exc()}
    json.dump(result, told)
    told.flush()
    os._exit(0)


if __name__ == "__main__":
    serve()
