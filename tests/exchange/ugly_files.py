"""Ugly files made by code: what a till, a spreadsheet or a bad day may hand to the import.

Each has the words that the import must answer with: a refusal of the file, a refusal of a line,
or '' where the file is fine after all.
"""

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from datetime import date
from io import BytesIO
from pathlib import Path
from zipfile import ZIP_DEFLATED, ZipFile

from openpyxl import Workbook
from openpyxl.cell import Cell

Y = "sku,name,price,put_up_g,put_up_m,fibres,knit_stitches\n"
LINE = "U-1,Plain,6.50,50,125,wool 100,22\n"


@dataclass(frozen=True, slots=True)
class Ugly:
    """One file by its name, what is in it, and what the import must say."""

    name: str
    content: Callable[[], bytes]
    said: str
    kind: str = "yarns"


def _text(text: str, encoding: str = "utf-8") -> Callable[[], bytes]:
    return lambda: text.encode(encoding)


def _line(cells: str) -> Callable[[], bytes]:
    return _text(Y + cells + "\n")


def _workbook(fill: Callable[[Workbook], None]) -> Callable[[], bytes]:
    def made() -> bytes:
        book = Workbook()
        fill(book)
        file = BytesIO()
        book.save(file)
        return file.getvalue()

    return made


def _rows(*rows: tuple[object, ...]) -> Callable[[], bytes]:
    def fill(book: Workbook) -> None:
        assert book.active is not None
        for row in rows:
            book.active.append(row)  # type: ignore[union-attr]

    return _workbook(fill)


HEAD = ("sku", "name", "price", "put_up_g", "put_up_m", "fibres", "knit_stitches")


def _merged(book: Workbook) -> None:
    sheet = book.worksheets[0]
    sheet.append(HEAD)
    sheet.append(("U-1", "Plain", 6.5, 50, 125, "wool 100", 22))
    sheet.append(("U-2", "Plain", 6.5, 50, 125, "wool 100", 22))
    sheet.merge_cells("A2:A3")


def _percents(book: Workbook) -> None:
    sheet = book.worksheets[0]
    sheet.append(("sku", "colour", "skeins"))
    sheet.append(("U-1", "01", 0.5))
    cell = sheet["C2"]
    assert isinstance(cell, Cell)
    cell.number_format = "0%"


def _bomb() -> bytes:
    file = BytesIO()
    with ZipFile(file, "w", ZIP_DEFLATED) as packed:
        packed.writestr("xl/workbook.xml", "<workbook/>")
        packed.writestr("xl/sharedStrings.xml", b" " * 70_000_000)
    return file.getvalue()


def _zip_of_text() -> bytes:
    file = BytesIO()
    with ZipFile(file, "w") as packed:
        packed.writestr("yarns.csv", Y + LINE)
    return file.getvalue()


def _halved_workbook() -> bytes:
    whole = _rows(HEAD)()
    return whole[: len(whole) // 2]


def _broken_sheet() -> bytes:
    whole, file = BytesIO(_rows(HEAD, ("U-1", "Plain", 6.5))()), BytesIO()
    with ZipFile(whole) as before, ZipFile(file, "w") as after:
        for part in before.namelist():
            content = before.read(part)
            after.writestr(part, content[:-60] if "sheet1.xml" in part else content)
    return file.getvalue()


UGLY = (
    Ugly("nothing.csv", lambda: b"", "the file is empty"),
    Ugly("blanks.csv", _text(" \r\n\r\n  "), "the file is empty"),
    Ugly("only a mark.csv", lambda: b"\xef\xbb\xbf", "holds no headings"),
    Ugly("headings only.csv", _text(Y), ""),
    Ugly("utf-8 with a mark.csv", _text(Y + LINE, "utf-8-sig"), ""),
    Ugly("utf-16 with a mark.csv", _text(Y + LINE, "utf-16"), ""),
    Ugly("utf-16 big end first.csv", _text("\ufeff" + Y + LINE, "utf-16-be"), ""),
    Ugly("utf-16 without a mark.csv", _text(Y + LINE, "utf-16-le"), ""),
    Ugly("half a letter of utf-16.csv", lambda: (Y + LINE).encode("utf-16")[:-1], "not UTF-16"),
    Ugly("windows.csv", _text(Y + LINE.replace("Plain", "Façon €"), "cp1252"), ""),
    Ugly("no encoding.csv", lambda: (Y + LINE).encode() + b"\x81\x8d\n", "neither UTF-8 nor Win"),
    Ugly("nul.csv", _text(Y + LINE.replace("Plain", "Pl\0ain")), "line 2 holds a NUL"),
    Ugly("decimal commas.csv", _text((Y + LINE).replace(",", ";").replace(".50", ",5")), ""),
    Ugly("tabs.txt", _text((Y + LINE).replace(",", "\t")), ""),
    Ugly("old mac lines.csv", _text((Y + LINE).replace("\n", "\r")), ""),
    Ugly("blank lines.csv", _text("\n\n" + Y + "\n" + LINE + ",,,,,,\n\n"), ""),
    Ugly("quoted newline.csv", _text('sku,name,price,notes\nU-1,Plain,6.50,"one\ntwo"\n'), ""),
    Ugly("newline in a name.csv", _text('sku,name,price\nU-1,"Pl\nain",6.50\n'), "no text"),
    Ugly("open quote.csv", _text(Y + 'U-1,"Plain,6.50\n' + LINE * 30), "mark that is not closed"),
    Ugly("stray quote.csv", _text(Y + 'U-1,"Plain"x,6.50\n'), "quotation mark inside a cell twice"),
    Ugly("too many cells.csv", _line("U-1,Plain,6.50,50,125,wool 100,22,huh"), "8 cells under 7"),
    Ugly("too few cells.csv", _line("U-1,Plain,6.50"), ""),
    Ugly("same heading twice.csv", _text("sku,name,Name\nU-1,a,b\n"), "both taken for name"),
    Ugly("strange headings.csv", _text("a,b\n1,2\n"), "no column holds sku"),
    Ugly("a thousand columns.csv", _text("sku," + ",".join(map(str, range(1000)))), "1001 columns"),
    Ugly("line of 50 MB.csv", lambda: Y.encode() + b"x" * 50_000_000, "is longer than 65,536"),
    Ugly("a percent for a price.csv", _line("U-1,Plain,10%,50,125,wool 100,22"), "not a number"),
    Ugly("joined percent.csv", _line("U-1,Plain,6.50,50,125,100% Wool,22"), ""),
    Ugly("percents of two.csv", _line('U-1,Plain,6.50,50,125,"75 % Wool, 25% Nylon",22'), ""),
    Ugly("sum of 99.csv", _line('U-1,Plain,6.50,50,125,"wool 75, nylon 24",22'), "add up to 99"),
    Ugly("no fibre.csv", _line("U-1,Plain,6.50,50,125,100% Moon,22"), "'Moon' is not a fibre"),
    Ugly("thousands.csv", _line('U-1,Plain,6.50,50,"1,250",wool 100,22'), "read in two ways"),
    Ugly("not a number.csv", _line("U-1,Plain,NaN,50,125,wool 100,22"), "not a number"),
    Ugly("exponent.csv", _line("U-1,Plain,6.50,5e1,125,wool 100,22"), "'5e1'"),
    Ugly("negative.csv", _line("U-1,Plain,-6.50,50,125,wool 100,22"), "no price"),
    Ugly("zero grams.csv", _line("U-1,Plain,6.50,0,125,wool 100,22"), "cannot be"),
    Ugly("other unit.csv", _line("U-1,Plain,6.50,50,125 hl,wool 100,22"), "'hl' is not a unit"),
    Ugly("a date by hand.csv", _line("U-1,Plain,6.50,50,125,wool 100,22.05.2026"), "22.05.2026"),
    Ugly("lone surrogate.csv", lambda: Y.encode("utf-16-le") + b"\x00\xd8\n\x00", "not UTF-16"),
    Ugly("formula.csv", _line("U-1,=1+1,6.50,50,125,wool 100,22"), ""),
    Ugly("cut barcode.csv", _text("sku,name,price,ean\nU-1,a,1,4.00638E+12\n"), "digits off"),
    Ugly("barcode.csv", _text("sku,name,price,ean\nU-1,a,1,6291041500214\n"), "not check"),
    Ugly("yarn twice.csv", _text(Y + LINE + LINE), "stands on line 2 already"),
    Ugly("merged cells.xlsx", _workbook(_merged), "nothing is written here"),
    Ugly("a date.xlsx", _rows(HEAD, ("U-1", "P", 6.5, date(2026, 5, 4), 1)), "the date 2026-05-04"),
    Ugly("percent format.xlsx", _workbook(_percents), "'50%' is not a number", "stock"),
    Ugly("numbers.xlsx", _rows(HEAD, ("U-1", "Plain", 6.3000000000000007, 50, 125.0)), ""),
    Ugly("true.xlsx", _rows(HEAD, ("U-1", "Plain", True)), "'yes' is not a number"),
    Ugly("no cells.xlsx", _rows(), "the first sheet is empty"),
    Ugly("unpacks too big.xlsx", _bomb, "too big when it is unpacked"),
    Ugly("zip of a csv.xlsx", _zip_of_text, "no .xlsx workbook"),
    Ugly("half of a workbook.xlsx", _halved_workbook, "broken workbook"),
    Ugly("broken sheet.xlsx", _broken_sheet, "workbook cannot be read"),
    Ugly("old sheet.xls", lambda: b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1" + bytes(600), "(.xls)"),
    Ugly("a pdf.csv", lambda: b"%PDF-1.7\n%\xe2\xe3", "is a PDF"),
)  # fmt: skip


def written(folder: Path) -> Iterator[tuple[Path, Ugly]]:
    """Writes every ugly file into a folder and yields it."""
    for ugly in UGLY:
        path = folder / ugly.name
        path.write_bytes(ugly.content())
        yield path, ugly
