"""The text of a file that a customer brings: a PDF, or text in a common encoding."""

import json
import subprocess
import sys
from pathlib import Path

from shopdesk.craft.messages import message
from shopdesk.patterns.text.cleaning import LONGEST_TEXT, TextRefused

MEGABYTE = 1_048_576
LARGEST_MEGABYTES = 20
LARGEST_PDF = LARGEST_MEGABYTES * MEGABYTE
SECONDS = 25
WORKER = Path(__file__).with_name("pdf_worker.py")
_PASTE = message("problem_pattern.copy_out")
_REASONS = {
    "encrypted": (
        message("problem_pattern.pdf_locked"),
        message("problem_pattern.unlock", or_else=_PASTE),
    ),
    "no text": (message("problem_pattern.pdf_pictures"), message("problem_pattern.type_it")),
    "damaged": (message("problem_pattern.pdf_damaged"), _PASTE),
    "too large": (message("problem_pattern.pdf_swells"), _PASTE),
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
            message("problem_pattern.pdf_large", mb=len(data) // MEGABYTE),
            message("problem_pattern.pdf_most", mb=LARGEST_MEGABYTES, or_else=_PASTE),
        )
    if not looks_like_pdf(data):
        raise TextRefused(message("problem_pattern.no_pdf"), _PASTE)
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
            message("problem_pattern.file_long", count_grouped=len(data)),
            message("problem_pattern.give_first", most_grouped=LONGEST_TEXT),
        )
    for mark, encoding in _MARKS:
        if data.startswith(mark):
            return data.decode(encoding, errors="replace")
    if b"\0" in data:
        raise TextRefused(message("problem_pattern.no_kind"), message("problem_pattern.give_kind"))
    try:
        return data.decode("utf-8")
    except UnicodeDecodeError:
        return data.decode("cp1252", errors="replace")
