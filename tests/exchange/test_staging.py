"""Lines of stock beside each other: plain and odd ones, lots met twice, colours by barcode."""

import shutil
from collections.abc import Iterator, Sequence
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st
from sqlalchemy import Engine, select

from shopdesk.exchange.columns import columns_of
from shopdesk.exchange.lines import FileDefaults, Work
from shopdesk.exchange.problems import FileRefused
from shopdesk.exchange.reports import MOST_SHOWN, Tally
from shopdesk.exchange.staging import STOCK_FIELDS, Staging
from shopdesk.exchange.uploads import headings_of
from shopdesk.shelf.branch_lots import LotAtBranch
from shopdesk.shelf.stock import available, discrepancies
from shopdesk.shelf.writing import writing
from shopdesk.store.database import drafting, open_shelf, reading
from shopdesk.store.models import Branch
from shopdesk.wording.translate import english
from tests.exchange.import_files import (
    a_source,
    counts,
    csv_file,
    exported,
    looked_at,
    taken,
    work_on,
)
from tests.factories import a_lot
from tests.shelf.rows import put_yarn

STOCK = ("sku", "colour", "lot", "skeins")
BY_BARCODE = ("EAN", "lot", "quantity")
# Invented numbers; their check digits are right by the rule of the GS1 General Specifications.
EAN_13, UPC_12, EAN_8 = "2000000000015", "012345678905", "20000011"
MANY = 1300


def a_shelf(shelf: Engine) -> None:
    lots = (
        a_lot(10, "L1", gtin=EAN_13),
        a_lot(4, "L2", "02", name="Moss", family="green", gtin=UPC_12),
    )
    with writing(shelf) as session:
        put_yarn(session, "T-1", lots=lots)
        put_yarn(session, "T-2", gtin=EAN_8, lots=(a_lot(1, None),))


def put_north(shelf: Engine) -> None:
    with writing(shelf) as session:
        session.add(Branch(code="north", name="North"))


def test_odd_lines_among_many_plain_ones_are_told_by_their_lines(
    shelf: Engine, tmp_path: Path
) -> None:
    a_shelf(shelf)
    rows = [STOCK, *(("T-1", "01", f"A{n}", "3") for n in range(MANY))]
    rows[40] = ("T-1", "01", "two\nlines", "3")
    rows[700] = ("T-1", "01", " A5 ", "4")
    rows[701] = ("T-1", "09", "A701", "3")
    rows[1100] = ("'-T", "01", "A1100", "3")
    rows[MANY] = ("T-1", "01", "A1300", "3.5")
    report = looked_at(shelf, csv_file(tmp_path / "s.csv", rows), "stock")
    assert counts(report) == (MANY - 5, 0, 0, 5)
    found = [(r.line, r.column, r.value) for r in report.refusals]
    # The cell of two lines puts every later row one line further down.
    assert found == [
        (41, "lot", "two�lines"),
        (702, "lot", "A5"),
        (703, "colour", "09"),
        (1102, "sku", "-T"),
        (MANY + 2, "skeins", "3.5"),
    ]


def test_every_second_line_of_a_lot_is_counted(shelf: Engine, tmp_path: Path) -> None:
    a_shelf(shelf)
    lots = [("T-1", "01", f"A{n % MANY}", "3") for n in range(2 * MANY)]
    report = looked_at(shelf, csv_file(tmp_path / "s.csv", [STOCK, *lots]), "stock")
    assert counts(report) == (MANY, 0, 0, MANY)
    assert len(report.refusals) == MOST_SHOWN
    first = report.refusals[0]
    assert (first.line, english(first.wrong)) == (MANY + 2, "the same lot stands on line 2 already")


@pytest.fixture(scope="module")
def staging(empty_shelf_file: Path, tmp_path_factory: pytest.TempPathFactory) -> Iterator[Staging]:
    """A staging table of a shelf with one yarn."""
    copy = shutil.copy(empty_shelf_file, tmp_path_factory.mktemp("staging") / "s.sqlite3")
    engine = open_shelf(f"sqlite:///{copy}")
    a_shelf(engine)
    with drafting(engine) as session:
        columns = columns_of(STOCK, STOCK_FIELDS, {})
        yield Staging(Work(session, columns, Tally(), "EUR", FileDefaults(), None))
    engine.dispose()


CELLS = st.sampled_from(
    ["", "L1", " L1", "L 2", "'-1", "-1", "Ä½", "=1+1", "x" * 41, "\u2009", "a\tb"]
)


@given(lots=st.lists(CELLS, min_size=1, max_size=30), counted=st.sampled_from(["1", " 2 ", "x"]))
def test_reading_by_columns_and_by_lines_is_the_same(
    staging: Staging, lots: list[str], counted: str
) -> None:
    rows = [(line, ["T-1", "01", lot, counted]) for line, lot in enumerate(lots, 2)]
    by_columns = staging._plain(rows)
    by_lines = [staging._careful(*row) for row in rows]
    assert by_columns is None or by_columns == by_lines
    assert staging._staged(rows) == [one for one in by_lines if one is not None]


def test_a_till_that_knows_only_barcodes(shelf: Engine, tmp_path: Path) -> None:
    a_shelf(shelf)
    rows = [
        BY_BARCODE,
        (EAN_13, "L1", "7"),
        ("0" + UPC_12, "L2", "5"),
        (EAN_8, "", "2"),
        (f"{UPC_12[:6]} {UPC_12[6:]}", "L3", "1"),
    ]
    file = csv_file(tmp_path / "s.csv", rows)
    assert counts(taken(shelf, file, "stock")) == (1, 3, 0, 0)
    assert counts(taken(shelf, file, "stock")) == (0, 0, 4, 0)
    assert counts(taken(shelf, file, "deliveries", delivery="D-1")) == (4, 0, 0, 0)
    with reading(shelf) as session:
        assert available(session, LotAtBranch("T-1", "01", "L1")) == 14
        assert available(session, LotAtBranch("T-1", "02", "L2")) == 10
        assert available(session, LotAtBranch("T-1", "02", "L3")) == 2
        assert available(session, LotAtBranch("T-2", "01", "")) == 4
        assert list(discrepancies(session)) == []


def test_barcodes_that_do_not_say_a_colour_are_refused(shelf: Engine, tmp_path: Path) -> None:
    a_shelf(shelf)
    with writing(shelf) as session:
        two = (a_lot(1, "L1", gtin=EAN_13), a_lot(1, "L1", "02", name="Moss", family="green"))
        put_yarn(session, "T-3", gtin="20000028", lots=two)
    codes = (EAN_13, "20000028", "2000000000022", "2000000000014", "")
    rows = [BY_BARCODE, *((code, "L1", "1") for code in codes)]
    report = looked_at(shelf, csv_file(tmp_path / "s.csv", rows), "stock")
    assert [str(refusal) for refusal in report.refusals] == [
        f"line 2, column EAN: 2 colours have the barcode {EAN_13}; "
        "give sku and colour of the line instead",
        "line 3, column EAN: 2 colours have the barcode 20000028; "
        "give sku and colour of the line instead",
        "line 4, column EAN: no colour has the barcode 2000000000022; "
        "give the colour its barcode first, or check the number",
        "line 5, column EAN: the last digit of 2000000000014 does not check; "
        "by the others it would be 5; compare every digit with the band",
        "line 6, column EAN: nothing is written here; write the barcode of the colour",
    ]


def test_numbers_decide_where_a_file_has_both(shelf: Engine, tmp_path: Path) -> None:
    a_shelf(shelf)
    rows = [(*STOCK, "EAN"), ("T-1", "01", "L1", "3", "no barcode")]
    report = looked_at(shelf, csv_file(tmp_path / "s.csv", rows), "stock")
    assert counts(report) == (0, 1, 0, 0)
    assert report.columns[4] == ("EAN", None)
    assert headings_of(shelf, a_source(tmp_path / "s.csv", "stock")) == report.columns


def test_a_file_without_either_is_told_both_ways(shelf: Engine, tmp_path: Path) -> None:
    file = csv_file(tmp_path / "s.csv", [("sku", "skeins"), ("T-1", "2")])
    with pytest.raises(FileRefused, match="no column holds colour;") as told:
        looked_at(shelf, file, "stock")
    assert "or have gtin and skeins instead" in told.value.right


def test_a_colour_with_an_apostrophe_is_met(shelf: Engine, tmp_path: Path) -> None:
    """An apostrophe before a sign is a guard; the article number may hold one of its own."""
    with writing(shelf) as session:
        put_yarn(session, "'-1", lots=(a_lot(5, "L1"),))
        put_yarn(session, "-1", lots=(a_lot(6, "L1"),))
    (tmp_path / "s.csv").write_text(exported(shelf, "stock"), encoding="utf-8", newline="")
    assert counts(looked_at(shelf, tmp_path / "s.csv", "stock")) == (0, 0, 2, 0)


def staged(
    shelf: Engine,
    headings: Sequence[str],
    *lines: Sequence[str],
    wishes: FileDefaults | None = None,
    deliveries: bool = False,
) -> list[tuple[object, ...]] | None:
    """Returns lot, branch, delivery and skeins of lines that are read column by column."""
    with work_on(shelf, headings, wishes) as work:
        staging = Staging(work, deliveries=deliveries)
        found = staging._plain(list(enumerate(lines, 2)))
        codes = {row.id: row.code for row in work.session.execute(select(Branch.id, Branch.code))}
        staging.drop()
    if found is None:
        return None
    assert [line for line, *_ in found] == list(range(2, 2 + len(lines)))
    return [(lot, codes[branch], delivery, skeins) for _, _, lot, branch, delivery, skeins in found]


def test_plain_lines_are_read_column_by_column(shelf: Engine) -> None:
    """So that a file of many thousand lines is not read cell by cell."""
    a_shelf(shelf)
    longest = "x" * 40
    lots = ["L1", "M 2", "4/11", "", longest]
    lines = [("T-1", "01", lot, "7") for lot in lots]
    assert staged(shelf, STOCK, *lines) == [(lot, "main", "", 7) for lot in lots]
    assert staged(shelf, ("skeins", "sku", "colour"), ("7", "T-1", "01")) == [("", "main", "", 7)]
    assert staged(shelf, ("gtin", "skeins"), (EAN_13, "7")) == [("", "main", "", 7)]
    for odd in (" L1", "x" * 41, "'-1"):
        assert staged(shelf, STOCK, *lines, ("T-1", "01", odd, "7")) is None


def test_branch_and_delivery_of_plain_lines(shelf: Engine) -> None:
    a_shelf(shelf)
    put_north(shelf)
    headings = ("sku", "colour", "skeins", "branch", "delivery")
    first, second = ("T-1", "01", "7", "", "D-1"), ("T-1", "02", "8", "main", "D 2")
    north = FileDefaults("north", "D-9")
    assert staged(shelf, headings, first, second, wishes=north, deliveries=True) == [
        ("", "north", "D-1", 7),
        ("", "main", "D 2", 8),
    ]
    without = ("T-1", "01", "7", "", "")
    assert staged(shelf, headings, first, without, wishes=north, deliveries=True) is None
    few = headings[:3]
    line = ("T-1", "01", "7")
    assert staged(shelf, few, line, wishes=north, deliveries=True) == [("", "north", "D-9", 7)]
    assert staged(shelf, few, line, deliveries=True) is None
    assert staged(shelf, few, line) == [("", "main", "", 7)]


def test_lines_without_branch_or_delivery_take_the_files(shelf: Engine, tmp_path: Path) -> None:
    """Also where a line has to be read cell by cell, as the one with a blank before its lot."""
    a_shelf(shelf)
    put_north(shelf)
    rows = [
        (*STOCK, "branch", "delivery"),
        ("T-1", "01", " L1", "7", "", ""),
        ("T-1", "01", "L1 ", "8", "main", ""),
        ("T-1", "02", "", "9", "", "D-2"),
        ("T-1", "01", "L1", "5", "south", "D-2"),
    ]
    file = csv_file(tmp_path / "d.csv", rows)
    report = looked_at(shelf, file, "deliveries", branch="north", delivery="D-9")
    assert [(c.what, c.fields) for c in report.changes] == [
        ("T-1 colour 01 lot L1, delivery D-9", (("skeins", "", "+7"),)),
        ("T-1 colour 01 lot L1, delivery D-9", (("skeins", "", "+8"),)),
        ("T-1 colour 02, delivery D-2", (("skeins", "", "+9"),)),
    ]
    assert [str(refusal) for refusal in report.refusals] == [
        "line 5, column branch: there is no branch south; give one of main, north"
    ]
