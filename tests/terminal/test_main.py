"""The command itself: its verbs load lazily, and no traceback reaches a user."""

import json
import os
import subprocess
import sys
from pathlib import Path

import click
import pytest
from click.testing import CliRunner

from shopdesk.bundled import BundledFoldersMissing
from shopdesk.terminal.main import VERBS, main

SECRET = "for Aunt Petra's cardigan"


def plant(monkeypatch: pytest.MonkeyPatch, fault: Exception) -> None:
    """Makes `shopdesk schema` fail with `fault`."""

    @click.command()
    def failing() -> None:
        raise fault

    monkeypatch.setattr("shopdesk.terminal.schema.schema", failing)


def run(*arguments: str, data: Path) -> tuple[int, str, str]:
    result = CliRunner().invoke(main, ["--data", str(data), *arguments])
    return result.exit_code, result.stdout, result.stderr


def test_every_verb_has_help(tmp_path: Path) -> None:
    code, overview, _ = run("--help", data=tmp_path)
    assert code == 0
    for verb in VERBS:
        assert f"  {verb} " in overview
        assert run(verb, "--help", data=tmp_path)[0] == 0


@pytest.mark.parametrize("verb", list(VERBS))
def test_the_table_says_the_first_line_of_a_verb_s_own_help(verb: str) -> None:
    command = VERBS[verb].command()
    assert command.name == verb
    assert command.help is not None
    assert VERBS[verb].help == command.help.splitlines()[0]


@pytest.mark.parametrize("columns", [40, 60, 80, 200])
def test_the_verbs_are_listed_as_click_lists_loaded_ones(columns: int) -> None:
    context = click.Context(main)
    ours, its_own = click.HelpFormatter(width=columns), click.HelpFormatter(width=columns)
    main.format_commands(context, ours)
    click.Group.format_commands(main, context, its_own)
    assert ours.getvalue() == its_own.getvalue()


def test_an_unknown_verb_is_refused(tmp_path: Path) -> None:
    code, _, told = run("knit", data=tmp_path)
    assert code == 2
    assert "No such command 'knit'" in told


def test_a_named_error_is_one_line_in_its_own_words(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    plant(
        monkeypatch, BundledFoldersMissing("The database x is damaged; restore it from a backup.")
    )
    code, out, told = run("schema", data=tmp_path)
    assert (code, out) == (1, "")
    assert told == "shopdesk: The database x is damaged; restore it from a backup.\n"


def test_an_unexpected_error_is_one_line_and_a_log(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    plant(monkeypatch, ZeroDivisionError(SECRET))
    code, out, told = run("schema", data=tmp_path)
    assert (code, out) == (1, "")
    assert told.count("\n") == 1
    assert "ZeroDivisionError" in told
    assert str(tmp_path / "shopdesk.log") in told
    logged = (tmp_path / "shopdesk.log").read_text()
    entry = json.loads(logged)
    assert entry["where"] == "schema"
    assert entry["errors"][0]["kind"] == "builtins.ZeroDivisionError"
    assert any("failing" in place for place in entry["errors"][0]["places"])
    assert SECRET not in logged
    assert (tmp_path / "shopdesk.log").stat().st_mode & 0o777 == 0o600


def test_a_second_fault_is_added_to_the_log(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    plant(monkeypatch, KeyError("x"))
    run("schema", data=tmp_path)
    run("schema", data=tmp_path)
    assert len((tmp_path / "shopdesk.log").read_text().splitlines()) == 2


def test_a_log_that_cannot_be_kept_is_still_one_line(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    plant(monkeypatch, KeyError("x"))
    file = tmp_path / "file"
    file.write_text("")
    code, _, told = run("schema", data=file / "below")
    assert code == 1
    assert told.count("\n") == 1
    assert "no log could be kept" in told


def test_a_system_error_names_its_file(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    plant(monkeypatch, PermissionError(13, "Permission denied", "/srv/yarn"))
    assert run("schema", data=tmp_path) == (1, "", "shopdesk: /srv/yarn: Permission denied\n")


def test_control_characters_do_not_reach_the_screen(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    plant(monkeypatch, BundledFoldersMissing("red \x1b[31m"))
    assert "\x1b" not in run("schema", data=tmp_path)[2]


def test_the_module_runs_the_same_command() -> None:
    shown = subprocess.run(
        [sys.executable, "-m", "shopdesk", "schema", "ask"],
        capture_output=True,
        env=os.environ | {"PYTHONWARNINGS": "error"},
    )
    assert shown.returncode == 0, shown.stderr
    assert json.loads(shown.stdout)["additionalProperties"] is False
