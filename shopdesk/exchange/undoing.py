"""Undoes an import by what it kept: yarns and colours as they were, stock by opposite movements."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal
from itertools import count
from typing import Any

from sqlalchemy import Engine, delete, exists, func, insert, select, text
from sqlalchemy.orm import Session, selectinload

from shopdesk.craft.errors import InputError
from shopdesk.craft.messages import Message, message
from shopdesk.exchange.columns import Values
from shopdesk.exchange.counts_of_stock import at_once, import_note
from shopdesk.exchange.stored_rows import colour_values, set_colour, set_yarn, yarn_values
from shopdesk.shelf.branch_lots import names
from shopdesk.shelf.stock import MovementKind
from shopdesk.shelf.writing import writing
from shopdesk.store.models import (
    Colourway,
    Delivered,
    DyeLot,
    ImportChange,
    ImportRun,
    Stock,
    Yarn,
    YarnMeasurement,
)
from shopdesk.store.types import now

YARN, COLOUR = "yarn", "colour"


class KeptChanges:
    """Collects the changes of one import and writes them down batch by batch."""

    def __init__(self, session: Session, number: int) -> None:
        self._session = session
        self._number = number
        self._positions = count(1)
        self._waiting: list[dict[str, Any]] = []

    def keep(self, what: str, row_id: int, before: Values | None, after: Values) -> None:
        """Notes one row that was made (`before` None) or changed."""
        self._waiting.append(
            {
                "import_id": self._number,
                "position": next(self._positions),
                "what": what,
                "row_id": row_id,
                "before": None if before is None else as_document(before),
                "after": as_document(after),
            }
        )

    def write(self) -> None:
        """Writes down what was noted since the last time."""
        if self._waiting:
            self._session.execute(insert(ImportChange), self._waiting)
            self._waiting = []


def as_document(values: Values) -> dict[str, Any]:
    """Returns stored values as plain JSON data; shares are exact texts."""
    document: dict[str, Any] = dict(values)
    if "fibres" in document:
        document["fibres"] = [[fibre, f"{percent:f}"] for fibre, percent in document["fibres"]]
        document["attributes"] = list(document["attributes"])
    return document


def from_document(document: Mapping[str, Any]) -> Values:
    """Returns the stored values that `as_document` was given."""
    values = dict(document)
    if "fibres" in values:
        values["fibres"] = tuple((fibre, Decimal(share)) for fibre, share in values["fibres"])
        values["attributes"] = tuple(values["attributes"])
    return values


MOST_NAMED = 10
_BATCH = 250
BACK = "stock_back"
_BACK_OF_COUNT = text(f"""
    CREATE TEMPORARY TABLE {BACK} AS
    SELECT lot_id, branch_id, -sum(change) AS change FROM stock_movement
    WHERE id BETWEEN :first AND :last AND reason = :reason AND note = :note
    GROUP BY lot_id, branch_id
""")
_BACK_OF_DELIVERY = text(f"""
    CREATE TEMPORARY TABLE {BACK} AS
    SELECT lot_id, branch_id, -sum(skeins) AS change FROM delivered
    WHERE import_id = :number GROUP BY lot_id, branch_id
""")
_TOO_FEW = text(f"""
    SELECT b.lot_id, b.branch_id FROM {BACK} b
    JOIN stock s ON s.lot_id = b.lot_id AND s.branch_id = b.branch_id
    WHERE s.on_hand + b.change < 0 LIMIT {MOST_NAMED}
""")
_MOVE = text(f"""
    INSERT INTO stock_movement (lot_id, branch_id, at, change, reason, staff, note)
    SELECT lot_id, branch_id, :at, change, :reason, '', :note FROM {BACK} WHERE change <> 0
    ORDER BY lot_id, branch_id
""")
_SET = text(f"""
    UPDATE stock SET on_hand = on_hand + (
        SELECT b.change FROM {BACK} b
        WHERE b.lot_id = stock.lot_id AND b.branch_id = stock.branch_id)
    WHERE EXISTS (SELECT 1 FROM {BACK} b
        WHERE b.lot_id = stock.lot_id AND b.branch_id = stock.branch_id)
""")
_INDEX = text(f"CREATE INDEX {BACK}_lot ON {BACK} (lot_id, branch_id)")


class UndoRefused(InputError):
    """An import that cannot be undone, since the shelf went on since, or there is none."""


@dataclass(frozen=True, slots=True)
class Undone:
    """The import that was undone."""

    number: int
    kind: str
    file_name: str


def last_import(session: Session) -> ImportRun | None:
    """Returns the latest import that is not undone: the one that an undo undoes."""
    wanted = select(ImportRun).where(ImportRun.undone_at.is_(None)).order_by(ImportRun.id.desc())
    return session.scalars(wanted.limit(1)).first()


def undo(engine: Engine, number: int | None = None) -> Undone:
    """Undoes the latest import, in one transaction; `number` makes sure that it is that one.

    Raises UndoRefused, with nothing changed, if there is none, or if what it made or changed
    was used or changed since.
    """
    with writing(engine) as session:
        run = last_import(session)
        if run is None:
            raise UndoRefused(
                message("problem_file.no_import"), message("problem_file.look_at_imports")
            )
        if number is not None and run.id != number:
            right = message("problem_file.look_at_list")
            if number < run.id:
                right = message("problem_file.undo_first", number=run.id)
            raise UndoRefused(message("problem_file.not_latest", number=number), right)
        if run.kind in ("yarns", "colours"):
            _undo_rows(session, run)
        else:
            _undo_stock(session, run)
        run.undone_at = now()
        return Undone(run.id, run.kind, run.file_name)


def _undo_stock(session: Session, run: ImportRun) -> None:
    if session.get_bind().dialect.name == "postgresql":
        session.execute(text("LOCK TABLE stock IN SHARE ROW EXCLUSIVE MODE"))
    if run.kind == "stock":
        session.execute(
            _BACK_OF_COUNT,
            {
                "first": run.first_movement, "last": run.last_movement,
                "reason": MovementKind.IMPORTED.value, "note": import_note(run.id),
            },
        )  # fmt: skip
    else:
        session.execute(_BACK_OF_DELIVERY, {"number": run.id})
    session.execute(_INDEX)
    gone = [names(session, *row).said for row in session.execute(_TOO_FEW).all()]
    if gone:
        raise UndoRefused(
            message("problem_file.gone", number=run.id, lots=_in_a_row(gone, ", ")),
            message("problem_file.correct_by_hand"),
        )
    note = f"{import_note(run.id)} undone"
    moved = {"at": now(), "reason": MovementKind.CORRECTED.value, "note": note}
    session.execute(at_once(_MOVE), moved)
    session.execute(_SET)
    session.execute(delete(Delivered).where(Delivered.import_id == run.id))
    session.execute(text(f"DROP TABLE {BACK}"))


def _undo_rows(session: Session, run: ImportRun) -> None:
    number, problems = run.id, list[Message]()
    place = session.scalar(
        select(func.max(ImportChange.position)).where(ImportChange.import_id == number)
    )
    while place:
        wanted = select(ImportChange).where(
            ImportChange.import_id == number,
            ImportChange.position.between(place - _BATCH + 1, place),
        )
        changes = session.scalars(wanted.order_by(ImportChange.position.desc())).all()
        _undo_batch(session, changes, problems)
        session.flush()
        for change in changes:
            session.expunge(change)
        place = max(0, place - _BATCH)
    if problems:
        raise UndoRefused(
            message(
                "problem_file.cannot_undo",
                number=number,
                reasons=_in_a_row(problems[:MOST_NAMED], "; "),
            ),
            message("problem_file.change_back"),
        )


def _in_a_row(said: Sequence[Message], mark: str) -> Message:
    """Returns all of them as one message, a mark between each two."""
    whole = said[0]
    for one in said[1:]:
        whole = message("problem_file.in_a_row", whole=whole, mark=mark, one=one)
    return whole


def _undo_batch(session: Session, changes: Sequence[ImportChange], problems: list[Message]) -> None:
    rows = _rows(session, changes)
    for change in changes:
        row = rows.get(change.row_id)
        after = from_document(change.after)
        if row is None or _values(row) != after:
            problems.append(message("problem_file.changed_since", name=str(after["name"])))
        elif change.before is not None:
            _set(row, from_document(change.before))
        elif _is_used(session, row):
            problems.append(message("problem_file.used_since", name=str(after["name"])))
        else:
            session.delete(row)


def _rows(session: Session, changes: Sequence[ImportChange]) -> Mapping[int, Yarn | Colourway]:
    keys = [change.row_id for change in changes]
    if changes[0].what != YARN:
        colours = session.scalars(select(Colourway).where(Colourway.id.in_(keys)))
        return {colour.id: colour for colour in colours}
    whole = (selectinload(Yarn.fibres), selectinload(Yarn.attributes))
    yarns = session.scalars(select(Yarn).where(Yarn.id.in_(keys)).options(*whole))
    return {yarn.id: yarn for yarn in yarns}


def _values(row: Yarn | Colourway) -> Values:
    return yarn_values(row) if isinstance(row, Yarn) else colour_values(row)


def _set(row: Yarn | Colourway, values: Values) -> None:
    if isinstance(row, Yarn):
        set_yarn(row, values)
    else:
        set_colour(row, values)


def _is_used(session: Session, row: Yarn | Colourway) -> bool:
    if isinstance(row, Colourway):
        used = exists().where(DyeLot.colourway_id == row.id, Stock.lot_id == DyeLot.id)
        return bool(session.scalar(select(used)))
    return any(
        session.scalar(select(exists().where(table.yarn_id == row.id)))
        for table in (Colourway, YarnMeasurement)
    )
