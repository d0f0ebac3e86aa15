"""Whatever Python's csv module writes is read back cell by cell."""

import csv
from io import StringIO
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shopdesk.exchange.columns import as_typed, harmless
from shopdesk.exchange.files import blank, read_table

# A cell of text: no NUL and no lone surrogate, which no text file holds; lines end as written.
CELLS = st.text(st.characters(blacklist_categories=("Cs",), blacklist_characters="\0"), max_size=12)
DIALECTS = [
    {"dialect": "excel"},
    {"dialect": "excel-tab"},
    {"dialect": "unix"},
    {"dialect": "excel", "delimiter": ";"},
    {"dialect": "unix", "delimiter": "|"},
]
ENCODINGS = ["utf-8", "utf-8-sig", "utf-16"]
HEADINGS = ["sku", "name", "colour name", "price"]


@st.composite
def tables(draw: st.DrawFn) -> list[list[str]]:
    width = draw(st.integers(2, len(HEADINGS)))
    row = st.lists(CELLS, min_size=width, max_size=width).filter(lambda cells: not blank(cells))
    return [HEADINGS[:width], *draw(st.lists(row, max_size=8))]


@given(tables(), st.sampled_from(DIALECTS), st.sampled_from(ENCODINGS))
def test_a_written_table_reads_back_the_same(
    tmp_path_factory: pytest.TempPathFactory,
    table: list[list[str]],
    dialect: dict[str, str],
    encoding: str,
) -> None:
    text = StringIO(newline="")
    csv.writer(text, **dialect).writerows(table)  # type: ignore[arg-type]
    path = tmp_path_factory.mktemp("csv") / "table.csv"
    path.write_bytes(text.getvalue().encode(encoding))
    read = read_table(path)
    assert list(read.headings) == table[0]
    assert [list(cells) for _, cells in read.rows if not blank(cells)] == table[1:]


@given(CELLS | st.sampled_from(["=1+1", "'=1", "''-", "+", "-5", "@a", "'tis", "＝1", "", "'"]))
def test_a_harmless_cell_comes_back_and_runs_nothing(text: str) -> None:
    assert as_typed(harmless(text)) == text
    assert not harmless(text).startswith(("=", "+", "-", "@", "\t", "\r"))


def test_only_what_could_run_is_changed() -> None:
    assert [harmless(text) for text in ("22", "'tis", "a=b", "=1", "-5")] == [
        "22", "'tis", "a=b", "'=1", "'-5",
    ]  # fmt: skip


def test_lines_are_numbered_as_in_the_file(tmp_path: Path) -> None:
    path = tmp_path / "t.csv"
    path.write_text('sku,notes\nA,"one\ntwo"\n\nB,x\n', newline="")
    assert [(line, cells[0]) for line, cells in read_table(path).rows if cells] == [
        (2, "A"), (5, "B"),
    ]  # fmt: skip
