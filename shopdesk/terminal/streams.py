"""What a verb reads and writes: a file by its name, or standard input and output."""

import json
import os
import secrets
import stat
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import BinaryIO

from shopdesk.craft.errors import InputError
from shopdesk.craft.messages import message
from shopdesk.terminal.visiting import option_refused

_OUTPUT = "--output"


@contextmanager
def output_file(path: str) -> Iterator[BinaryIO]:
    """Gives a file to write to, which replaces `path` at the end ('-': standard output).

    After an error what was at `path` is still there. Raises InputError if it cannot be written.
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
        wrong = message("problem_terminal.folder", name=str(file))
        raise option_refused(_OUTPUT, wrong, message("problem_terminal.name_file"))
    draft = file.with_name(f".{secrets.token_hex(6)}.part")
    try:
        draft.touch(exist_ok=False)
    except OSError as error:
        raise _unwritable(file, error) from None
    return draft


def _unwritable(file: Path, error: OSError | ValueError) -> InputError:
    wrong = message("problem_terminal.unwritable", name=str(file), reason=_reason(error))
    return option_refused(_OUTPUT, wrong)


def _reason(error: OSError | ValueError) -> str:
    """Returns why the system refuses, in its own words."""
    return getattr(error, "strerror", None) or str(error)


def print_json(document: object) -> None:
    """Prints a document as JSON in UTF-8 (RFC 8259): indented for a reader, else in one line."""
    indent = 2 if sys.stdout.isatty() else None
    text = json.dumps(document, indent=indent, ensure_ascii=False, allow_nan=False)
    sys.stdout.buffer.write(text.encode() + b"\n")
    sys.stdout.buffer.flush()


def read_file(path: str, most_bytes: int) -> bytes:
    """Returns a file's bytes ('-': standard input), at most one more than `most_bytes`.

    Raises InputError if it is no readable file.
    """
    if path == "-":
        return sys.stdin.buffer.read(most_bytes + 1)
    file = Path(path)
    try:
        if not file.is_dir():
            with file.open("rb") as opened:
                return opened.read(most_bytes + 1)
    except (OSError, ValueError) as error:
        wrong = message("problem_terminal.unreadable", name=path, reason=_reason(error))
        raise InputError(wrong, None) from None
    wrong = message("problem_terminal.folder", name=path)
    raise InputError(wrong, message("problem_terminal.give_file"))
