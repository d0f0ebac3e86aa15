"""Writes tables to files for tests of the import, and looks at or takes them in one call."""

import csv
from collections.abc import Iterable, Iterator, Sequence
from contextlib import contextmanager
from io import BytesIO
from pathlib import Path
from typing import Any

from openpyxl import Workbook
from sqlalchemy import Engine

from shopdesk.exchange.columns import columns_of
from shopdesk.exchange.exporting import csv_lines
from shopdesk.exchange.importing import Source, dry_run, import_file
from shopdesk.exchange.lines import FileDefaults, Work
from shopdesk.exchange.reports import Report, Tally
from shopdesk.exchange.staging import DELIVERY, STOCK_FIELDS
from shopdesk.store.database import drafting, reading

SEED_FILES = {"yarns": "yarns", "colours": "colours", "stock": "lots"}


def csv_file(path: Path, rows: Iterable[Sequence[str]], **dialect: Any) -> Path:
    """Writes rows, headings first, as UTF-8 CSV."""
    with path.open("w", encoding="utf-8", newline="") as file:
        csv.writer(file, **dialect).writerows(rows)
    return path


def workbook(rows: Iterable[Sequence[str | int]]) -> bytes:
    """Returns a real workbook whose first sheet has these rows."""
    book, stream = Workbook(), BytesIO()
    for row in rows:
        book.worksheets[0].append(row)
    book.save(stream)
    return stream.getvalue()


def a_source(path: Path, kind: str, said: dict[str, str] | None = None, **wishes: str) -> Source:
    """Returns a file as something to import."""
    return Source(path, path.name, kind, said or {}, FileDefaults(**wishes))


def looked_at(engine: Engine, path: Path, kind: str, **more: Any) -> Report:
    """Returns what importing a file would do."""
    return dry_run(engine, a_source(path, kind, **more))


def taken(engine: Engine, path: Path, kind: str, **more: Any) -> Report:
    """Imports a file."""
    return import_file(engine, a_source(path, kind, **more))


def counts(report: Report) -> tuple[int, int, int, int]:
    """Returns how many are new, changed, unchanged and refused."""
    return report.new, report.changed, report.unchanged, report.refused


def exported(engine: Engine, kind: str) -> str:
    """Returns a table of the shelf as the text of its file."""
    with reading(engine) as session:
        return "".join(csv_lines(session, kind))


@contextmanager
def work_on(
    shelf: Engine, headings: Sequence[str], wishes: FileDefaults | None = None
) -> Iterator[Work]:
    """Gives what an import of stock under these headings works with."""
    with drafting(shelf) as session:
        columns = columns_of(headings, (*STOCK_FIELDS, DELIVERY), {})
        yield Work(session, columns, Tally(), "EUR", wishes or FileDefaults(), None)
