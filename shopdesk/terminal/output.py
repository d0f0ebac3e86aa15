"""Writes a file that a verb was told to make: whole under its name, or not at all."""

import os
import secrets
import stat
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import BinaryIO

from shopdesk.terminal.boundary import BadUsage


@contextmanager
def output_file(path: str) -> Iterator[BinaryIO]:
    """Gives a file to write to, which replaces `path` at the end ('-': standard output).

    After an error what was at `path` is still there. Raises BadUsage if it cannot be written.
    """
    if path == "-":
        yield sys.stdout.buffer
        sys.stdout.buffer.flush()
        return
    file = Path(path)
    draft = _empty_draft(file)
    try:
        with draft.open("wb") as opened:
            yield opened
            opened.flush()
            os.fsync(opened.fileno())
        draft.replace(file)
    finally:
        draft.unlink(missing_ok=True)


def _empty_draft(file: Path) -> Path:
    """Returns a new file beside the one to be written, which shows that it can be."""
    try:
        folder = stat.S_ISDIR(file.lstat().st_mode)
    except FileNotFoundError:
        folder = False
    except (OSError, ValueError) as error:
        raise _unwritable(file, error) from None
    if folder:
        raise BadUsage(f"--output: {file} is a folder; name a file")
    draft = file.with_name(f".{secrets.token_hex(6)}.part")
    try:
        draft.touch(exist_ok=False)
    except OSError as error:
        raise _unwritable(file, error) from None
    return draft


def _unwritable(file: Path, error: OSError | ValueError) -> BadUsage:
    reason = getattr(error, "strerror", None) or str(error)
    return BadUsage(f"--output: {file} cannot be written: {reason}")
