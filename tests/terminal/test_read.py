"""`shopdesk read`: the ask on stdout, the source words on stderr, refusals in plain words."""

import json
from pathlib import Path

import pytest
from click.testing import CliRunner, Result
from hypothesis import given, settings

from shopdesk.answering.ask.ask_reading import read_ask
from shopdesk.terminal.main import main
from tests.patterns.odd_numbers import TWO_WAYS, headers
from tests.pdfs import pdf_of

ONE_SIZE = "Hat. Worsted, 150 yds. US 7 (4.5 mm). 18 sts and 24 rows = 4 in in St st. See page 12."
THREE_SIZES = """Sizes S (M, L)
Finished chest 90 (98, 106) cm
5 (6, 7) balls DK, 50 g = 120 m
22 sts = 10 cm, 4 mm needles"""


def read(*arguments: str, given: str | bytes = "") -> Result:
    return CliRunner().invoke(main, ["read", *arguments], input=given)


def test_the_ask_is_printed_and_can_be_answered() -> None:
    done = read("-", given=ONE_SIZE)
    assert done.exit_code == 0
    ask = read_ask(json.loads(done.stdout))
    assert ask.gauge is not None
    assert ask.gauge.stitches == pytest.approx(18 / 101.6 * 100)
    assert ask.gauge.rows == pytest.approx(24 / 101.6 * 100)


def test_each_field_names_its_words() -> None:
    report = read("-", given=ONE_SIZE).stderr.splitlines()
    assert "gauge.stitches: 18 (sure) from '18 sts'" in report
    assert "tool: 4.5 mm (sure) from 'US 7 (4.5 mm'" in report
    assert any(line.startswith("not understood: ") and "12" in line for line in report)


def test_quiet_prints_the_ask_only() -> None:
    done = read("--quiet", "-", given=ONE_SIZE)
    assert done.stderr == ""
    assert json.loads(done.stdout)["craft"] == "knit"


def test_several_sizes_want_one_named() -> None:
    done = read("-", given=THREE_SIZES)
    assert done.exit_code == 2
    assert "this pattern has 3 sizes; name one of S, M, L" in done.stderr
    assert done.stdout == ""


def test_the_named_size_is_chosen() -> None:
    ask = json.loads(read("-", "--size", "m", given=THREE_SIZES).stdout)
    assert ask["sizes"] == {
        "names": ["S", "M", "L"],
        "chosen": "M",
        "chest": {"values": [90, 98, 106], "unit": "cm"},
    }
    assert ask["item"]["measurements"]["chest"] == {"value": 98, "unit": "cm"}
    assert ask["parts"][0]["amount"]["values"] == [5, 6, 7]


def test_a_size_the_pattern_has_not_is_refused() -> None:
    done = read("-", "--size", "XXL", given=THREE_SIZES)
    assert done.exit_code == 2
    assert "no size 'XXL'; name one of S, M, L" in done.stderr


def test_explaining_gives_words_places_and_other_readings() -> None:
    report = json.loads(read("--explain", "-", given="Size 8 needles, 20 sts = 4 in, DK").stdout)
    tool = next(each for each in report["fields"] if each["path"] == "tool")
    assert tool["sure"] == "unclear"
    assert tool["other_readings"] == [{"size": "8", "system": "UK"}]
    assert tool["words"] == [{"start": 0, "end": 14, "text": "Size 8 needles"}]
    assert "tool" not in report["ask"]
    assert "intake.tool_system_unsaid" in {notice["code"] for notice in report["notices"]}


def test_a_pdf_is_read(tmp_path: Path) -> None:
    file = tmp_path / "pattern.pdf"
    file.write_bytes(pdf_of("Scarf", "DK, 380 yds", "22 sts = 4 in, 4 mm needles"))
    ask = json.loads(read(str(file)).stdout)
    assert ask["gauge"]["stitches"] == 22
    assert ask["item"]["kind"] == "scarf"


def test_a_number_with_two_readings_is_left_out_and_said() -> None:
    done = read("-", given=TWO_WAYS)
    assert done.exit_code == 0, done.output
    ask = json.loads(done.stdout)
    assert (ask["gauge"]["stitches"], ask["parts"][0]["amount"]) == (22, {"kind": "unknown"})
    assert "can be read as 1200 or as 1.2" in done.stderr
    assert "1.2 m; or 1200 m (unclear, left out) from '1.200 m'" in done.stderr


@settings(max_examples=25)
@given(headers())
def test_no_number_stops_the_command(text: str) -> None:
    assert read("--explain", "-", given=text).exit_code == 0
    done = read("--quiet", "-", given=text)
    if done.exit_code:
        wanted = ("--size: ", "what could be read is not enough for an answer:")
        assert any(words in done.stderr for words in wanted), done.stderr


@pytest.mark.parametrize("encoding", ["utf-8", "utf-8-sig", "utf-16", "cp1252"])
def test_common_encodings_are_read(tmp_path: Path, encoding: str) -> None:
    file = tmp_path / "pattern.txt"
    file.write_bytes("Mütze, 20 M und 28 R = 10 cm, 4½ mm".encode(encoding))
    ask = json.loads(read(str(file)).stdout)
    assert ask["item"]["kind"] == "hat"
    assert ask["tool"] == {"size": "4½", "system": "mm"}


@pytest.mark.parametrize(
    ("given", "words"),
    [
        (b"", "there is no text here"),
        (b"  \n ", "there is no text here"),
        (b"Dear shop, have you anything nice?", "neither the pattern's gauge nor"),
        (b"\x00\x01\x02 something", "neither text nor a PDF"),
        (b"22 sts " * 700_000, "too long"),
        (b"%PDF-1.7 and nothing else", "damaged"),
        (pdf_of(), "holds no text"),
    ],
)
def test_what_cannot_be_read_ends_with_two_and_words(given: bytes, words: str) -> None:
    done = read("-", given=given)
    assert done.exit_code == 2
    assert words in done.stderr
    assert "Traceback" not in done.stderr
    assert done.stdout == ""


def test_a_missing_file_is_named(tmp_path: Path) -> None:
    done = read(str(tmp_path / "none.txt"))
    assert done.exit_code == 2
    assert "none.txt" in done.stderr
