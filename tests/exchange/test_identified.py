"""Colours by article number and code, or by barcode: as written, and in words where it is none."""

from pathlib import Path

import pytest
from sqlalchemy import Engine, select
from sqlalchemy.orm import Session

from shopdesk.exchange.identified import ByBarcode, ByNumber, identifying
from shopdesk.shelf.writing import writing
from shopdesk.store.models import Colourway, Yarn
from tests.exchange.import_files import csv_file, looked_at, work_on
from tests.factories import a_lot
from tests.shelf.rows import put_yarn

# Invented numbers; their check digits are right by the rule of the GS1 General Specifications.
EAN_13, UPC_12, EAN_8 = "2000000000015", "012345678905", "20000011"
STOCK = ("sku", "colour", "lot", "skeins")


@pytest.fixture
def stocked(shelf: Engine) -> Engine:
    lots = (a_lot(10, "L1", gtin=EAN_13), a_lot(4, "L2", "02", gtin=UPC_12))
    with writing(shelf) as session:
        put_yarn(session, "T-1", lots=lots)
        put_yarn(session, "T-2", gtin=EAN_8, lots=(a_lot(1, None),))
    return shelf


def key_of(session: Session, sku: str, code: str) -> int:
    wanted = select(Colourway.id).join(Yarn, Yarn.id == Colourway.yarn_id)
    return session.scalars(wanted.where(Yarn.sku == sku, Colourway.code == code)).one()


@pytest.mark.parametrize(
    "headings", [("sku", "colour", "skeins"), ("skeins", "colour", "sku"), ("colour", "sku")]
)
def test_columns_of_numbers_are_met_wherever_they_stand(
    stocked: Engine, headings: tuple[str, ...]
) -> None:
    lines = [{"sku": "T-1", "colour": "02"}, {"sku": "T-2", "colour": "01"}]
    columns = [[line.get(heading, "7") for line in lines] for heading in headings]
    with work_on(stocked, headings) as work:
        found = identifying(work)
        assert isinstance(found, ByNumber)
        wanted = [key_of(work.session, "T-1", "02"), key_of(work.session, "T-2", "01")]
        assert found.of_columns(columns) == wanted


@pytest.mark.parametrize("headings", [("gtin", "skeins"), ("skeins", "gtin")])
@pytest.mark.parametrize(
    ("written", "sku", "code"),
    [
        (EAN_13, "T-1", "01"),
        (f"0{EAN_13}", "T-1", "01"),
        (UPC_12, "T-1", "02"),
        (f"0{UPC_12}", "T-1", "02"),
        (f"00{UPC_12}", "T-1", "02"),
        (EAN_8, "T-2", "01"),
        (f"0000{EAN_8}", "T-2", "01"),
        (f"00000{EAN_8}", "T-2", "01"),
        (f"000000{EAN_8}", "T-2", "01"),
    ],
)
def test_a_barcode_is_met_in_each_of_its_forms(
    stocked: Engine, headings: tuple[str, ...], written: str, sku: str, code: str
) -> None:
    """A GTIN of 8, 12 or 13 digits is one of 14 with zeros before it (GS1)."""
    columns = [[written] if heading == "gtin" else ["7"] for heading in headings]
    with work_on(stocked, headings) as work:
        found = identifying(work)
        assert isinstance(found, ByBarcode)
        assert found.of_columns(columns) == [key_of(work.session, sku, code)]
        with pytest.raises(KeyError):
            found.of_columns([[f"9{written[1:]}"]] * 2)


def test_a_barcode_of_several_colours_is_none_as_written(stocked: Engine) -> None:
    with writing(stocked) as session:
        put_yarn(session, "T-3", lots=(a_lot(1, "L1", gtin=EAN_13),))
    with work_on(stocked, ("gtin", "skeins")) as work, pytest.raises(KeyError):
        identifying(work).of_columns([[EAN_13], ["7"]])


def test_a_colours_own_barcode_goes_before_its_yarns(stocked: Engine) -> None:
    with writing(stocked) as session:
        put_yarn(session, "T-3", gtin=EAN_13, lots=(a_lot(1, "L1"),))
    with work_on(stocked, ("gtin", "skeins")) as work:
        found = identifying(work).of_line(2, {"gtin": EAN_13})
        assert found == key_of(work.session, "T-1", "01")


@pytest.mark.parametrize(
    ("guarded", "plain", "line"),
    [
        (("'-1", "01"), ("-1", "01"), ("'-1", "01")),
        (("T-3", "'-1"), ("T-3", "-1"), ("T-3", "'-1")),
    ],
)
def test_a_guard_in_a_file_is_none_of_a_name(
    shelf: Engine,
    tmp_path: Path,
    guarded: tuple[str, str],
    plain: tuple[str, str],
    line: tuple[str, str],
) -> None:
    """The apostrophe keeps '-1' from being run in a spreadsheet, also where names have one."""
    colours: dict[str, list[str]] = {}
    for sku, code in (guarded, plain):
        colours.setdefault(sku, []).append(code)
    with writing(shelf) as session:
        for sku, codes in colours.items():
            put_yarn(session, sku, lots=tuple(a_lot(1, "L1", code) for code in codes))
    report = looked_at(shelf, csv_file(tmp_path / "s.csv", [STOCK, (*line, "L1", "9")]), "stock")
    assert [c.what for c in report.changes] == [f"{plain[0]} colour {plain[1]} lot L1 in main"]


def test_twelve_colours_are_named_where_one_is_unknown(shelf: Engine, tmp_path: Path) -> None:
    with writing(shelf) as session:
        put_yarn(session, "T-1", lots=tuple(a_lot(1, "L1", f"{n:02d}") for n in range(14, 0, -1)))
    report = looked_at(
        shelf, csv_file(tmp_path / "s.csv", [STOCK, ("T-1", "99", "", "1")]), "stock"
    )
    names = "01, 02, 03, 04, 05, 06, 07, 08, 09, 10, 11, 12"
    assert str(report.refusals[0]) == (
        f"line 2, column colour: T-1 has no colour 99; give one of {names}"
    )
