"""Delimited text (CSV): which character parts the cells, and the rows with their line numbers."""

import csv
from collections.abc import Iterator, Sequence
from contextlib import suppress
from io import StringIO
from itertools import islice
from pathlib import Path

from shopdesk.shelf.importing.encodings import NAMES, look_through
from shopdesk.shelf.importing.problems import FileRefused
from shopdesk.shelf.importing.tables import Row, Table, blank

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
        raise FileRefused("the file holds no headings", "give a file with a line of headings")
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
                f"line {line} cannot be taken apart: {error}", _right(error)
            ) from None


def _right(error: csv.Error) -> str:
    if "limit" in str(error) or "end of data" in str(error):
        return "look for a quotation mark that is not closed"
    return "write a quotation mark inside a cell twice"


def _delimiter(path: Path, encoding: str) -> str:
    """Returns what parts most cells of the headings, best in the same number on every line."""
    with path.open(encoding=encoding, newline="") as file:
        sample = file.read(_SAMPLE)
    scores = {sign: _score(sample, sign) for sign in DELIMITERS}
    return max(DELIMITERS, key=lambda sign: scores[sign])


def _score(sample: str, delimiter: str) -> tuple[bool, bool, int]:
    widths = [len(row) for row in _sampled(sample, delimiter) if not blank(row)]
    if not widths:
        return False, False, 0
    whole = widths[:-1] if len(sample) == _SAMPLE and len(widths) > 1 else widths
    return widths[0] > 1, len(set(whole)) == 1, widths[0]


def _sampled(sample: str, delimiter: str) -> list[Sequence[str]]:
    rows: list[Sequence[str]] = []
    reader = csv.reader(StringIO(sample, newline=""), delimiter=delimiter, strict=True)
    with suppress(csv.Error):
        rows.extend(islice(reader, _SAMPLE_ROWS))
    return rows
