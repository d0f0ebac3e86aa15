"""What an import keeps of its changes, and what stands in the way of undoing it."""

from collections.abc import Sequence
from decimal import Decimal
from pathlib import Path

import pytest
from sqlalchemy import Engine, select

from shopdesk.exchange.undoing import UndoRefused, as_document, from_document, undo
from shopdesk.shelf.branch_lots import LotAtBranch
from shopdesk.shelf.stock import receive, sell
from shopdesk.shelf.writing import writing
from shopdesk.store.database import reading
from shopdesk.store.models import ImportChange, ImportRun, StockMovement, Yarn
from tests.exchange.import_files import counts, csv_file, exported, taken
from tests.factories import a_lot, a_wraps
from tests.shelf.rows import put_yarn

NEW_YARN = ("sku", "name", "price")
A_COLOUR = ("sku", "colour", "name", "family")
STOCK = ("sku", "colour", "lot", "skeins")


def take(shelf: Engine, folder: Path, kind: str, *rows: Sequence[str]) -> None:
    taken(shelf, csv_file(folder / "t.csv", rows), kind, delivery="D-1")


def some_yarns(first: int, end: int) -> list[tuple[str, str, str]]:
    return [(f"N-{n:03d}", f"New {n:03d}", "5") for n in range(first, end)]


def test_many_yarns_are_kept_in_their_order_and_undone_whole(shelf: Engine, tmp_path: Path) -> None:
    """Six hundred are more than are written, or undone, at a time."""
    with writing(shelf) as session:
        put_yarn(session, "T-1")
    before = exported(shelf, "yarns")
    take(shelf, tmp_path, "yarns", NEW_YARN, *some_yarns(0, 600), ("T-1", "Other", "7"))
    with reading(shelf) as session:
        kept = session.execute(
            select(ImportChange.position, ImportChange.after).order_by(ImportChange.position)
        ).all()
    assert [row.position for row in kept] == list(range(1, 602))
    names = [name for _, name, _ in some_yarns(0, 600)]
    assert [row.after["name"] for row in kept] == [*names, "Other"]
    undo(shelf)
    assert exported(shelf, "yarns") == before


def test_an_import_knows_its_movements(shelf: Engine, tmp_path: Path) -> None:
    """An import of yarns on a shelf without any begins with the first and has none."""
    take(shelf, tmp_path, "yarns", NEW_YARN, ("T-1", "Plain", "5"))
    take(shelf, tmp_path, "colours", A_COLOUR, ("T-1", "01", "Moss", "green"))
    with writing(shelf) as session:
        receive(session, LotAtBranch("T-1", "01", "L0"), 3)
    take(shelf, tmp_path, "stock", STOCK, ("T-1", "01", "L1", "7"), ("T-1", "01", "L2", "8"))
    with reading(shelf) as session:
        noted = StockMovement.note == "import 3"
        movements = session.scalars(
            select(StockMovement.id).where(noted).order_by(StockMovement.id)
        )
        first, last = movements.all()
        runs = session.scalars(select(ImportRun).order_by(ImportRun.id)).all()
    assert [(run.first_movement, run.last_movement) for run in runs] == [
        (1, 0),
        (1, 0),
        (first, last),
    ]


def test_only_the_latest_import_is_undone(shelf: Engine, tmp_path: Path) -> None:
    take(shelf, tmp_path, "yarns", NEW_YARN, ("T-1", "Plain", "5"))
    take(shelf, tmp_path, "yarns", NEW_YARN, ("T-2", "Plain", "5"))
    with pytest.raises(UndoRefused, match="import 1 is not the latest one; undo import 2 first"):
        undo(shelf, 1)
    with pytest.raises(UndoRefused, match="import 3 is not the latest one; look at the list"):
        undo(shelf, 3)
    assert [undo(shelf, number).number for number in (2, 1)] == [2, 1]
    assert exported(shelf, "yarns").count("\r\n") == 1


def test_ten_yarns_that_were_changed_since_are_named(shelf: Engine, tmp_path: Path) -> None:
    take(shelf, tmp_path, "yarns", NEW_YARN, *some_yarns(0, 12))
    with writing(shelf) as session:
        for yarn in session.scalars(select(Yarn)):
            yarn.notes = "in the window"
    before = exported(shelf, "yarns")
    with pytest.raises(UndoRefused) as refused:
        undo(shelf)
    # The latest change is undone first.
    reasons = "; ".join(f"New {n:03d} was changed since" for n in range(11, 1, -1))
    assert refused.value.wrong == f"import 1 cannot be undone: {reasons}"
    assert exported(shelf, "yarns") == before


def test_ten_lots_that_are_sold_since_are_named(shelf: Engine, tmp_path: Path) -> None:
    with writing(shelf) as session:
        put_yarn(session, "T-1", lots=(a_lot(0),))
    lots = [f"L{n:02d}" for n in range(12)]
    take(shelf, tmp_path, "deliveries", STOCK, *(("T-1", "01", lot, "2") for lot in lots))
    with writing(shelf) as session:
        for lot in lots:
            sell(session, LotAtBranch("T-1", "01", lot), 1)
    with pytest.raises(UndoRefused) as refused:
        undo(shelf)
    named = refused.value.wrong.partition(": ")[2].split(", ")
    assert len(named) == 10
    assert set(named) < {f"T-1 colour 01 lot {lot}" for lot in lots}


def test_what_is_used_since_stays(shelf: Engine, tmp_path: Path) -> None:
    """A yarn is used by a colour or by a measurement, a colour by its stock."""
    take(shelf, tmp_path, "yarns", NEW_YARN, ("T-1", "Plain", "5"), ("T-2", "Bare", "5"))
    with writing(shelf) as session:
        put_yarn(session, "T-0", measurements=(a_wraps(),), lots=())
        measured = session.scalars(select(Yarn).where(Yarn.sku == "T-0")).one().measurements
        session.scalars(select(Yarn).where(Yarn.sku == "T-2")).one().measurements = measured
    with pytest.raises(UndoRefused, match="import 1 cannot be undone: Bare has been used since"):
        undo(shelf)
    with writing(shelf) as session:
        session.scalars(select(Yarn).where(Yarn.sku == "T-2")).one().measurements = []
    take(shelf, tmp_path, "colours", A_COLOUR, ("T-1", "01", "Moss", "green"))
    with writing(shelf) as session:
        receive(session, LotAtBranch("T-1", "01", "L1"), 1)
    with pytest.raises(UndoRefused, match="import 2 cannot be undone: Moss has been used since"):
        undo(shelf)


def test_a_colour_is_undone_to_what_it_was(shelf: Engine, tmp_path: Path) -> None:
    with writing(shelf) as session:
        put_yarn(session, "T-1", lots=(a_lot(3),))
    before = exported(shelf, "colours")
    changed = ("T-1", "01", "Moss", "green"), ("T-1", "02", "Rust", "red")
    take(shelf, tmp_path, "colours", A_COLOUR, *changed)
    assert exported(shelf, "colours") != before
    undo(shelf)
    assert exported(shelf, "colours") == before


def test_values_come_back_from_their_document() -> None:
    values = {
        "name": "Plain",
        "fibres": (("wool", Decimal("66.70")), ("cotton", Decimal("33.30"))),
        "attributes": ("merino", "superwash"),
        "plies": None,
    }
    document = as_document(values)
    assert document["fibres"] == [["wool", "66.70"], ["cotton", "33.30"]]
    assert from_document(document) == values
    assert from_document(as_document({"name": "Moss"})) == {"name": "Moss"}


def test_a_count_is_undone_also_where_the_same_was_counted(shelf: Engine, tmp_path: Path) -> None:
    """A lot that another import counted keeps what that one found."""
    with writing(shelf) as session:
        put_yarn(session, "T-1", lots=(a_lot(10, "L1"), a_lot(4, "L2")))
    take(shelf, tmp_path, "stock", STOCK, ("T-1", "01", "L1", "8"))
    counted = exported(shelf, "stock")
    rows = [("T-1", "01", "L1", "5"), ("T-1", "01", "L2", "6")]
    assert counts(taken(shelf, csv_file(tmp_path / "s.csv", [STOCK, *rows]), "stock")) == (
        0,
        2,
        0,
        0,
    )
    undo(shelf)
    assert exported(shelf, "stock") == counted
