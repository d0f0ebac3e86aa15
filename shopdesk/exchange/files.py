"""A file as a table: its headings and its rows, whichever kind of file it was."""

from pathlib import Path

from shopdesk.craft.messages import message
from shopdesk.exchange.problems import FileRefused
from shopdesk.exchange.rows import Table
from shopdesk.exchange.text_files import delimited_table
from shopdesk.exchange.workbooks import workbook_table

MOST_COLUMNS = 200
_FOREIGN = (
    (b"\xd0\xcf\x11\xe0", message("problem_file.is_old_sheet")),
    (b"%PDF", message("problem_file.is_pdf")),
    (b"\x89PNG", message("problem_file.is_picture")),
    (b"\xff\xd8\xff", message("problem_file.is_picture")),
    (b"\x1f\x8b", message("problem_file.is_compressed")),
)
_LONGEST_MARK = max(len(mark) for mark, _ in _FOREIGN)


def read_table(path: Path) -> Table:
    """Returns the table in a CSV or .xlsx file, told apart by their content. Raises FileRefused.

    A cell that no heading names, and a row of blank cells, are left to the caller.
    """
    with path.open("rb") as file:
        start = file.read(_LONGEST_MARK)
    for mark, what in _FOREIGN:
        if start.startswith(mark):
            raise FileRefused(what, message("problem_file.save_table"))
    table = workbook_table(path) if start.startswith(b"PK") else delimited_table(path)
    if len(table.headings) > MOST_COLUMNS:
        raise FileRefused(
            message("problem_file.many_columns", count=len(table.headings)),
            message("problem_file.most_columns", count=MOST_COLUMNS),
        )
    return table
