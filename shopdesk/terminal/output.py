"""Writes a file that a verb was told to make: whole under its name, or not at all."""

import os
import secrets
import sys
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path
from typing import BinaryIO

from shopdesk.terminal.boundary import Refused


@contextmanager
def output_file(path: str) -> Iterator[BinaryIO]:
    """Gives a file to write to, which replaces `path` at the end ('-': standard output).

    After an error what was at `path` is still there. Raises Refused if it cannot be written.
    """
    if path == "-":
        yield sys.stdout.buffer
        sys.stdout.buffer.flush()
        return
    file = Path(path)
    if file.is_dir():
        raise Refused(f"--output: {path} is a folder; name a file")
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
        with suppress(FileNotFoundError):
            file.lstat()
        draft = file.with_name(f".{secrets.token_hex(6)}.part")
        draft.touch(exist_ok=False)
    except (OSError, ValueError) as error:
        reason = getattr(error, "strerror", None) or str(error)
        raise Refused(f"--output: {file} cannot be written: {reason}") from None
    return draft
