"""Reads a finished slip back: its words with their boxes, its pages, its bar codes."""

import subprocess
from dataclasses import dataclass
from io import BytesIO
from pathlib import Path
from xml.etree import ElementTree

from PIL import Image
from pypdf import PdfReader

from tests.machine import require_tool

POINTS_PER_MM = 72 / 25.4
_XHTML = "{http://www.w3.org/1999/xhtml}"


@dataclass(frozen=True)
class Word:
    """A printed word and its box in points from the page's upper left corner."""

    page: int
    text: str
    left: float
    top: float
    right: float
    bottom: float

    def overlaps(self, other: "Word", slack: float = 0.6) -> bool:
        return (
            self.page == other.page
            and self.left < other.right - slack
            and other.left < self.right - slack
            and self.top < other.bottom - slack
            and other.top < self.bottom - slack
        )


def squeezed(text: str) -> str:
    """Returns text without any space: lines are broken where the paper ends."""
    return "".join(text.split())


def text_by_pypdf(data: bytes) -> str:
    return "\n".join(page.extract_text() for page in PdfReader(BytesIO(data)).pages)


def text_by_pdftotext(data: bytes) -> str:
    return _run([require_tool("pdftotext"), "-", "-"], data).decode()


def words_with_boxes(data: bytes) -> list[Word]:
    root = ElementTree.fromstring(_run([require_tool("pdftotext"), "-bbox", "-", "-"], data))
    found = []
    for number, page in enumerate(root.iter(f"{_XHTML}page"), 1):
        for word in page.iter(f"{_XHTML}word"):
            box = (float(word.attrib[side]) for side in ("xMin", "yMin", "xMax", "yMax"))
            found.append(Word(number, word.text or "", *box))
    return found


def page_sizes_mm(data: bytes) -> list[tuple[float, float]]:
    boxes = (page.mediabox for page in PdfReader(BytesIO(data)).pages)
    return [(float(b.width) / POINTS_PER_MM, float(b.height) / POINTS_PER_MM) for b in boxes]


def pictures(data: bytes, dpi: int, folder: Path) -> list[Image.Image]:
    source = folder / "slip.pdf"
    source.write_bytes(data)
    command = [require_tool("pdftoppm"), "-r", str(dpi), "-gray", "-png", str(source)]
    _run([*command, str(folder / f"page-{dpi}")], b"")
    return [Image.open(path) for path in sorted(folder.glob(f"page-{dpi}-*.png"))]


def decoded(data: bytes, dpi: int, folder: Path) -> list[str]:
    import zxingcpp

    pages = pictures(data, dpi, folder)
    codes = (zxingcpp.read_barcodes(page, try_rotate=False) for page in pages)
    return [code.text for page in codes for code in page]


def qpdf_complaints(data: bytes, folder: Path) -> str:
    """Returns what `qpdf --check` says beyond its usual clean report; '' if nothing."""
    source = folder / "checked.pdf"
    source.write_bytes(data)
    run = subprocess.run(
        [require_tool("qpdf"), "--check", str(source)], capture_output=True, text=True, check=False
    )
    if run.returncode == 0 and "No syntax or stream encoding errors" in run.stdout:
        return ""
    return run.stdout + run.stderr


def _run(command: list[str], data: bytes) -> bytes:
    return subprocess.run(command, input=data, capture_output=True, check=True).stdout
