"""Spreadsheets (.xlsx): the first sheet's cells as a person would have typed them."""

import warnings
from collections.abc import Iterator
from datetime import date, datetime, time, timedelta
from decimal import Decimal
from pathlib import Path
from typing import Any
from zipfile import BadZipFile, ZipFile

from shopdesk.craft.messages import message
from shopdesk.exchange.problems import FileRefused
from shopdesk.exchange.rows import Row, Table, blank

MOST_BYTES_UNPACKED = 400_000_000
MOST_BYTES_OF_TEXTS = 60_000_000
LONGEST_CELL = 32_767
DATE_MARK = "\N{CALENDAR}"
"""Stands before a date that a spreadsheet holds, so that no number is read out of it."""
_SAVE = message("problem_file.open_and_save")


def workbook_table(path: Path) -> Table:
    """Returns the table on a workbook's first sheet. Raises FileRefused."""
    _check_size(path)
    rows = _rows(path)
    lines = next(rows)[0]
    first = next((row for row in rows if not blank(row[1])), None)
    if first is None:
        raise FileRefused(
            message("problem_file.empty_sheet"), message("problem_file.headings_first")
        )
    headings = list(first[1])
    while headings and not headings[-1].strip():
        headings.pop()
    return Table(tuple(headings), rows, "the first sheet of a workbook", lines)


def _check_size(path: Path) -> None:
    try:
        with ZipFile(path) as packed:
            parts = packed.infolist()
    except (BadZipFile, OSError, ValueError, NotImplementedError):
        raise FileRefused(message("problem_file.broken_workbook"), _SAVE) from None
    if not any(part.filename == "xl/workbook.xml" for part in parts):
        raise FileRefused(message("problem_file.no_workbook"), _SAVE)
    texts = sum(part.file_size for part in parts if "sharedStrings" in part.filename)
    unpacked = sum(part.file_size for part in parts)
    if unpacked > MOST_BYTES_UNPACKED or texts > MOST_BYTES_OF_TEXTS:
        raise FileRefused(message("problem_file.workbook_big"), message("problem_file.save_alone"))


def _rows(path: Path) -> Iterator[Row]:
    """Yields first (number of lines, ()), then each row with its number.

    The file is handed over opened: by its path openpyxl would refuse one whose name does not end
    as a workbook's does.
    """
    from openpyxl import load_workbook

    try:
        with warnings.catch_warnings(), path.open("rb") as file:
            warnings.simplefilter("ignore")
            book = load_workbook(file, read_only=True, data_only=True, keep_links=False)
            if not book.worksheets:
                raise FileRefused(message("problem_file.no_sheet"), _SAVE)
            sheet = book.worksheets[0]
            yield (sheet.max_row or 0), ()
            for number, cells in enumerate(sheet.iter_rows(), 1):
                yield number, [_text(cell) for cell in cells]
            book.close()
    except (FileRefused, GeneratorExit):
        raise
    except Exception as error:  # openpyxl raises whatever a broken part makes it stumble over
        wrong = message("problem_file.unreadable", fault=type(error).__name__)
        raise FileRefused(wrong, _SAVE) from error


def _text(cell: Any) -> str:
    value = cell.value
    if value is None:
        return ""
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, int | float):
        percent = "%" in (cell.number_format or "")
        return _number(value, percent)
    if isinstance(value, datetime | date | time | timedelta):
        return f"{DATE_MARK}{value}"
    return str(value)[:LONGEST_CELL]


def _number(value: float, percent: bool) -> str:
    """Returns a number as shown: 15 digits, and the share 0.725 as 72.5% in a cell of percents."""
    exact = Decimal(f"{value:.15g}") if isinstance(value, float) else Decimal(value)
    if percent:
        exact *= 100
    written = f"{exact:f}"
    if "." in written:
        written = written.rstrip("0").rstrip(".")
    return f"{written}%" if percent else written
