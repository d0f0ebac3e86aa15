"""Delimited text (CSV): its encoding, which character parts the cells, and its numbered rows."""

import codecs
import csv
from collections.abc import Iterator, Sequence
from contextlib import suppress
from dataclasses import dataclass
from io import StringIO
from itertools import islice
from pathlib import Path

from shopdesk.craft.messages import Message, message
from shopdesk.exchange.problems import FileRefused
from shopdesk.exchange.rows import Row, Table, blank

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
_SAVE_AS = message("problem_file.save_anew")
_NO_HEADINGS = message("problem_file.give_headings")


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
        start = file.read(PIECE_BYTES)
    if not start.strip():
        raise FileRefused(message("problem_file.empty"), _NO_HEADINGS)
    marked = next((encoding for mark, encoding in MARKS if start.startswith(mark)), None)
    encoding = marked or _without_mark(start)
    try:
        return SeenText(encoding, _check(path, encoding))
    except UnicodeError:
        if encoding != "utf-8":
            wrong = message("problem_file.not_throughout", encoding=NAMES[encoding])
            raise FileRefused(wrong, _SAVE_AS) from None
    try:
        return SeenText("cp1252", _check(path, "cp1252"))
    except UnicodeError:
        raise FileRefused(message("problem_file.no_encoding"), _SAVE_AS) from None


def _without_mark(start: bytes) -> str:
    """UTF-16 with many Latin letters has an empty byte in more than two of five pairs."""
    empty = {"utf-16-be": start[0::2].count(0), "utf-16-le": start[1::2].count(0)}
    likely = max(empty, key=empty.__getitem__)
    return likely if 5 * empty[likely] > len(start) else "utf-8"


def _check(path: Path, encoding: str) -> int:
    """Returns the number of lines. Raises FileRefused, and UnicodeError in another encoding.

    The last line may have no end.
    """
    feeds = returns = since_end = 0
    for piece in _pieces(path, encoding):
        if "\0" in piece:
            line = feeds + piece.partition("\0")[0].count("\n") + 1
            raise FileRefused(message("problem_file.nul", line=line), _SAVE_AS)
        feeds += piece.count("\n")
        returns += piece.count("\r")
        last_end = max(piece.rfind("\n"), piece.rfind("\r"))
        since_end = len(piece) - last_end - 1 if last_end >= 0 else since_end + len(piece)
        if since_end > LONGEST_LINE:
            line = max(feeds, returns) + 1
            raise FileRefused(
                message("problem_file.line_long", line=line, most_grouped=LONGEST_LINE),
                message("problem_file.line_each", save_anew=_SAVE_AS),
            )
    return max(feeds, returns) + bool(since_end)


def _pieces(path: Path, encoding: str) -> Iterator[str]:
    decoder = codecs.getincrementaldecoder(encoding)("strict")
    with path.open("rb") as file:
        while piece := file.read(PIECE_BYTES):
            yield decoder.decode(piece)
    yield decoder.decode(b"", final=True)


DELIMITERS = {",": "commas", ";": "semicolons", "\t": "tabs", "|": "upright strokes"}
_SAMPLE = 1 << 16
_SAMPLE_ROWS = 20


def delimited_table(path: Path) -> Table:
    """Returns the table in a text file. Raises FileRefused."""
    seen = look_through(path)
    delimiter = _delimiter(path, seen.encoding)
    rows = _rows(path, seen.encoding, delimiter)
    first = next((row for row in rows if not blank(row[1])), None)
    if first is None:
        raise FileRefused(message("problem_file.no_headings"), _NO_HEADINGS)
    read_as = f"{NAMES[seen.encoding]} text with {DELIMITERS[delimiter]}"
    return Table(tuple(first[1]), rows, read_as, seen.lines)


def _rows(path: Path, encoding: str, delimiter: str) -> Iterator[Row]:
    """Yields each row with the number of the line it begins in."""
    with path.open(encoding=encoding, newline="") as file:
        reader = csv.reader(file, delimiter=delimiter, strict=True)
        line = 1
        try:
            for cells in reader:
                yield line, cells
                line = reader.line_num + 1
        except csv.Error as error:
            raise FileRefused(
                message("problem_file.line_broken", line=line, fault=str(error)), _right(error)
            ) from None


def _right(error: csv.Error) -> Message:
    if "limit" in str(error) or "end of data" in str(error):
        return message("problem_file.mark_open")
    return message("problem_file.mark_twice")


def _delimiter(path: Path, encoding: str) -> str:
    """Returns what parts most cells of the headings, best in the same number on every line."""
    with path.open(encoding=encoding, newline="") as file:
        sample = file.read(_SAMPLE)
    scores = {sign: _score(sample, sign) for sign in DELIMITERS}
    return max(DELIMITERS, key=lambda sign: scores[sign])


def _score(sample: str, delimiter: str) -> tuple[bool, bool, int]:
    widths = [len(row) for row in _sampled(sample, delimiter) if not blank(row)] or [1]
    whole = widths[:-1] if len(sample) == _SAMPLE else widths
    return widths[0] > 1, len(set(whole)) == 1, widths[0]


def _sampled(sample: str, delimiter: str) -> list[Sequence[str]]:
    rows: list[Sequence[str]] = []
    reader = csv.reader(StringIO(sample, newline=""), delimiter=delimiter, strict=True)
    with suppress(csv.Error):
        rows.extend(islice(reader, _SAMPLE_ROWS))
    return rows
