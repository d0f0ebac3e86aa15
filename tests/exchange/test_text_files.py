"""Whatever Python's csv module writes is read back cell by cell."""

import csv
from io import StringIO
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shopdesk.exchange.columns import as_typed, harmless
from shopdesk.exchange.files import read_table
from shopdesk.exchange.problems import FileRefused
from shopdesk.exchange.rows import blank
from shopdesk.exchange.text_files import LONGEST_LINE, look_through

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


def a_file(folder: Path, text: str, encoding: str = "utf-8") -> Path:
    path = folder / "t.csv"
    path.write_bytes(text.encode(encoding))
    return path


def headings(path: Path) -> tuple[str, ...]:
    return read_table(path).headings


@pytest.mark.parametrize(
    ("text", "lines"),
    [("a\nb\n", 2), ("a\nb", 2), ("a\r\nb\r\n", 2), ("a\rb\rc\r", 3), ("a\rb", 2), ("a", 1)],
)
def test_lines_are_counted_however_they_end(tmp_path: Path, text: str, lines: int) -> None:
    assert look_through(a_file(tmp_path, text)).lines == lines


def test_a_line_has_65536_letters_at_most(tmp_path: Path) -> None:
    """Also where it goes on in the next piece that is read, and where a piece begins with its end.

    The first case fills the first piece to its last letter; in the second the line of that length
    begins with the third letter and ends two letters into the next piece.
    """
    longest = "x" * 65536
    for text in (f"{longest}\nshort", f"a\n{longest}", f"a\n{longest}\n{longest}\nb"):
        assert look_through(a_file(tmp_path, text)).encoding == "utf-8"
    for before, line in (("", 1), ("a\n", 2), (f"a\n{longest}\n", 3), ("a\rb\r", 3)):
        with pytest.raises(FileRefused, match=f"line {line} is longer than 65,536 characters"):
            look_through(a_file(tmp_path, f"{before}x{longest}"))


@pytest.mark.parametrize("before", [0, 1, 2, LONGEST_LINE, LONGEST_LINE + 1])
def test_a_nul_is_told_with_its_line(tmp_path: Path, before: int) -> None:
    """Counted from the start of the file, also where it is in a later piece of it."""
    text = "a\n" * before + "a\0b\n\n"
    with pytest.raises(FileRefused, match=f"line {before + 1} holds a NUL"):
        look_through(a_file(tmp_path, text))


@pytest.mark.parametrize("encoding", ["utf-16-le", "utf-16-be"])
def test_utf_16_without_a_mark_is_told_by_its_latin_letters(tmp_path: Path, encoding: str) -> None:
    """Three letters of five that have an empty byte are enough, two of five are too few."""
    assert look_through(a_file(tmp_path, "a,bΩΨ\n" * 20, encoding)).encoding == encoding
    with pytest.raises(FileRefused):
        look_through(a_file(tmp_path, "a,ΩΨΣ" * 20, encoding))


def test_a_mark_decides_the_encoding(tmp_path: Path) -> None:
    for encoding in ("utf-16", "utf-32"):
        assert look_through(a_file(tmp_path, "sku\n", encoding)).encoding == encoding
    for order in ("utf-16-be", "utf-32-be"):
        told = look_through(a_file(tmp_path, "\ufeffsku\n", order)).encoding
        assert told == order.removesuffix("-be")


@pytest.mark.parametrize(
    "text",
    [
        "a;b,c\n1;2\n",  # both part the headings, only one parts every line alike
        "a,b;c;d\n1,2;3;4\n",  # both are alike on every line, one makes more cells
        '"a";"b"\n"1"\n',  # a mark of quotation is not followed by any other
        "a;b\n1\n",  # a line that is too short
        "a;b,c\n" + "1;2\n" * 19 + "1;2;3\n",  # of many lines the first 20 decide
    ],
)
def test_what_parts_the_headings_best_parts_the_cells(tmp_path: Path, text: str) -> None:
    assert headings(a_file(tmp_path, text)) == tuple(
        text.partition("\n")[0].replace('"', "").split(";")
    )


def test_a_line_that_the_sample_cuts_does_not_count(tmp_path: Path) -> None:
    """Of a first line and four of 20,000 letters the sample of 65,536 cuts the last.

    It has no semicolon; the comma is missing in the last line that is whole.
    """
    lines = [f"x,y{'-' * 19_990};z"] * 2 + [f"x y{'-' * 19_990};z", f"x,y{'-' * 19_992}"]
    assert headings(a_file(tmp_path, "\n".join(["p,q;r", *lines, ""]))) == ("p,q", "r")


def test_headings_that_are_broken_are_on_line_1(tmp_path: Path) -> None:
    with pytest.raises(FileRefused, match=r"line 1 cannot be taken apart.*inside a cell twice"):
        headings(a_file(tmp_path, 'sku,"na"me\n1,2\n'))


def test_a_mark_that_stays_open_over_many_lines_is_told(tmp_path: Path) -> None:
    """A cell of more than 131,072 letters is beyond what Python's csv module takes."""
    for lines in (10, 3000):
        table = read_table(a_file(tmp_path, 'sku,name\nA,"b\n' + f"{'x' * 60}\n" * lines))
        with pytest.raises(FileRefused, match=r"line 2 .*a quotation mark that is not closed"):
            list(table.rows)


def test_a_table_has_200_columns_at_most(tmp_path: Path) -> None:
    assert len(headings(a_file(tmp_path, ",".join(map(str, range(200)))))) == 200
    with pytest.raises(FileRefused, match="the file has 201 columns; at most 200 are read"):
        headings(a_file(tmp_path, ",".join(map(str, range(201)))))


@pytest.mark.parametrize(
    ("cells", "empty"),
    [([], True), (["", " ", "\t"], True), (["a"], False), (["", "a"], False), (["a", ""], False)],
)
def test_a_row_without_any_cell_written_is_blank(cells: list[str], empty: bool) -> None:
    assert blank(cells) is empty


def test_lines_are_numbered_as_in_the_file(tmp_path: Path) -> None:
    path = tmp_path / "t.csv"
    path.write_text('sku,notes\nA,"one\ntwo"\n\nB,x\n', newline="")
    assert [(line, cells[0]) for line, cells in read_table(path).rows if cells] == [
        (2, "A"), (5, "B"),
    ]  # fmt: skip
