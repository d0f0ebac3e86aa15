"""`shopdesk answer` and `schema`: JSON that is true to its schema, refusals in words."""

import json
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner
from hypothesis import given, settings
from hypothesis import strategies as st
from jsonschema import Draft202012Validator

from shopdesk.services import answers
from shopdesk.terminal.main import main
from tests.machine import examples
from tests.terminal.demo_shop import Run, demo_asks, demo_shop, runner
from tests.terminal.running import shopdesk

ASKS = demo_asks()
ASK: dict[str, Any] = {
    "gauge": {"stitches": 22, "over": {"value": 10, "unit": "cm"}},
    "parts": [{"amount": {"kind": "unknown"}}],
}


@pytest.fixture(scope="module")
def shop(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The folder of the demo shop."""
    return demo_shop(tmp_path_factory.mktemp("demo") / "shop")


@pytest.fixture(scope="module")
def run(shop: Path) -> Run:
    return runner(shop)


def schema_of(run: Run, document: str) -> Draft202012Validator:
    schema = json.loads(run("schema", document).stdout_bytes)
    Draft202012Validator.check_schema(schema)
    return Draft202012Validator(schema)


@pytest.mark.parametrize("ask", ASKS, ids=lambda path: path.stem)
def test_the_demo_asks_and_their_answers_fit_the_schemas(run: Run, ask: Path) -> None:
    schema_of(run, "ask").validate(json.loads(ask.read_text(encoding="utf-8")))
    done = run("answer", ask)
    assert (done.exit_code, done.stderr) == (0, "")
    document = json.loads(done.stdout_bytes)
    schema_of(run, "answer").validate(document)
    assert sum(map(len, document["groups"].values())) > 0


def test_an_ask_from_standard_input_gets_the_same_answer(run: Run) -> None:
    ask = ASKS[0]
    piped = run("answer", "-", given=ask.read_bytes())
    assert piped.exit_code == 0
    assert piped.stdout_bytes == run("answer", ask).stdout_bytes


def test_of_a_large_shelf_as_many_are_listed_as_are_asked_for(
    run: Run, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(answers, "JUDGED_WHOLE", 0)
    listed = {}
    for most in ("1", "12", "120"):
        document = json.loads(run("answer", ASKS[0], "--most", most).stdout_bytes)
        skus = [one["sku"] for group in document["groups"].values() for one in group]
        listed[most] = skus
        assert document["cut"] is (len(skus) == int(most))
        assert document["beyond"] > 0
    assert len(listed["1"]) == 1
    assert listed["12"][:1] == listed["1"]
    assert listed["120"][: len(listed["12"])] == listed["12"]
    assert run("answer", ASKS[0], "--most", "121").exit_code == 2


def test_another_language_changes_words_and_not_judgements(run: Run) -> None:
    english, french = (
        json.loads(run("answer", ASKS[0], "--language", language).stdout_bytes)
        for language in ("en", "fr")
    )
    assert english != french
    assert standing(english) == standing(french)


def standing(document: dict[str, Any]) -> dict[str, list[str]]:
    return {group: [c["sku"] for c in found] for group, found in document["groups"].items()}


@pytest.mark.parametrize(
    ("given", "lines"),
    [
        ({}, ["parts: "]),
        ({"parts": []}, ["parts: "]),
        (ASK | {"yarn": "any"}, ["yarn: this field is not known"]),
        (ASK | {"gauge": {"stitches": "abc", "over": {"value": 10, "unit": "cm"}}},
         ["gauge.stitches: "]),
        (ASK | {"gauge": {"stitches": -1, "over": {"value": 0, "unit": "furlong"}}},
         ["gauge.stitches: ", "gauge.over.value: ", "gauge.over.unit: "]),
        (ASK | {"parts": [{"amount": {"kind": "length", "values": [100], "unit": "feet"}}]},
         ["parts[0].amount.unit: "]),
        ([], ["the ask: this is not a JSON object"]),
    ],
)  # fmt: skip
def test_a_refused_ask_names_each_field_and_what_is_right(
    run: Run, given: object, lines: list[str]
) -> None:
    done = run("answer", "-", given=json.dumps(given))
    assert (done.exit_code, done.stdout) == (2, "")
    told = done.stderr.splitlines()
    assert len(told) == len(lines)
    for line, start in zip(told, lines, strict=True):
        assert line.startswith(f"shopdesk: {start}")
        assert "; " in line


@pytest.mark.parametrize(
    ("given", "told"),
    [
        (b"", "standard input: this is not JSON"),
        (b"22 sts", "standard input: this is not JSON"),
        (b'{"gauge": NaN}', "standard input: NaN is not a number"),
        (b" " * 1_000_001, "standard input: this is 1,000,001 bytes long"),
        (b"\xff\xfe", "standard input: byte 1 is not UTF-8"),
        (b"[" * 5000, "standard input: this is nested too deeply"),
    ],
)
def test_what_is_no_json_is_one_clear_line(run: Run, given: bytes, told: str) -> None:
    done = run("answer", "-", given=given)
    assert (done.exit_code, done.stdout) == (2, "")
    assert done.stderr.startswith(f"shopdesk: {told}")
    assert done.stderr.count("\n") == 1


@pytest.mark.parametrize("name", ["nowhere.json", ".", "/dev/null/x", "a\0b", "x" * 300])
def test_what_is_no_file_is_one_clear_line(run: Run, name: str) -> None:
    done = run("answer", name)
    assert (done.exit_code, done.stdout) == (2, "")
    assert done.stderr.count("\n") == 1


def test_without_a_shop_the_command_says_how_to_get_one(tmp_path: Path) -> None:
    done = CliRunner().invoke(main, ["--data", str(tmp_path / "none"), "answer", str(ASKS[0])])
    assert done.exit_code == 1
    assert "`shopdesk serve` sets one up" in done.stderr
    assert not (tmp_path / "none").exists()


def test_a_reader_that_goes_away_early_leaves_no_traceback(shop: Path) -> None:
    command = [sys.executable, "-m", "shopdesk", "--data", str(shop), "answer", str(ASKS[0])]
    with subprocess.Popen(command, stdout=subprocess.PIPE, stderr=subprocess.PIPE) as process:
        assert process.stdout is not None
        assert process.stderr is not None
        assert process.stdout.read(1) == b"{"
        process.stdout.close()
        assert process.stderr.read() == b""


def test_the_output_is_utf_8_in_any_terminal(shop: Path) -> None:
    plain = {"PYTHONIOENCODING": "ascii", "PYTHONUTF8": "0", "LC_ALL": "C"}
    done = shopdesk("--data", shop, "answer", str(ASKS[0]), "--language", "fr", **plain)
    assert done.returncode == 0
    assert "é" in done.stdout.decode("utf-8")


NAMES = st.sampled_from(
    ["gauge", "parts", "amount", "kind", "values", "unit", "value", "over", "stitches", "tool",
     "designer_yarn", "sizes", "names", "chosen", "wishes", "title", "item", "care", "x"]
)  # fmt: skip
JSON = st.recursive(
    st.none() | st.booleans() | st.integers() | st.floats() | st.text(max_size=10),
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(NAMES, inner, max_size=4),
    max_leaves=12,
)


@settings(max_examples=examples(40))
@given(st.dictionaries(NAMES, JSON, max_size=5))
def test_any_json_is_answered_or_refused(shop: Path, document: dict[str, Any]) -> None:
    given = json.dumps(ASK | document).encode()
    done = CliRunner().invoke(main, ["--data", str(shop), "answer", "-"], input=given)
    assert done.exit_code in (0, 2)
    assert "unexpected" not in done.stderr
