"""The text of a file that a customer brings: a PDF, or text in a common encoding."""

import json
import subprocess
import sys
from pathlib import Path

from shopdesk.patterns.text.cleaning import LONGEST_TEXT, TextRefused

LARGEST_PDF = 20 * 1024 * 1024
SECONDS = 25
WORKER = Path(__file__).with_name("pdf_worker.py")
_PASTE = "copy the materials and gauge out of it and paste them as text"
_REASONS = {
    "encrypted": ("this PDF is locked with a password", f"save it without one, or {_PASTE}"),
    "no text": (
        "this PDF holds no text, only pictures of pages (a scan)",
        "type what it says, or ask for a PDF with text",
    ),
    "damaged": ("this PDF cannot be read; it seems damaged", _PASTE),
    "too large": ("this PDF needs too much memory or time to unpack", _PASTE),
}


def looks_like_pdf(data: bytes) -> bool:
    """True if the bytes begin as a PDF does."""
    return b"%PDF-" in data[:1024]


def pdf_text(data: bytes) -> str:
    """Returns the text of the PDF's first pages. Raises TextRefused.

    The PDF is unpacked in a process of its own whose memory and time are capped, so that a
    file made to swell cannot hold up the counter.
    """
    if len(data) > LARGEST_PDF:
        raise TextRefused(
            f"this PDF is too large ({len(data) // (1024 * 1024)} MB)",
            f"the most is {LARGEST_PDF // (1024 * 1024)} MB; {_PASTE}",
        )
    if not looks_like_pdf(data):
        raise TextRefused("this file is not a PDF", _PASTE)
    result = _worker_result(data)
    text = result.get("text")
    if text is None:
        raise TextRefused(*_REASONS[result["refused"]])
    return text


def _worker_result(data: bytes) -> dict[str, str]:
    try:
        done = subprocess.run(
            [sys.executable, "-I", str(WORKER)],
            input=data,
            stdout=subprocess.PIPE,
            stderr=subprocess.DEVNULL,
            timeout=SECONDS,
            check=False,
        )
        result: dict[str, str] = json.loads(done.stdout)
    except (subprocess.TimeoutExpired, ValueError):
        return {"refused": "too large"}
    return result


MOST_BYTES = LARGEST_PDF
"""The most that need be read of a file to tell that it is too large."""
_MARKS = ((b"\xef\xbb\xbf", "utf-8-sig"), (b"\xff\xfe", "utf-16"), (b"\xfe\xff", "utf-16"))


def text_of_file(data: bytes) -> str:
    """Returns the text of a PDF's or a text file's bytes. Raises TextRefused."""
    if looks_like_pdf(data):
        return pdf_text(data)
    if len(data) > 4 * LONGEST_TEXT:
        raise TextRefused(
            f"this text is too long ({len(data):,} bytes or more)",
            f"give only the pattern's first pages, at most {LONGEST_TEXT:,} characters",
        )
    for mark, encoding in _MARKS:
        if data.startswith(mark):
            return data.decode(encoding, errors="replace")
    if b"\0" in data:
        raise TextRefused("this file is neither text nor a PDF", "give a text file or a PDF")
    try:
        return data.decode("utf-8")
    except UnicodeDecodeError:
        return data.decode("cp1252", errors="replace")
