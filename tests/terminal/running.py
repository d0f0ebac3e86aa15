"""Starts `shopdesk` as a user would: as a program of its own, with its output read."""

import os
import re
import subprocess
import sys
import threading
import urllib.request
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path

ADDRESS = re.compile(r"Counter page: (https?://\S+)")
PATIENCE_SECONDS = 60


@dataclass(frozen=True, slots=True)
class Served:
    """A counter that is being served: its address and what was printed before it."""

    address: str
    printed: str
    process: subprocess.Popen[str]

    def page(self, path: str = "") -> str:
        """Returns the text of one page."""
        with urllib.request.urlopen(self.address + path, timeout=PATIENCE_SECONDS) as reply:
            text: str = reply.read().decode()
            return text


def shopdesk(
    *arguments: str | Path, given: bytes = b"", **environment: str
) -> subprocess.CompletedProcess[bytes]:
    """Runs one verb to its end."""
    return subprocess.run(
        [sys.executable, "-m", "shopdesk", *map(str, arguments)],
        input=given,
        capture_output=True,
        env=os.environ | environment,
        timeout=PATIENCE_SECONDS,
    )


@contextmanager
def served(
    *arguments: str | Path,
    command: Sequence[str | Path] = (sys.executable, "-m", "shopdesk"),
    cwd: Path | None = None,
    patience_seconds: float = PATIENCE_SECONDS,
) -> Iterator[Served]:
    """Serves a counter on a free port until the end of the block, or of one's patience."""
    process = subprocess.Popen(
        [str(part) for part in (*command, "serve", "--port", "0", *arguments)],
        cwd=cwd,
        stdout=subprocess.PIPE,
        stderr=subprocess.STDOUT,
        text=True,
    )
    patience = threading.Timer(patience_seconds, process.kill)
    patience.start()
    try:
        yield _once_served(process)
    finally:
        patience.cancel()
        process.terminate()
        process.communicate(timeout=PATIENCE_SECONDS)


def _once_served(process: subprocess.Popen[str]) -> Served:
    assert process.stdout is not None
    printed = ""
    for line in process.stdout:
        printed += line
        found = ADDRESS.search(line)
        if found:
            return Served(found[1], printed, process)
    raise AssertionError(f"the counter was not served: {printed}")
