"""`shopdesk slip`: the PDF holds what was chosen; what cannot be is refused and keeps nothing."""

import io
import shlex
import sqlite3
from contextlib import closing
from pathlib import Path
from typing import Any

import pytest
from pypdf import PdfReader

from tests.terminal.demo_shop import (
    Run,
    candidates,
    copied,
    demo_ask,
    demo_shop,
    document_of,
    runner,
)

PLAIN = demo_ask("plain-pullover")
BABY = demo_ask("baby-cardigan")
MANY = demo_ask("stranded-yoke")


@pytest.fixture(scope="module")
def made(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The demo shop, which the tests copy."""
    return demo_shop(tmp_path_factory.mktemp("demo") / "shop")


@pytest.fixture
def shop(made: Path, tmp_path: Path) -> Path:
    return copied(made, tmp_path / "mine")


@pytest.fixture
def run(shop: Path) -> Run:
    return runner(shop)


def slips_kept(shop: Path) -> list[int]:
    with closing(sqlite3.connect(shop / "shopdesk.sqlite3")) as opened:
        return [number for (number,) in opened.execute("SELECT number FROM slip ORDER BY number")]


def first(run: Run, ask: Path) -> dict[str, Any]:
    """Returns the answer's first yarn of which the shop has a colour in stock."""
    document = document_of(run("answer", ask))
    return next(c for c in candidates(document) if any(x["available"] for x in c["colours"]))


def text_of(pdf: bytes) -> str:
    return " ".join(
        " ".join(page.extract_text() for page in PdfReader(io.BytesIO(pdf)).pages).split()
    )


def test_the_slip_holds_the_yarn_the_colour_the_lot_and_the_count(run: Run, tmp_path: Path) -> None:
    yarn = first(run, PLAIN)
    colour = next(each for each in yarn["colours"] if each["available"])
    target = tmp_path / "slip.pdf"
    done = run("slip", PLAIN, "--yarn", yarn["sku"], "--staff", "Marit", "-o", target)
    assert (done.exit_code, done.stderr) == (0, "")
    assert done.stdout == f"Slip 1: {target}\n"
    text = text_of(target.read_bytes())
    assert yarn["name"] in text
    assert f"{colour['colour_name']} {colour['colour_code']}" in text
    assert "Marit" in text
    for pick in colour["picks"]:
        assert pick["lot"] in text
    skeins = sum(pick["skeins"] for pick in colour["picks"])
    assert skeins == yarn["amounts"][0]["skeins"]
    assert f"{skeins} skeins" in text


def test_slips_are_numbered_and_standard_output_takes_one(run: Run, shop: Path) -> None:
    sku = first(run, PLAIN)["sku"]
    done = run("slip", PLAIN, "--yarn", sku, "-o", "-")
    assert done.stdout_bytes.startswith(b"%PDF-")
    assert run("slip", PLAIN, "--yarn", sku, "-o", "-").exit_code == 0
    assert slips_kept(shop) == [1, 2]


def test_a_colour_and_a_number_of_skeins_are_taken_as_said(run: Run) -> None:
    yarn = first(run, PLAIN)
    colour = [each for each in yarn["colours"] if each["available"] >= 2][-1]
    options = ("--colour", colour["colour_name"].upper(), "--skeins", "1")
    done = run("slip", PLAIN, "--yarn", yarn["sku"], *options, "-o", "-")
    assert done.exit_code == 0, done.stderr
    assert f"{colour['colour_name']} {colour['colour_code']}" in text_of(done.stdout_bytes)
    assert "1 skein" in text_of(done.stdout_bytes)


def test_parts_can_have_their_own_colours(run: Run) -> None:
    yarn = first(run, MANY)
    parts = [amount["part"] for amount in yarn["amounts"]]
    colours = list(dict.fromkeys(x["colour_name"] for x in yarn["colours"] if x["available"] > 9))
    given = [f"--colour={part}={name}" for part, name in zip(parts, colours, strict=False)]
    assert len(given) == len(parts) == 3
    done = run("slip", MANY, "--yarn", yarn["sku"], *given, "--skeins", "1", "-o", "-")
    assert done.exit_code == 0, done.stderr
    text = text_of(done.stdout_bytes)
    assert all(name in text for name in colours[:3])


def test_a_flagged_caution_must_be_told_first(run: Run, shop: Path, tmp_path: Path) -> None:
    yarn = first(run, BABY)
    flagged = [caution["code"] for caution in yarn["cautions"] if caution["flag"]]
    assert flagged
    target = tmp_path / "slip.pdf"
    untold = run("slip", BABY, "--yarn", yarn["sku"], "-o", target)
    assert (untold.exit_code, untold.stdout) == (2, "")
    assert not target.exists()
    assert slips_kept(shop) == []
    for code in flagged:
        assert f"--told {shlex.quote(code)}: " in untold.stderr
    told = [word for code in flagged for word in ("--told", code)]
    assert run("slip", BABY, "--yarn", yarn["sku"], *told, "-o", target).exit_code == 0
    assert slips_kept(shop) == [1]


def test_paper_and_language_are_as_asked(run: Run) -> None:
    sku = first(run, PLAIN)["sku"]
    options = ("--paper", "A6", "--language", "de")
    done = run("slip", PLAIN, "--yarn", sku, *options, "-o", "-")
    page = PdfReader(io.BytesIO(done.stdout_bytes)).pages[0]
    # ISO 216: A6 is 105 mm by 148 mm; a PDF point is 1/72 inch (ISO 32000).
    assert float(page.mediabox.width) == pytest.approx(105 * 72 / 25.4, abs=0.5)
    assert float(page.mediabox.height) == pytest.approx(148 * 72 / 25.4, abs=0.5)
    assert "Maschenprobe" in text_of(done.stdout_bytes)


@pytest.mark.parametrize(
    ("options", "told"),
    [
        (["--yarn", "nothing"], "--yarn: 'nothing' is not among the yarns"),
        (["--yarn", "SKU", "--colour", "no such"], "has no colour 'no such'; choose of "),
        (["--yarn", "SKU", "--lot", "no such"], "--lot: there is no lot 'no such' of "),
        (["--yarn", "SKU", "--skeins", "0"], "--skeins: 0 skeins cannot be; "),
        (["--yarn", "SKU", "--skeins", "1,5"], "--skeins: 1,5 skeins cannot be; "),
        (["--yarn", "SKU", "--skeins", "NaN"], "--skeins: 'NaN' is not a number; "),
        (["--yarn", "SKU", "--skeins", "1e2"], "--skeins: "),
        (["--yarn", "SKU", "--skeins", "999"], "has 999 skeins; there are "),
        (["--yarn", "SKU", "--paper", "A9"], "--paper: 'A9' is not a paper; choose one of A5"),
        (["--yarn", "SKU", "--staff", "x" * 500], "the name of staff is too long; "),
    ],
)
def test_what_cannot_be_is_refused_and_nothing_is_kept(
    run: Run, shop: Path, tmp_path: Path, options: list[str], told: str
) -> None:
    sku = first(run, PLAIN)["sku"]
    given = [sku if each == "SKU" else each for each in options]
    target = tmp_path / "slip.pdf"
    done = run("slip", PLAIN, *given, "-o", target)
    assert (done.exit_code, done.stdout) == (2, "")
    assert done.stderr.startswith("shopdesk: ")
    assert told in done.stderr
    assert not target.exists()
    assert slips_kept(shop) == []


def test_a_file_that_cannot_be_written_uses_no_number(run: Run, shop: Path, tmp_path: Path) -> None:
    sku = first(run, PLAIN)["sku"]
    for target in (tmp_path, tmp_path / "nowhere" / "slip.pdf", "slip\0.pdf", "x" * 300):
        done = run("slip", PLAIN, "--yarn", sku, "-o", target)
        assert done.exit_code == 2
        assert done.stderr.startswith("shopdesk: --output: ")
    assert slips_kept(shop) == []


def test_what_was_there_stays_if_the_slip_is_refused(run: Run, tmp_path: Path) -> None:
    target = tmp_path / "slip.pdf"
    target.write_text("before")
    sku = first(run, PLAIN)["sku"]
    assert run("slip", PLAIN, "--yarn", sku, "--paper", "A9", "-o", target).exit_code == 2
    assert target.read_text() == "before"
    assert [path.name for path in tmp_path.iterdir() if path.suffix == ".part"] == []
