"""The shop's own log: one JSON line for each event, with nothing in it of what a customer said."""

import json
import logging
import os
import traceback
from datetime import UTC, datetime
from pathlib import Path

from shopdesk import __version__

LOG_FILE = "shopdesk.log"
LARGEST_BYTES = 1_000_000
CODE_PARTS = 3


class LogRefused(RuntimeError):
    """The log cannot be written; the message says where and why."""


def note(folder: Path, event: str, **facts: object) -> Path:
    """Adds one line on `event` to the log in the data folder and returns the log's path.

    `facts` must hold nothing that a customer or a member of staff typed. Raises LogRefused.
    """
    path = folder / LOG_FILE
    at = datetime.now(UTC).isoformat(timespec="milliseconds")
    line = json.dumps({"at": at, "version": __version__, "event": event, **facts}) + "\n"
    try:
        folder.mkdir(mode=0o700, parents=True, exist_ok=True)
        _make_room(path)
        handle = os.open(path, os.O_WRONLY | os.O_CREAT | os.O_APPEND, 0o600)
        try:
            os.write(handle, line.encode())
        finally:
            os.close(handle)
    except OSError as refusal:
        raise LogRefused(f"no log could be kept in {path} ({refusal.strerror})") from None
    return path


def note_fault(folder: Path, error: BaseException, where: str | None) -> Path:
    """Adds one line on an unexpected error and returns the log's path.

    It holds the kinds of the errors and the places in the code, never their messages, which
    could quote a customer. `where` is the verb or the page's endpoint. Raises LogRefused.
    """
    return note(folder, "fault", where=where, errors=[_trace(each) for each in _chain(error)])


class LogHandler(logging.Handler):
    """Writes what libraries and the counter log, with their texts but not the values in them.

    A record may bring the error as `fault` and the page as `endpoint` in its `extra`.
    """

    def __init__(self, folder: Path) -> None:
        super().__init__(logging.WARNING)
        self._folder = folder

    def emit(self, record: logging.LogRecord) -> None:
        """Adds a line; a log that cannot be written must not stop the counter."""
        error = record.exc_info[1] if record.exc_info else getattr(record, "fault", None)
        where = getattr(record, "endpoint", record.name)
        try:
            if error is not None:
                note_fault(self._folder, error, where)
            else:
                note(self._folder, record.levelname.lower(), where=where, text=str(record.msg))
        except LogRefused:
            self.handleError(record)


def _chain(error: BaseException) -> list[BaseException]:
    chain = [error]
    while (cause := chain[-1].__cause__ or chain[-1].__context__) and cause not in chain:
        chain.append(cause)
    return chain


def _trace(error: BaseException) -> dict[str, object]:
    frames = traceback.extract_tb(error.__traceback__)
    return {
        "kind": f"{type(error).__module__}.{type(error).__qualname__}",
        "places": [f"{_short(frame.filename)}:{frame.lineno} {frame.name}" for frame in frames],
    }


def _short(filename: str) -> str:
    return "/".join(Path(filename).parts[-CODE_PARTS:])


def _make_room(path: Path) -> None:
    if path.exists() and path.stat().st_size > LARGEST_BYTES:
        path.replace(path.with_name(f"{path.name}.old"))
