"""Imports from end to end: dry run, apply, apply again, export, undo."""

import csv
from pathlib import Path

import pytest
from sqlalchemy import Engine, func, select

from shopdesk.bundled import bundled
from shopdesk.exchange.columns import remember, remembered
from shopdesk.exchange.importing import LinesRefused, Source, dry_run, import_file
from shopdesk.exchange.problems import FileRefused
from shopdesk.exchange.undoing import UndoRefused, undo
from shopdesk.exchange.yarn_fields import EMPTY
from shopdesk.shelf.branch_lots import LotAtBranch
from shopdesk.shelf.loading import shelf_yarn, shelf_yarns
from shopdesk.shelf.stock import available, discrepancies, sell
from shopdesk.shelf.writing import writing
from shopdesk.store.database import reading
from shopdesk.store.models import Branch, ImportRun, StockMovement, Yarn
from tests.exchange.import_files import (
    SEED_FILES,
    a_source,
    counts,
    csv_file,
    exported,
    looked_at,
    taken,
)
from tests.factories import a_label, a_lot
from tests.shelf.rows import put_yarn

STOCK = ("sku", "colour", "lot", "skeins")


def seed_file(kind: str) -> Path:
    return bundled("seed_catalog") / f"{SEED_FILES[kind]}.csv"


def a_shelf_with_one_yarn(shelf: Engine) -> None:
    with writing(shelf) as session:
        put_yarn(session, "T-1", lots=(a_lot(10, "L1"), a_lot(4, "L2")))


def test_the_demo_files_make_the_demo_shelf(shelf: Engine, demo_shelf: Engine) -> None:
    for kind in SEED_FILES:
        report = taken(shelf, seed_file(kind), kind)
        assert (report.changed, report.unchanged, report.refused) == (0, 0, 0)
        assert exported(shelf, kind) == exported(demo_shelf, kind)
    with reading(shelf) as session, reading(demo_shelf) as demo:
        for mine, theirs in zip(shelf_yarns(session), shelf_yarns(demo), strict=True):
            assert (mine.label, mine.lots, mine.price) == (theirs.label, theirs.lots, theirs.price)


def test_the_same_file_twice_changes_nothing(shelf: Engine) -> None:
    for kind in SEED_FILES:
        first = taken(shelf, seed_file(kind), kind)
        before = exported(shelf, kind)
        again = taken(shelf, seed_file(kind), kind)
        assert counts(again) == (0, 0, first.new, 0)
        assert exported(shelf, kind) == before
    with reading(shelf) as session:
        moved = session.scalar(select(func.sum(StockMovement.change)))
    with seed_file("stock").open(encoding="utf-8", newline="") as file:
        assert moved == sum(int(line["skeins"]) for line in csv.DictReader(file))


@pytest.mark.parametrize("kind", list(SEED_FILES))
def test_an_export_comes_back_unchanged(demo_shelf: Engine, tmp_path: Path, kind: str) -> None:
    file = tmp_path / "export.csv"
    file.write_text(exported(demo_shelf, kind), encoding="utf-8", newline="")
    report = looked_at(demo_shelf, file, kind)
    assert report.unchanged > 90
    assert counts(report) == (0, 0, report.unchanged, 0)


def test_every_stored_fact_of_a_yarn_is_imported_and_exported() -> None:
    """Import and export know each column but keys, and what is derived or counted by itself."""
    own = {"id", "gtin_key", "version_id", "sku"}
    stored = {column.name for column in Yarn.__table__.columns} - own
    assert stored | {"fibres", "attributes"} == set(EMPTY)


def test_a_dry_run_changes_nothing_and_says_what_would(shelf: Engine, tmp_path: Path) -> None:
    a_shelf_with_one_yarn(shelf)
    file = csv_file(tmp_path / "s.csv", [STOCK, ("T-1", "01", "L1", "7"), ("T-1", "01", "L3", "2")])
    before = exported(shelf, "stock")
    report = looked_at(shelf, file, "stock")
    assert counts(report) == (1, 1, 0, 0)
    assert [(c.line, c.new, c.fields) for c in report.changes] == [
        (2, False, (("skeins", "10", "7"),)),
        (3, True, (("skeins", "", "2"),)),
    ]
    assert exported(shelf, "stock") == before
    with reading(shelf) as session:
        assert session.scalar(select(func.count()).select_from(ImportRun)) == 0


def test_a_count_sets_stock_and_leaves_a_trail(shelf: Engine, tmp_path: Path) -> None:
    a_shelf_with_one_yarn(shelf)
    taken(shelf, csv_file(tmp_path / "s.csv", [STOCK, ("T-1", "01", "L1", "7")]), "stock")
    with reading(shelf) as session:
        assert available(session, LotAtBranch("T-1", "01", "L1")) == 7
        assert available(session, LotAtBranch("T-1", "01", "L2")) == 4
        assert list(discrepancies(session)) == []
        last = session.scalars(select(StockMovement).order_by(StockMovement.id.desc())).first()
        assert last is not None
        assert (last.change, last.reason, last.note) == (-3, "imported", "import 1")


def test_refused_lines_stop_the_whole_import(shelf: Engine, tmp_path: Path) -> None:
    a_shelf_with_one_yarn(shelf)
    rows = [STOCK, ("T-1", "01", "L1", "7"), ("T-1", "01", "L2", "many"), ("T-9", "01", "", "1")]
    file = csv_file(tmp_path / "s.csv", rows)
    before = exported(shelf, "stock")
    with pytest.raises(LinesRefused) as refused:
        taken(shelf, file, "stock")
    assert exported(shelf, "stock") == before
    found = [(r.line, r.column, r.value) for r in refused.value.report.refusals]
    assert found == [(3, "skeins", "many"), (4, "sku", "T-9")]
    report = import_file(shelf, a_source(file, "stock"), without_refused=True)
    assert counts(report) == (0, 1, 0, 2)


def test_a_lot_twice_in_a_file_is_refused(shelf: Engine, tmp_path: Path) -> None:
    a_shelf_with_one_yarn(shelf)
    rows = [STOCK, ("T-1", "01", "L1", "7"), ("T-1", "01", " L1 ", "8")]
    report = looked_at(shelf, csv_file(tmp_path / "s.csv", rows), "stock")
    assert [str(r) for r in report.refusals] == [
        "line 3, column lot: the same lot stands on line 2 already; make one line of the two"
    ]


def test_a_delivery_is_added_once(shelf: Engine, tmp_path: Path) -> None:
    a_shelf_with_one_yarn(shelf)
    file = csv_file(tmp_path / "d.csv", [STOCK, ("T-1", "01", "L1", "5")])
    unnamed = looked_at(shelf, file, "deliveries")
    assert "has no number" in str(unnamed.refusals[0])
    assert counts(taken(shelf, file, "deliveries", delivery="D-77")) == (1, 0, 0, 0)
    assert counts(taken(shelf, file, "deliveries", delivery="D-77")) == (0, 0, 1, 0)
    assert counts(taken(shelf, file, "deliveries", delivery="D-78")) == (1, 0, 0, 0)
    more = csv_file(tmp_path / "d.csv", [STOCK, ("T-1", "01", "L1", "6")])
    refused = looked_at(shelf, more, "deliveries", delivery="D-77")
    assert "brought 5 of it before" in str(refused.refusals[0])
    with reading(shelf) as session:
        assert available(session, LotAtBranch("T-1", "01", "L1")) == 20
        assert list(discrepancies(session)) == []


@pytest.mark.parametrize("kind", ["stock", "deliveries"])
def test_stock_is_undone_by_opposite_movements(shelf: Engine, tmp_path: Path, kind: str) -> None:
    a_shelf_with_one_yarn(shelf)
    before = exported(shelf, "stock")
    file = csv_file(
        tmp_path / "s.csv", [STOCK, ("T-1", "01", "L1", "70"), ("T-1", "01", "L2", "0")]
    )
    if kind == "deliveries":
        file = csv_file(tmp_path / "s.csv", [STOCK, ("T-1", "01", "L1", "70")])
    taken(shelf, file, kind, delivery="D-1")
    assert exported(shelf, "stock") != before
    assert undo(shelf).kind == kind
    assert exported(shelf, "stock") == before
    with reading(shelf) as session:
        assert list(discrepancies(session)) == []
    assert looked_at(shelf, file, kind, delivery="D-1").unchanged == 0


def test_what_is_sold_since_cannot_be_undone(shelf: Engine, tmp_path: Path) -> None:
    a_shelf_with_one_yarn(shelf)
    taken(shelf, csv_file(tmp_path / "s.csv", [STOCK, ("T-1", "01", "L1", "12")]), "stock")
    with writing(shelf) as session:
        sell(session, LotAtBranch("T-1", "01", "L1"), 11)
    before = exported(shelf, "stock")
    with pytest.raises(UndoRefused, match="T-1 colour 01 lot L1"):
        undo(shelf)
    assert exported(shelf, "stock") == before


def test_yarns_and_colours_are_undone_to_what_they_were(shelf: Engine, tmp_path: Path) -> None:
    label = a_label(fibres="wool 75, polyamide 25", attributes=frozenset({"superwash"}))
    with writing(shelf) as session:
        put_yarn(session, "T-1", label=label)
    yarns, colours = exported(shelf, "yarns"), exported(shelf, "colours")
    changed = [
        ("sku", "name", "price", "fibres", "attributes"),
        ("T-1", "Other", "7.00", "cotton 100", ""),
        ("T-2", "New", "3", "wool 100", ""),
    ]
    taken(shelf, csv_file(tmp_path / "y.csv", changed), "yarns")
    coloured = [("sku", "colour", "name", "family"), ("T-2", "9", "Moss", "green")]
    taken(shelf, csv_file(tmp_path / "c.csv", coloured), "colours")
    assert undo(shelf).kind == "colours"
    assert exported(shelf, "colours") == colours
    assert undo(shelf, 1).kind == "yarns"
    assert exported(shelf, "yarns") == yarns
    with pytest.raises(UndoRefused, match="no import to undo"):
        undo(shelf)


def test_a_yarn_changed_since_is_not_undone(shelf: Engine, tmp_path: Path) -> None:
    with writing(shelf) as session:
        put_yarn(session, "T-1")
    taken(shelf, csv_file(tmp_path / "y.csv", [("sku", "name"), ("T-1", "Second")]), "yarns")
    with writing(shelf) as session:
        session.scalars(select(Yarn)).one().name = "Third"
    with pytest.raises(UndoRefused, match="Second was changed since"):
        undo(shelf)
    with reading(shelf) as session:
        assert session.scalars(select(Yarn.name)).one() == "Third"


def test_only_columns_that_are_there_change_a_yarn(shelf: Engine, tmp_path: Path) -> None:
    with writing(shelf) as session:
        put_yarn(session, "T-1", notes="in the window")
    with reading(shelf) as session:
        before = shelf_yarn(session, "T-1")
    report = taken(
        shelf, csv_file(tmp_path / "y.csv", [("SKU", "Price"), ("T-1", "7,25")]), "yarns"
    )
    assert report.changes[0].fields == (("price_minor", "6.50", "7.25"),)
    with reading(shelf) as session:
        after = shelf_yarn(session, "T-1")
    assert before is not None
    assert after is not None
    assert (after.label, after.notes) == (before.label, before.notes)


def test_own_headings_are_said_once(shelf: Engine, tmp_path: Path) -> None:
    a_shelf_with_one_yarn(shelf)
    rows = [("Nr.", "Ton", "Bad", "Im Laden"), ("T-1", "01", "L1", "3")]
    file = csv_file(tmp_path / "s.csv", rows, delimiter=";")
    with pytest.raises(FileRefused, match="no column holds sku or colour or skeins"):
        looked_at(shelf, file, "stock")
    said = {"Nr.": "sku", "Ton": "colour", "Bad": "lot", "im laden": "skeins"}
    assert counts(taken(shelf, file, "stock", said=said)) == (0, 1, 0, 0)
    again = looked_at(shelf, file, "stock")
    assert counts(again) == (0, 0, 1, 0)
    assert again.columns[3] == ("Im Laden", "skeins")


def test_what_is_said_of_a_long_heading_is_remembered(shelf: Engine, tmp_path: Path) -> None:
    """By as many letters as its column holds, and for files of its kind alone."""
    long = "Number of the article in the catalogue of the wholesaler " * 5
    file = csv_file(tmp_path / "y.csv", [(long, "name", "price"), ("T-1", "Plain", "5")])
    said = {long: "sku", "Name": "name"}
    taken(shelf, file, "yarns", said=said)
    with reading(shelf) as session:
        kept = remembered(session, "yarns")
        assert remembered(session, "colours") == {}
    assert kept == {long.casefold()[:200]: "sku", "name": "name"}
    assert counts(looked_at(shelf, file, "yarns")) == (0, 0, 1, 0)


def test_what_is_said_anew_of_a_heading_counts(shelf: Engine) -> None:
    with writing(shelf) as session:
        remember(session, "stock", {"nr": "sku", "ton": "colour"})
        remember(session, "yarns", {"nr": "name"})
        remember(session, "stock", {"Nr.": "colour"})
    with reading(shelf) as session:
        assert remembered(session, "stock") == {"nr": "colour", "ton": "colour"}
        assert remembered(session, "yarns") == {"nr": "name"}


def test_progress_goes_on_to_the_last_line(shelf: Engine, tmp_path: Path) -> None:
    a_shelf_with_one_yarn(shelf)
    rows = [STOCK, *(("T-1", "01", f"A{n}", "1") for n in range(1200))]
    told: list[tuple[int, int]] = []
    source = a_source(csv_file(tmp_path / "s.csv", rows), "stock")
    dry_run(shelf, source, lambda done, lines: told.append((done, lines)))
    assert len(told) > 1
    assert sorted(set(told)) == told
    assert {lines for _, lines in told} == {1201}
    assert told[-1] == (1201, 1201)


def test_rows_of_blanks_are_left_out(shelf: Engine, tmp_path: Path) -> None:
    a_shelf_with_one_yarn(shelf)
    rows = [STOCK, (" ", "", "", ""), ("", "", " "), ("T-1", "01", "L1", "7"), ()]
    assert counts(looked_at(shelf, csv_file(tmp_path / "s.csv", rows), "stock")) == (0, 1, 0, 0)


def test_of_many_headings_twenty_are_told_each_in_short(shelf: Engine, tmp_path: Path) -> None:
    headings = [f"{n:02d}{'x' * 39}" for n in range(21)]
    with pytest.raises(FileRefused) as refused:
        looked_at(shelf, csv_file(tmp_path / "s.csv", [headings, ["1"] * 21]), "yarns")
    listed = ", ".join(f"'{n:02d}{'x' * 38}'" for n in range(20))
    assert refused.value.wrong == f"no column holds sku; the headings are {listed}"


def test_an_import_is_remembered_with_the_end_of_its_files_name(
    shelf: Engine, tmp_path: Path
) -> None:
    file = csv_file(tmp_path / "y.csv", [("sku", "name", "price"), ("T-1", "Plain", "5")])
    import_file(shelf, Source(file, "a" * 9 + "b" * 200, "yarns"))
    with reading(shelf) as session:
        run = session.scalars(select(ImportRun)).one()
    assert run.file_name == "b" * 200
    assert (run.made, run.changed, run.unchanged) == (1, 0, 0)


def test_what_a_new_yarn_or_colour_lacks_is_told(shelf: Engine, tmp_path: Path) -> None:
    """Its first lack by name, and all that is to be given."""
    a_shelf_with_one_yarn(shelf)
    yarns = csv_file(tmp_path / "y.csv", [("sku", "price"), ("T-8", "5")])
    (refusal,) = looked_at(shelf, yarns, "yarns").refusals
    said = "the yarn T-8 is new, and the line gives no name; give name of a new yarn"
    assert str(refusal) == f"line 2: {said}"
    yarns = csv_file(tmp_path / "y.csv", [("sku", "notes"), ("T-8", "x")])
    (refusal,) = looked_at(shelf, yarns, "yarns").refusals
    assert "gives no name; give name and price of a new yarn" in str(refusal)
    rows = [("sku", "colour", "dark"), ("T-1", "01", "yes"), ("T-1", "02", "yes"), ("T-9", "1", "")]
    report = looked_at(shelf, csv_file(tmp_path / "c.csv", rows), "colours")
    assert [(c.line, c.what, c.new, c.fields) for c in report.changes] == [
        (2, "T-1 colour 01", False, (("dark", "no", "yes"),))
    ]
    assert [str(refusal) for refusal in report.refusals] == [
        "line 3: T-1 colour 02 is new, and the line gives no name; "
        "give name and family of a new colour",
        "line 4, column sku: there is no yarn T-9; import the yarns first, or check the number",
    ]


def test_a_yarn_and_a_colour_stand_on_one_line(shelf: Engine, tmp_path: Path) -> None:
    a_shelf_with_one_yarn(shelf)
    rows = [("sku", "colour", "name"), ("T-1", "01", "Moss"), ("T-1", "01", "Rust")]
    report = looked_at(shelf, csv_file(tmp_path / "c.csv", rows), "colours")
    assert [str(refusal) for refusal in report.refusals] == [
        "line 3, column colour: the colour stands on line 2 already; keep one of the two lines"
    ]
    assert report.refusals[0].value == "01"


def test_a_colours_family_is_one_of_those_that_are_known(shelf: Engine, tmp_path: Path) -> None:
    a_shelf_with_one_yarn(shelf)
    rows = [("sku", "colour", "family"), ("T-1", "01", "Green"), ("T-1", "02", "rainbowy")]
    report = looked_at(shelf, csv_file(tmp_path / "c.csv", rows), "colours")
    assert report.changes[0].fields == (("family", "grey", "green"),)
    assert "'rainbowy' is not a family of colours" in str(report.refusals[0])
    rows = [("sku", "colour", "family"), ("T-1", "01", "gray")]
    assert counts(looked_at(shelf, csv_file(tmp_path / "c.csv", rows), "colours")) == (0, 0, 1, 0)


def test_cells_beyond_the_headings_are_told(shelf: Engine, tmp_path: Path) -> None:
    a_shelf_with_one_yarn(shelf)
    rows = [STOCK, ("T-1", "01", "L1", "7", " ", "huh", "x"), ("T-1", "01", "L2", "9", "", " ")]
    report = looked_at(shelf, csv_file(tmp_path / "s.csv", rows), "stock")
    (refusal,) = report.refusals
    assert str(refusal).startswith("line 2: the line has 7 cells under 4 headings")
    assert refusal.value == "huh"
    assert counts(report) == (0, 1, 0, 1)


def test_stock_goes_to_the_branch_of_its_line(shelf: Engine, tmp_path: Path) -> None:
    a_shelf_with_one_yarn(shelf)
    with writing(shelf) as session:
        session.add(Branch(code="harbour", name="Harbour"))
    rows = [
        (*STOCK, "branch"),
        ("T-1", "01", "L1", "3", "harbour"),
        ("T-1", "01", "L1", "9", "moon"),
    ]
    report = looked_at(shelf, csv_file(tmp_path / "s.csv", rows), "stock")
    assert report.changes[0].what == "T-1 colour 01 lot L1 in harbour"
    assert "there is no branch moon; give one of main, harbour" in str(report.refusals[0])
