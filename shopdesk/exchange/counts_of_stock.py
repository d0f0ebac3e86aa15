"""A count of stock from a file: each line sets what is on hand; the difference is a movement.

Lots that the file does not name stay as they are.
"""

from collections.abc import Sequence

from sqlalchemy import TextClause, text

from shopdesk.exchange.columns import Field
from shopdesk.exchange.lines import Work
from shopdesk.exchange.reports import MOST_SHOWN, LineChange
from shopdesk.exchange.rows import Row
from shopdesk.exchange.staging import NAME, NEEDED, STOCK_FIELDS, Staging
from shopdesk.shelf.stock import MovementKind
from shopdesk.store.types import Moment, now

STEP = "stock_step"
MAKE_LOTS = text(
    f"INSERT INTO dye_lot (colourway_id, lot) SELECT colourway_id, lot FROM {NAME} "
    "WHERE true ON CONFLICT (colourway_id, lot) DO NOTHING"
)
_MAKE_STEP = text(f"""
    CREATE TEMPORARY TABLE {STEP} AS
    SELECT s.line, s.skeins, s.branch_id, d.id AS lot_id, st.on_hand AS was
    FROM {NAME} s
    LEFT JOIN dye_lot d ON d.colourway_id = s.colourway_id AND d.lot = s.lot
    LEFT JOIN stock st ON st.lot_id = d.id AND st.branch_id = s.branch_id
    WHERE st.on_hand IS NULL OR st.on_hand <> s.skeins
""")
_COUNTS = text(f"""
    SELECT (SELECT count(*) FROM {NAME}) AS lines, count(*) AS differing,
           count(*) - count(was) AS fresh
    FROM {STEP}
""")
_SAMPLE = text(f"""
    SELECT p.line, y.sku, c.code, s.lot, b.code AS branch, p.was, p.skeins
    FROM (SELECT * FROM {STEP} ORDER BY line LIMIT {MOST_SHOWN}) p
    JOIN {NAME} s ON s.line = p.line
    JOIN colourway c ON c.id = s.colourway_id
    JOIN yarn y ON y.id = c.yarn_id
    JOIN branch b ON b.id = p.branch_id
    ORDER BY p.line
""")
_MOVE = text(f"""
    INSERT INTO stock_movement (lot_id, branch_id, at, change, reason, staff, note)
    SELECT lot_id, branch_id, :at, skeins - coalesce(was, 0), :reason, '', :note FROM {STEP}
""")
_SET = text(f"""
    INSERT INTO stock (lot_id, branch_id, on_hand)
    SELECT lot_id, branch_id, skeins FROM {STEP} WHERE true
    ON CONFLICT (lot_id, branch_id) DO UPDATE SET on_hand = excluded.on_hand
""")


def at_once(statement: TextClause) -> TextClause:
    """Returns a statement whose `at` is a moment as our columns store it."""
    from sqlalchemy import bindparam

    return statement.bindparams(bindparam("at", type_=Moment))


def lock_stock(work: Work) -> None:
    """Keeps other writers from the stock until the end; SQLite's transaction does so anyway."""
    if work.session.get_bind().dialect.name == "postgresql":
        work.session.execute(text("LOCK TABLE stock IN SHARE ROW EXCLUSIVE MODE"))


def import_note(number: int) -> str:
    """Returns the note of every movement that an import makes."""
    return f"import {number}"


class StockImport:
    """Takes lines of a count of stock, a batch at a time; all are compared at the end."""

    needed: tuple[tuple[str, ...], ...] = NEEDED

    @staticmethod
    def fields(_currency: str) -> tuple[Field, ...]:
        """Returns the fields that a count of stock may have, in the order of an export."""
        return STOCK_FIELDS

    def __init__(self, work: Work) -> None:
        self._work = work
        if work.number is not None:
            lock_stock(work)
        self._staging = Staging(work)

    def take(self, rows: Sequence[Row]) -> None:
        """Puts a batch of lines aside."""
        self._staging.put(rows)

    def finish(self) -> None:
        """Compares all lines with the shelf and, in an import, writes what differs."""
        session, number = self._work.session, self._work.number
        self._staging.refuse_twins()
        if number is not None:
            session.execute(MAKE_LOTS)
        session.execute(_MAKE_STEP)
        self._count()
        if number is not None:
            parameters = {
                "at": now(), "reason": MovementKind.IMPORTED.value, "note": import_note(number),
            }  # fmt: skip
            session.execute(at_once(_MOVE), parameters)
            session.execute(_SET)
        session.execute(text(f"DROP TABLE {STEP}"))
        self._staging.drop()

    def _count(self) -> None:
        tally, session = self._work.tally, self._work.session
        counts = session.execute(_COUNTS).one()
        tally.unchanged += counts.lines - counts.differing
        for row in session.execute(_SAMPLE):
            lot = f" lot {row.lot}" if row.lot else ""
            was = "" if row.was is None else str(row.was)
            tally.changes.append(
                LineChange(
                    row.line,
                    f"{row.sku} colour {row.code}{lot} in {row.branch}",
                    row.was is None,
                    (("skeins", was, str(row.skeins)),),
                )
            )
        tally.new += counts.fresh
        tally.changed += counts.differing - counts.fresh
