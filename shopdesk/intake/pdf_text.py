"""The text of a pattern's PDF, or a plain reason why there is none."""

import json
import subprocess
import sys
from pathlib import Path

from shopdesk.intake.cleaning import TextRefused

LARGEST_PDF = 20 * 1024 * 1024
SECONDS = 25
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
    worker = Path(__file__).with_name("pdf_worker.py")
    try:
        done = subprocess.run(
            [sys.executable, "-I", str(worker)],
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
