"""Text from PDFs: read where there is text, refused in plain words where there is none."""

import io
import time
import zlib

import pytest
from pypdf import PdfWriter

from shopdesk.patterns.text.cleaning import TextRefused
from shopdesk.patterns.text.pattern_files import LARGEST_PDF, pdf_text
from tests.pdfs import pdf_of


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


def test_lines_of_a_page_are_read() -> None:
    text = pdf_text(pdf_of("Gauge: 22 sts = 10 cm", "Needles: 4 mm"))
    assert "22 sts = 10 cm" in text
    assert "4 mm" in text


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


def test_locked_for_printing_only_is_still_read() -> None:
    assert "22 sts" in pdf_text(locked(pdf_of("Gauge: 22 sts"), ""))


def test_a_pdf_made_to_swell_is_refused_within_bounds() -> None:
    data = swelling_pdf(300)
    assert len(data) < 100_000
    began = time.monotonic()
    with pytest.raises(TextRefused, match="too much memory or time"):
        pdf_text(data)
    assert time.monotonic() - began < 27
