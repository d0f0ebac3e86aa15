"""Workbooks: their cells as a person would have typed them, and how big they may be."""

import re
from io import BytesIO
from pathlib import Path
from zipfile import ZipFile

import pytest
from openpyxl import Workbook

from shopdesk.exchange.files import read_table
from shopdesk.exchange.problems import FileRefused
from shopdesk.exchange.rows import Table

SHEET, TEXTS = "xl/worksheets/sheet1.xml", "xl/sharedStrings.xml"


def a_table(folder: Path, book: Workbook) -> Table:
    path = folder / "t.xlsx"
    book.save(path)
    return read_table(path)


def a_book(*rows: tuple[object, ...]) -> Workbook:
    book = Workbook()
    for row in rows:
        book.worksheets[0].append(row)
    return book


def with_part(book: Workbook, part: str, pattern: str, text: str) -> bytes:
    """Returns a saved workbook with what matches in one of its parts replaced."""
    saved, changed = BytesIO(), BytesIO()
    book.save(saved)
    with ZipFile(saved) as before, ZipFile(changed, "w") as after:
        for name in before.namelist():
            content = before.read(name).decode()
            after.writestr(name, re.sub(pattern, text, content) if name == part else content)
    return changed.getvalue()


def test_cells_are_read_as_typed(tmp_path: Path) -> None:
    """A share is shown as its percents, a sum of floats with the 15 digits a spreadsheet keeps."""
    book = a_book(("sku", "n"), ("U-1", 50), ("U-2", 125.0), ("U-3", 0.1 + 0.2), ("U-4", 0.725))
    book.worksheets[0]["B5"].number_format = "0.0%"
    for value in (True, False, 1234567, -2.5, None):
        book.worksheets[0].append(("U-5", value))
    assert [cells[1] for _, cells in a_table(tmp_path, book).rows] == [
        "50", "125", "0.3", "72.5%", "yes", "no", "1234567", "-2.5", "",
    ]  # fmt: skip


def test_rows_are_numbered_as_in_the_sheet(tmp_path: Path) -> None:
    table = a_table(tmp_path, a_book((), ("sku", "name", " ", None), ("A", "x"), (), ("B", "y")))
    assert (table.headings, table.lines) == (("sku", "name"), 5)
    rows = [(number, cells[0]) for number, cells in table.rows if cells and cells[0]]
    assert rows == [(3, "A"), (5, "B")]


def test_only_the_first_sheet_is_read(tmp_path: Path) -> None:
    book = a_book(("sku",), ("A",))
    book.create_sheet().append(("other",))
    assert a_table(tmp_path, book).headings == ("sku",)


def test_a_sheet_that_does_not_say_its_size_has_no_lines_to_show(tmp_path: Path) -> None:
    path = tmp_path / "t.xlsx"
    path.write_bytes(with_part(a_book(("sku",), ("A",)), SHEET, "<dimension[^>]*/>", ""))
    table = read_table(path)
    assert (table.headings, table.lines) == (("sku",), 0)


def test_a_cell_holds_32767_letters_at_most(tmp_path: Path) -> None:
    """So it is in the published limits of the spreadsheet program; what is beyond is cut."""
    path = tmp_path / "t.xlsx"
    path.write_bytes(with_part(a_book(("sku",), ("LONG",)), SHEET, "LONG", "x" * 32_768))
    ((_, cells),) = read_table(path).rows
    assert [len(cell) for cell in cells] == [32_767]


@pytest.mark.parametrize(
    ("part", "size", "told"),
    [
        (SHEET, 400_000_000, "cannot be read"),
        (SHEET, 400_000_001, "too big when it is unpacked"),
        (TEXTS, 60_000_000, "cannot be read"),
        (TEXTS, 60_000_001, "too big when it is unpacked"),
    ],
)
def test_a_workbook_unpacks_to_400_mb_of_which_60_are_texts(
    tmp_path: Path, part: str, size: int, told: str
) -> None:
    """The sizes are those that the file says of itself; nothing of it is there."""
    path = tmp_path / "t.xlsx"
    with ZipFile(path, "w") as packed:
        packed.writestr("xl/workbook.xml", "")
        packed.writestr(part, "")
        packed.filelist[1].file_size = size
    with pytest.raises(FileRefused, match=told):
        read_table(path)
