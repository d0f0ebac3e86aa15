"""Text from PDFs: read where there is text, refused in plain words where there is none."""

import io
import json
import signal
import subprocess
import sys
import zlib
from pathlib import Path

import pytest
from pypdf import PdfWriter

from shopdesk.patterns.text import pattern_files as reader
from shopdesk.patterns.text import pdf_worker
from shopdesk.patterns.text.cleaning import LONGEST_TEXT, TextRefused
from shopdesk.patterns.text.pattern_files import (
    LARGEST_PDF,
    looks_like_pdf,
    pdf_text,
    text_of_file,
)
from tests.pdfs import pdf_of

LONGEST_WAIT_SECONDS = 30
"""So long a customer may stand at the counter until a PDF is refused."""
START_SECONDS = 5
"""So long a process and a page may take to start and to answer around the reading."""
PATIENCE_SECONDS = 300


@pytest.fixture
def patient(monkeypatch: pytest.MonkeyPatch) -> None:
    """Waits for the worker to the end, so that a slow machine reads what a quick one does."""
    monkeypatch.setattr(reader, "SECONDS", PATIENCE_SECONDS)


patiently = pytest.mark.usefixtures("patient")


def locked(data: bytes, password: str) -> bytes:
    writer = PdfWriter(clone_from=io.BytesIO(data))
    writer.encrypt(password, algorithm="RC4-128")
    sink = io.BytesIO()
    writer.write(sink)
    return sink.getvalue()


def swelling_pdf(megabytes: int) -> bytes:
    """A page whose content is packed twice and unpacks to so many megabytes of blanks."""
    packed = zlib.compress(zlib.compress(b" " * (megabytes * 1024 * 1024), 9), 9)
    head = b"%PDF-1.4\n"
    parts = [
        b"1 0 obj<</Type/Catalog/Pages 2 0 R>>endobj\n",
        b"2 0 obj<</Type/Pages/Kids[3 0 R]/Count 1>>endobj\n",
        b"3 0 obj<</Type/Page/Parent 2 0 R/MediaBox[0 0 200 200]/Contents 4 0 R>>endobj\n",
        b"4 0 obj<</Length %d/Filter[/FlateDecode/FlateDecode]>>stream\n" % len(packed)
        + packed
        + b"\nendstream endobj\n",
    ]
    body, places = head, []
    for part in parts:
        places.append(len(body))
        body += part
    table = b"".join(b"%010d 00000 n \n" % place for place in places)
    return (
        body
        + b"xref\n0 5\n0000000000 65535 f \n"
        + table
        + b"trailer<</Size 5/Root 1 0 R>>\nstartxref\n%d\n%%%%EOF" % len(body)
    )


@patiently
def test_lines_of_a_page_are_read() -> None:
    text = pdf_text(pdf_of("Gauge: 22 sts = 10 cm", "Needles: 4 mm"))
    assert "22 sts = 10 cm" in text
    assert "4 mm" in text


@patiently
@pytest.mark.parametrize(
    ("data", "words"),
    [
        (pdf_of(), "holds no text"),
        (locked(pdf_of("Gauge: 22 sts"), "secret"), "locked with a password"),
        (b"%PDF-1.4\nnothing more", "damaged"),
        (b"Gauge: 22 sts", "not a PDF"),
        (b"%PDF-" + b"0" * LARGEST_PDF, "too large"),
    ],
)
def test_what_cannot_be_read_is_said_in_words(data: bytes, words: str) -> None:
    with pytest.raises(TextRefused) as refusal:
        pdf_text(data)
    assert words in refusal.value.wrong
    assert refusal.value.right


@patiently
def test_locked_for_printing_only_is_still_read() -> None:
    assert "22 sts" in pdf_text(locked(pdf_of("Gauge: 22 sts"), ""))


@patiently
def test_a_pdf_made_to_swell_is_refused() -> None:
    data = swelling_pdf(300)
    assert len(data) < 100_000
    with pytest.raises(TextRefused, match="too much memory or time"):
        pdf_text(data)


def test_no_pdf_keeps_a_customer_waiting_for_long() -> None:
    assert pdf_worker.CPU_SECONDS + START_SECONDS <= reader.SECONDS
    assert reader.SECONDS + START_SECONDS <= LONGEST_WAIT_SECONDS


def test_a_worker_leaves_a_machine_of_one_gigabyte_a_quarter_of_it() -> None:
    assert pdf_worker.MEMORY_BYTES <= 2**30 * 3 // 4


def test_a_pdf_is_read_no_further_than_a_text_is() -> None:
    assert pdf_worker.MOST_CHARACTERS == LONGEST_TEXT


@pytest.mark.parametrize(("more", "words"), [(0, "not a PDF"), (1, "too large")])
def test_a_pdf_may_have_twenty_megabytes(more: int, words: str) -> None:
    with pytest.raises(TextRefused, match=words):
        pdf_text(b"0" * (20 * 2**20 + more))


def test_a_pdf_that_is_too_large_is_told_its_size_and_the_largest() -> None:
    with pytest.raises(TextRefused) as refusal:
        pdf_text(b"0" * (45 * 2**20 + 5))
    assert refusal.value.wrong == "this PDF is too large (45 MB)"
    assert "20 MB" in refusal.value.right
    (problem,) = refusal.value.problems
    assert problem.wrong.values["mb"] == 45


@pytest.mark.parametrize(("before", "pdf"), [(0, True), (1019, True), (1020, False)])
def test_a_pdf_says_what_it_is_in_its_first_kilobyte(before: int, pdf: bool) -> None:
    assert looks_like_pdf(b" " * before + b"%PDF-1.4") is pdf


@pytest.mark.parametrize(
    ("data", "text"),
    [
        ("Mütze, 4½ mm".encode(), "Mütze, 4½ mm"),
        ("Mütze, 4½ mm".encode("utf-8-sig"), "Mütze, 4½ mm"),
        ("Mütze, 4½ mm".encode("utf-16"), "Mütze, 4½ mm"),
        ("Mütze, 4½ mm".encode("utf-16-be"), None),
        ("\ufeffMütze".encode("utf-16-be"), "Mütze"),
        ("Mütze, 4½ mm".encode("cp1252"), "Mütze, 4½ mm"),
        (b"\x81 22 sts", "\ufffd 22 sts"),
        (b"", ""),
    ],
)
def test_a_text_file_is_read_in_its_encoding(data: bytes, text: str | None) -> None:
    if text is None:
        with pytest.raises(TextRefused, match="neither text nor a PDF"):
            text_of_file(data)
    else:
        assert text_of_file(data) == text


def test_a_text_file_may_have_four_bytes_for_each_sign() -> None:
    most = 4 * LONGEST_TEXT
    assert len(text_of_file(b"a" * most)) == most == 800_000
    with pytest.raises(TextRefused, match="800,001"):
        text_of_file(b"a" * (most + 1))


def joined(*files: bytes) -> bytes:
    writer = PdfWriter()
    for data in files:
        if data:
            writer.append(io.BytesIO(data))
        else:
            writer.add_blank_page(200, 200)
    sink = io.BytesIO()
    writer.write(sink)
    return sink.getvalue()


def test_the_first_twelve_pages_are_read() -> None:
    pages = [pdf_of(f"page {number} of it") for number in range(1, 15)]
    text = pdf_worker.text_of(joined(*pages))["text"]
    assert [f"page {number} of" in text for number in range(1, 15)] == [True] * 12 + [False] * 2


def test_a_page_without_anything_on_it_is_passed_over() -> None:
    assert "22 sts" in pdf_worker.text_of(joined(b"", pdf_of("22 sts")))["text"]
    assert pdf_worker.text_of(joined(b"", pdf_of())) == {"refused": "no text"}


def test_a_text_that_is_too_long_is_cut(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(pdf_worker, "MOST_CHARACTERS", 8)
    assert pdf_worker.text_of(joined(pdf_of("22 sts"), pdf_of("4 mm"))) == {"text": "22 sts\n\n"}


def test_only_a_password_that_is_wanted_locks_a_pdf() -> None:
    assert pdf_worker.text_of(locked(pdf_of("22 sts"), "secret")) == {"refused": "encrypted"}
    assert "22 sts" in pdf_worker.text_of(locked(pdf_of("22 sts"), ""))["text"]


def outcome(monkeypatch: pytest.MonkeyPatch, data: bytes) -> dict[str, str]:
    """Returns what the worker's main answers in this process, whose memory stays its own."""
    answer = io.StringIO()
    monkeypatch.setattr(pdf_worker, "limit_resources", lambda: None)
    monkeypatch.setattr("sys.stdin", io.TextIOWrapper(io.BytesIO(data)))
    monkeypatch.setattr("sys.stdout", answer)
    pdf_worker.main()
    told: dict[str, str] = json.loads(answer.getvalue())
    return told


def test_the_worker_names_every_failure(monkeypatch: pytest.MonkeyPatch) -> None:
    assert "22 sts" in outcome(monkeypatch, pdf_of("22 sts"))["text"]
    assert outcome(monkeypatch, b"%PDF-1.4\nnothing") == {"refused": "damaged"}
    assert outcome(monkeypatch, swelling_pdf(100)) == {"refused": "too large"}


def test_the_worker_says_when_its_memory_is_full(monkeypatch: pytest.MonkeyPatch) -> None:
    def fill(data: bytes) -> dict[str, str]:
        raise MemoryError

    monkeypatch.setattr(pdf_worker, "text_of", fill)
    assert outcome(monkeypatch, b"") == {"refused": "too large"}


def test_a_worker_that_does_not_end_is_not_waited_for(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    endless = tmp_path / "worker.py"
    endless.write_text(
        f'import time; time.sleep({PATIENCE_SECONDS}); print(\'{{"text": "late"}}\')'
    )
    monkeypatch.setattr(reader, "WORKER", endless)
    monkeypatch.setattr(reader, "SECONDS", 0.1)
    with pytest.raises(TextRefused, match="too much memory or time"):
        pdf_text(pdf_of("Gauge: 22 sts"))


@patiently
def test_a_worker_that_was_ended_says_too_much(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    ended = tmp_path / "worker.py"
    ended.write_text("import os, signal; os.kill(os.getpid(), signal.SIGKILL)")
    monkeypatch.setattr(reader, "WORKER", ended)
    with pytest.raises(TextRefused, match="too much memory or time"):
        pdf_text(pdf_of("Gauge: 22 sts"))


KNOWS_LIMITS = f"""
import sys
sys.path.insert(0, {str(reader.WORKER.parent)!r})
import pdf_worker
"""


def limited(work: str) -> subprocess.CompletedProcess[str]:
    """Does some work in a process that knows the worker's limits, and waits for its end."""
    return subprocess.run(
        [sys.executable, "-c", KNOWS_LIMITS + work],
        capture_output=True,
        text=True,
        timeout=PATIENCE_SECONDS,
    )


def test_a_worker_that_goes_on_for_ever_is_ended_by_the_system() -> None:
    soon = "pdf_worker.CPU_SECONDS = 1; pdf_worker.limit_resources()"
    assert limited(f"{soon}\nwhile True: pass").returncode in (-signal.SIGKILL, -signal.SIGXCPU)


def test_a_worker_gets_no_more_memory_than_its_share() -> None:
    take = "pdf_worker.limit_resources(); bytearray(pdf_worker.MEMORY_BYTES"
    assert limited(f"{take})").stderr.splitlines()[-1:] == ["MemoryError"]
    assert limited(f"{take} // 2)").stderr == ""
