"""What writes stock: every change with its movement, what may be promised, and the check of both.

Beside it only lists that are taken in write it in bulk (`exchange/deliveries`,
`exchange/counts_of_stock`, and `exchange/undoing` after them), and the demo (`upkeep/seeding`).
"""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime
from enum import StrEnum

from sqlalchemy import SQLColumnExpression, func, select, true
from sqlalchemy.orm import Session

from shopdesk.craft import lengths
from shopdesk.craft.messages import message
from shopdesk.shelf.branch_lots import LotAtBranch, StockRefused, branch_id, lot_id, names
from shopdesk.store.database import ignoring_twins
from shopdesk.store.tables.stock import Branch, Hold, Stock, StockMovement
from shopdesk.store.tables.yarns import DyeLot
from shopdesk.store.types import now


class MovementKind(StrEnum):
    """Why stock changed."""

    RECEIVED = "received"
    COUNTED = "counted"
    CORRECTED = "corrected"
    SOLD = "sold"
    RETURNED = "returned"
    SENT = "sent"
    ARRIVED = "arrived"
    IMPORTED = "imported"


@dataclass(frozen=True, slots=True)
class MovementNote:
    """What a movement says about itself: the reason, who made it, a note, and when (None: now)."""

    reason: MovementKind
    staff: str = ""
    note: str = ""
    at: datetime | None = None


def available_expression(at: datetime | None = None) -> SQLColumnExpression[int]:
    """Returns, for a SELECT from Stock, the skeins that may be promised at a moment (None: now).

    The one place where this is defined: what is on hold is taken off here. Less than 0 where a
    count found less than was promised.
    """
    return Stock.on_hand - held_expression(at)


def held_expression(at: datetime | None = None) -> SQLColumnExpression[int]:
    """Returns, for a SELECT from Stock, the skeins that are on hold at a moment (None: now).

    A hold whose last day is over stops counting by the clock, whether or not it was swept.
    """
    held = (
        select(func.coalesce(func.sum(Hold.skeins), 0))
        .where(
            Hold.lot_id == Stock.lot_id,
            Hold.branch_id == Stock.branch_id,
            Hold.closed_at.is_(None),
            Hold.ends_at > (at or now()),
        )
        .correlate(Stock)
    )
    return held.scalar_subquery()


def available(session: Session, where: LotAtBranch, at: datetime | None = None) -> int:
    """Returns the skeins of a lot in a branch that may be promised at a moment (None: now).

    Raises StockRefused.
    """
    return _available(session, lot_id(session, where), branch_id(session, where.branch), at)


def on_hand(session: Session, where: LotAtBranch) -> int:
    """Returns the skeins of a lot that lie in a branch, held or not. Raises StockRefused."""
    key = {"lot_id": lot_id(session, where), "branch_id": branch_id(session, where.branch)}
    return session.scalar(select(Stock.on_hand).filter_by(**key)) or 0


def receive(
    session: Session,
    where: LotAtBranch,
    skeins: int,
    staff: str = "",
    note: str = "",
    at: datetime | None = None,
) -> int:
    """Adds a delivery, making the lot if it is new. Returns what is then on hand."""
    return _add(session, where, skeins, MovementNote(MovementKind.RECEIVED, staff, note, at))


def take_back(
    session: Session,
    where: LotAtBranch,
    skeins: int,
    staff: str = "",
    note: str = "",
    at: datetime | None = None,
) -> int:
    """Adds skeins that a customer brought back unopened. Returns what is then on hand."""
    return _add(session, where, skeins, MovementNote(MovementKind.RETURNED, staff, note, at))


def sell(
    session: Session,
    where: LotAtBranch,
    skeins: int,
    staff: str = "",
    note: str = "",
    at: datetime | None = None,
) -> int:
    """Takes sold skeins off what may be promised. Returns what is then on hand."""
    _positive(skeins)
    stock = lock(session, lot_id(session, where), branch_id(session, where.branch))
    return _take(session, where, stock, skeins, MovementNote(MovementKind.SOLD, staff, note, at))


def count(
    session: Session,
    where: LotAtBranch,
    found: int,
    staff: str = "",
    note: str = "",
    at: datetime | None = None,
) -> int:
    """Sets the stock to what was counted; the difference is the movement, also if it is 0."""
    if found < 0:
        raise StockRefused(
            message("problem_shelf.below_none", count=found), message("problem_shelf.none_or_more")
        )
    stock = lock(session, lot_id(session, where, make=True), branch_id(session, where.branch))
    why = MovementNote(MovementKind.COUNTED, staff, note, at)
    return move(session, stock, found - stock.on_hand, why)


def correct(
    session: Session,
    where: LotAtBranch,
    change: int,
    staff: str,
    note: str,
    at: datetime | None = None,
) -> int:
    """Changes the stock by hand; the note must say why. Returns what is then on hand."""
    if not note.strip():
        raise StockRefused(
            message("problem_shelf.no_reason"), message("problem_shelf.write_reason")
        )
    if change == 0:
        raise StockRefused(message("problem_shelf.no_change"), message("problem_shelf.give_change"))
    lot = lot_id(session, where, make=change > 0)
    stock = lock(session, lot, branch_id(session, where.branch))
    return move(session, stock, change, MovementNote(MovementKind.CORRECTED, staff, note, at))


def transfer(
    session: Session,
    where: LotAtBranch,
    to_branch: str,
    skeins: int,
    staff: str = "",
    at: datetime | None = None,
) -> int:
    """Moves skeins to another branch. Returns what is left on hand in the first one."""
    _positive(skeins)
    if to_branch == where.branch:
        raise StockRefused(
            message("problem_shelf.same_branch", branch=to_branch),
            message("problem_shelf.two_branches"),
        )
    lot = lot_id(session, where)
    here, there = branch_id(session, where.branch), branch_id(session, to_branch)
    stocks = {branch: lock(session, lot, branch) for branch in sorted((here, there))}
    sent = MovementNote(MovementKind.SENT, staff, f"to {to_branch}", at)
    left = _take(session, where, stocks[here], skeins, sent)
    arrived = MovementNote(MovementKind.ARRIVED, staff, f"from {where.branch}", at)
    move(session, stocks[there], skeins, arrived)
    return left


def lock(session: Session, lot: int, branch: int) -> Stock:
    """Returns a lot's stock in a branch, kept from every other writer until the commit.

    A lot that never lay in that branch gets a row with none on hand.
    """
    session.execute(ignoring_twins(session, Stock, lot_id=lot, branch_id=branch, on_hand=0))
    wanted = select(Stock).filter_by(lot_id=lot, branch_id=branch).with_for_update()
    return session.scalars(wanted.execution_options(populate_existing=True)).one()


def free_of(session: Session, stock: Stock, at: datetime | None = None) -> int:
    """Returns how many skeins of locked stock may be promised at a moment (None: now)."""
    return _available(session, stock.lot_id, stock.branch_id, at)


def move(session: Session, stock: Stock, change: int, why: MovementNote) -> int:
    """Changes locked stock and leaves the movement. Returns what is then on hand.

    Raises StockRefused where less than nothing would be left. Skeins that are on hold may go too:
    callers that must leave them look at what is available first.
    """
    if stock.on_hand + change < 0:
        raise StockRefused(
            message("problem_shelf.not_on_hand", count=-change, there=stock.on_hand),
            message("problem_shelf.take_at_most", there=stock.on_hand),
        )
    stock.on_hand += change
    session.add(
        StockMovement(
            lot_id=stock.lot_id,
            branch_id=stock.branch_id,
            at=why.at or now(),
            change=change,
            reason=why.reason,
            staff=lengths.staff_name(why.staff),
            note=lengths.fitting(
                why.note, lengths.NOTE, message("problem_shelf.note_long"), "note"
            ),
        )
    )
    session.flush()
    return stock.on_hand


def _add(session: Session, where: LotAtBranch, skeins: int, why: MovementNote) -> int:
    _positive(skeins)
    lot = lot_id(session, where, make=True)
    return move(session, lock(session, lot, branch_id(session, where.branch)), skeins, why)


def _take(
    session: Session, where: LotAtBranch, stock: Stock, skeins: int, why: MovementNote
) -> int:
    free = free_of(session, stock, why.at)
    if skeins > free:
        raise StockRefused(
            message("problem_shelf.not_free", count=skeins, lot=where.said, free=free),
            message("problem_shelf.take_at_most", there=free),
        )
    return move(session, stock, -skeins, why)


def _available(session: Session, lot: int, branch: int, at: datetime | None) -> int:
    key = (Stock.lot_id == lot) & (Stock.branch_id == branch)
    return max(0, session.scalar(select(available_expression(at)).where(key)) or 0)


def _positive(skeins: int) -> None:
    if skeins < 1:
        raise StockRefused(
            message("problem_shelf.no_skeins", number=skeins), message("problem_shelf.one_or_more")
        )


@dataclass(frozen=True, slots=True)
class Discrepancy:
    """A lot in a branch whose stock is not the sum of its movements."""

    where: LotAtBranch
    on_hand: int
    moved: int


def discrepancies(session: Session) -> Iterator[Discrepancy]:
    """Yields every lot in a branch whose stock is not the sum of its movements, if any."""
    sums = (
        select(
            StockMovement.lot_id,
            StockMovement.branch_id,
            func.sum(StockMovement.change).label("moved"),
        )
        .group_by(StockMovement.lot_id, StockMovement.branch_id)
        .subquery()
    )
    on_hand, moved = func.coalesce(Stock.on_hand, 0), func.coalesce(sums.c.moved, 0)
    differing = (
        select(DyeLot.id, Branch.id, on_hand, moved)
        .join_from(DyeLot, Branch, true())
        .outerjoin(Stock, (Stock.lot_id == DyeLot.id) & (Stock.branch_id == Branch.id))
        .outerjoin(sums, (sums.c.lot_id == DyeLot.id) & (sums.c.branch_id == Branch.id))
        .where(on_hand != moved)
        .order_by(DyeLot.id, Branch.id)
    )
    for lot, branch, has, has_moved in session.execute(differing).all():
        yield Discrepancy(names(session, lot, branch), has, has_moved)
