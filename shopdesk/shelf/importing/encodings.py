"""Which encoding a text file is in: read through once, in pieces, before anything is taken."""

import codecs
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

from shopdesk.shelf.importing.problems import FileRefused

PIECE_BYTES = 1 << 16
LONGEST_LINE = 1 << 16
MARKS = (
    (codecs.BOM_UTF8, "utf-8-sig"),
    (codecs.BOM_UTF32_LE, "utf-32"),
    (codecs.BOM_UTF32_BE, "utf-32"),
    (codecs.BOM_UTF16_LE, "utf-16"),
    (codecs.BOM_UTF16_BE, "utf-16"),
)
NAMES = {
    "utf-8": "UTF-8",
    "utf-8-sig": "UTF-8 with a mark",
    "utf-16": "UTF-16",
    "utf-16-le": "UTF-16",
    "utf-16-be": "UTF-16",
    "utf-32": "UTF-32",
    "cp1252": "Windows-1252",
}
_SAVE_AS = "save the table anew as CSV in UTF-8, or as .xlsx"


@dataclass(frozen=True, slots=True)
class SeenText:
    """The encoding of a text file, as Python names it, and how many lines it has."""

    encoding: str
    lines: int


def look_through(path: Path) -> SeenText:
    """Returns the encoding of a text file and its number of lines.

    A byte order mark decides; without one UTF-16 is told by its empty bytes, then UTF-8 is
    tried, then Windows-1252. The file is read in pieces, whatever its size. Raises FileRefused
    for an empty file, a line longer than a line can be, characters that are no text.
    """
    with path.open("rb") as file:
        start = file.read(4096)
    if not start.strip():
        raise FileRefused("the file is empty", "give a file with a line of headings")
    marked = next((encoding for mark, encoding in MARKS if start.startswith(mark)), None)
    encoding = marked or _without_mark(start)
    try:
        return SeenText(encoding, _check(path, encoding))
    except UnicodeError:
        if encoding != "utf-8":
            raise FileRefused(f"the file is not {NAMES[encoding]} throughout", _SAVE_AS) from None
    try:
        return SeenText("cp1252", _check(path, "cp1252"))
    except UnicodeError:
        raise FileRefused("the file is neither UTF-8 nor Windows-1252", _SAVE_AS) from None


def _without_mark(start: bytes) -> str:
    """UTF-16 of mostly Latin letters has an empty byte in every pair."""
    pairs = max(1, len(start) // 2)
    if start[1::2].count(0) > 0.4 * pairs and start[0::2].count(0) < 0.1 * pairs:
        return "utf-16-le"
    if start[0::2].count(0) > 0.4 * pairs and start[1::2].count(0) < 0.1 * pairs:
        return "utf-16-be"
    return "utf-8"


def _check(path: Path, encoding: str) -> int:
    """Returns the number of lines. Raises FileRefused, and UnicodeError in another encoding."""
    feeds = returns = since_end = 0
    for piece in _pieces(path, encoding):
        if "\0" in piece:
            line = feeds + piece.count("\n", 0, piece.index("\0")) + 1
            raise FileRefused(f"line {line} holds a NUL, which is no text", _SAVE_AS)
        feeds += piece.count("\n")
        returns += piece.count("\r")
        last_end = max(piece.rfind("\n"), piece.rfind("\r"))
        since_end = len(piece) - last_end - 1 if last_end >= 0 else since_end + len(piece)
        if since_end > LONGEST_LINE:
            line = max(feeds, returns) + 1
            raise FileRefused(
                f"line {line} is longer than {LONGEST_LINE:,} characters",
                "a table has one line for each yarn or lot; " + _SAVE_AS,
            )
    return max(feeds, returns)


def _pieces(path: Path, encoding: str) -> Iterator[str]:
    decoder = codecs.getincrementaldecoder(encoding)("strict")
    with path.open("rb") as file:
        while piece := file.read(PIECE_BYTES):
            yield decoder.decode(piece)
    yield decoder.decode(b"", final=True)
