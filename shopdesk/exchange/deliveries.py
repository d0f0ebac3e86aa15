"""Deliveries from a file: each line adds skeins, once for each delivery, lot and branch."""

from collections.abc import Sequence

from sqlalchemy import text

from shopdesk.craft.messages import message
from shopdesk.exchange.columns import Field
from shopdesk.exchange.counts_of_stock import MAKE_LOTS, at_once, import_note, lock_stock
from shopdesk.exchange.lines import Work
from shopdesk.exchange.reports import MOST_SHOWN, LineChange
from shopdesk.exchange.rows import Row
from shopdesk.exchange.staging import DELIVERY, NAME, NEEDED, STOCK_FIELDS, Staging
from shopdesk.shelf.stock import MovementKind
from shopdesk.store.types import now

_MATCHED = f"""
    FROM {NAME} s
    LEFT JOIN dye_lot d ON d.colourway_id = s.colourway_id AND d.lot = s.lot
    LEFT JOIN delivered v ON v.delivery = s.delivery AND v.lot_id = d.id
        AND v.branch_id = s.branch_id
"""
_CHANGED = text(f"""
    SELECT s.line, s.delivery, s.skeins, v.skeins AS taken {_MATCHED}
    WHERE v.skeins <> s.skeins ORDER BY s.line
""")
_EMPTY = text(f"SELECT line FROM {NAME} WHERE skeins = 0 ORDER BY line")
_LEAVE_OUT = text(f"""
    DELETE FROM {NAME} WHERE skeins = 0
    OR line IN (SELECT s.line {_MATCHED} WHERE v.skeins <> s.skeins)
""")
_COUNTS = text(f"SELECT count(*) AS lines, count(v.skeins) AS taken {_MATCHED}")
_SAMPLE = text(f"""
    SELECT s.line, y.sku, c.code, s.lot, s.delivery, s.skeins {_MATCHED}
    JOIN colourway c ON c.id = s.colourway_id
    JOIN yarn y ON y.id = c.yarn_id
    WHERE v.skeins IS NULL ORDER BY s.line LIMIT {MOST_SHOWN}
""")
_TAKE = text(f"""
    INSERT INTO delivered (delivery, lot_id, branch_id, skeins, import_id)
    SELECT s.delivery, d.id, s.branch_id, s.skeins, :number {_MATCHED} WHERE v.skeins IS NULL
""")
_MOVE = text("""
    INSERT INTO stock_movement (lot_id, branch_id, at, change, reason, staff, note)
    SELECT lot_id, branch_id, :at, skeins, :reason, '', :note || delivery FROM delivered
    WHERE import_id = :number ORDER BY lot_id, branch_id
""")
_ADD = text("""
    INSERT INTO stock (lot_id, branch_id, on_hand)
    SELECT lot_id, branch_id, sum(skeins) FROM delivered WHERE import_id = :number
    GROUP BY lot_id, branch_id
    ON CONFLICT (lot_id, branch_id) DO UPDATE SET on_hand = stock.on_hand + excluded.on_hand
""")


class DeliveryImport:
    """Takes lines of deliveries, a batch at a time; all are compared at the end."""

    needed: tuple[tuple[str, ...], ...] = NEEDED

    @staticmethod
    def fields(_currency: str) -> tuple[Field, ...]:
        """Returns the fields that a file of deliveries may have."""
        return (*STOCK_FIELDS, DELIVERY)

    def __init__(self, work: Work) -> None:
        self._work = work
        if work.number is not None:
            lock_stock(work)
        self._staging = Staging(work, deliveries=True)

    def take(self, rows: Sequence[Row]) -> None:
        """Puts a batch of lines aside."""
        self._staging.put(rows)

    def finish(self) -> None:
        """Compares all lines with what was delivered and, in an import, adds what is new."""
        session, number = self._work.session, self._work.number
        self._staging.refuse_twins()
        self._refuse()
        self._count()
        if number is not None:
            session.execute(MAKE_LOTS)
            session.execute(_TAKE, {"number": number})
            note = f"{import_note(number)}, delivery "
            moved = {
                "at": now(),
                "reason": MovementKind.RECEIVED.value,
                "note": note,
                "number": number,
            }
            session.execute(at_once(_MOVE), moved)
            session.execute(_ADD, {"number": number})
        self._staging.drop()

    def _refuse(self) -> None:
        """Refuses lines of nothing, and of a delivery that brought another number before."""
        session = self._work.session
        for row in session.execute(_EMPTY):
            wrong, right = message("problem_file.delivery_none"), message("problem_file.leave_out")
            self._work.refuse(row.line, "skeins", "0", wrong, right)
        for row in session.execute(_CHANGED):
            wrong = message(
                "problem_file.delivered_before", delivery=row.delivery, skeins=row.taken
            )
            right = message("problem_file.own_number")
            self._work.refuse(row.line, "skeins", str(row.skeins), wrong, right)
        session.execute(_LEAVE_OUT)

    def _count(self) -> None:
        tally, session = self._work.tally, self._work.session
        counts = session.execute(_COUNTS).one()
        tally.unchanged += counts.taken
        for row in session.execute(_SAMPLE):
            lot = f" lot {row.lot}" if row.lot else ""
            what = f"{row.sku} colour {row.code}{lot}, delivery {row.delivery}"
            fields = (("skeins", "", f"+{row.skeins}"),)
            tally.changes.append(LineChange(row.line, what, True, fields))
        tally.new += counts.lines - counts.taken
