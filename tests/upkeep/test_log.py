"""The shop's log: one JSON line for each event, for this user only, without what people said."""

import json
import logging
import threading
from pathlib import Path

import pytest

from shopdesk.upkeep.log import LARGEST_BYTES, LogHandler, LogRefused, note, note_fault

SAID = "Frau Lindqvist, telephone 555"


def failing() -> None:
    try:
        raise KeyError(SAID)
    except KeyError as error:
        raise ValueError(f"while reading {SAID}") from error


def caught() -> ValueError:
    with pytest.raises(ValueError, match="while") as raised:
        failing()
    return raised.value


def entries(folder: Path) -> list[dict[str, object]]:
    text = (folder / "shopdesk.log").read_text()
    assert SAID not in text
    return [json.loads(line) for line in text.splitlines()]


def test_an_event_is_one_line_with_its_time_and_facts(tmp_path: Path) -> None:
    path = note(tmp_path / "new", "backup", seconds=1.5)
    (entry,) = entries(tmp_path / "new")
    assert entry["event"] == "backup"
    assert entry["seconds"] == 1.5
    assert str(entry["at"]).endswith("+00:00")
    assert path.stat().st_mode & 0o777 == 0o600
    assert path.parent.stat().st_mode & 0o777 == 0o700


def test_a_fault_tells_its_kinds_and_places_but_not_its_messages(tmp_path: Path) -> None:
    note_fault(tmp_path, caught(), "answer")
    (entry,) = entries(tmp_path)
    assert entry["where"] == "answer"
    errors = entry["errors"]
    assert isinstance(errors, list)
    assert [error["kind"] for error in errors] == ["builtins.ValueError", "builtins.KeyError"]
    assert all("failing" in error["places"][-1] for error in errors)


def test_a_cycle_of_causes_ends(tmp_path: Path) -> None:
    first, second = ValueError("a"), ValueError("b")
    first.__cause__, second.__cause__ = second, first
    note_fault(tmp_path, first, None)
    assert len(entries(tmp_path)) == 1


def test_what_libraries_log_is_kept_without_the_values(tmp_path: Path) -> None:
    logger = logging.Logger("some.library")
    logger.addHandler(LogHandler(tmp_path))
    logger.warning("cannot serve %s", SAID)
    logger.error("fault in %s", SAID, exc_info=caught())
    logger.info("not worth a line")
    warning, fault = entries(tmp_path)
    assert warning["text"] == "cannot serve %s"
    assert fault["event"] == "fault"
    assert fault["where"] == "some.library"


def test_many_writers_do_not_mix_their_lines(tmp_path: Path) -> None:
    def write(name: int) -> None:
        for _ in range(50):
            note(tmp_path, "x" * 500, writer=name)

    writers = [threading.Thread(target=write, args=(name,)) for name in range(4)]
    for writer in writers:
        writer.start()
    for writer in writers:
        writer.join()
    assert len(entries(tmp_path)) == 200


def test_a_large_log_makes_room_and_keeps_the_former(tmp_path: Path) -> None:
    (tmp_path / "shopdesk.log").write_text("x" * (LARGEST_BYTES + 1))
    note(tmp_path, "start")
    assert len(entries(tmp_path)) == 1
    assert (tmp_path / "shopdesk.log.old").stat().st_size == LARGEST_BYTES + 1


def test_a_log_that_cannot_be_written_says_so(tmp_path: Path) -> None:
    (tmp_path / "file").write_text("")
    with pytest.raises(LogRefused, match="no log could be kept"):
        note(tmp_path / "file", "start")
