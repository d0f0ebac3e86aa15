"""Takes what a slip says off the stock, for a shop whose till does not; once for each slip."""

from sqlalchemy import ColumnElement, exists, select
from sqlalchemy.orm import Session

from shopdesk.shelf.columns import now
from shopdesk.shelf.models import Hold, Slip, StockMovement
from shopdesk.shelf.shelved import FIRST_BRANCH, Shelved, StockRefused, lot_id
from shopdesk.shelf.stock import Reason, sell
from shopdesk.visits.slip_lots import lots_of_slip, slip_row


def sell_slip(
    session: Session, number: int, staff: str = "", branch: str = FIRST_BRANCH
) -> dict[Shelved, int]:
    """Sells every lot of a slip, or none of them. Returns what is then on hand of each.

    Raises SlipUnknown; StockRefused where it was sold before, is put by, names no lot, or more
    is wanted than may be promised.
    """
    row = slip_row(session, number, branch)
    session.execute(select(Slip.id).where(Slip.id == row.id).with_for_update())
    lots = lots_of_slip(session, row)
    if not lots:
        raise StockRefused(f"slip {number} names no skeins", "change the stock lot by lot")
    _check_not_put_by(session, row)
    note = sold_note(number)
    if _is_sold(session, row.branch_id, [lot_id(session, where) for where in lots], note):
        raise StockRefused(f"slip {number} was sold already", "nothing more is to be done")
    return {where: sell(session, where, skeins, staff, note) for where, skeins in lots.items()}


def sold_note(number: int) -> str:
    """Returns the note of the movements that a slip's sale leaves."""
    return f"slip {number}"


def _check_not_put_by(session: Session, row: Slip) -> None:
    held = Hold.slip_id == row.id
    if session.scalar(select(exists().where(held, Hold.outcome == "collected"))):
        raise StockRefused(f"slip {row.number} was put by and collected", "it is sold already")
    if session.scalar(select(exists().where(held, _is_open()))):
        raise StockRefused(f"the skeins of slip {row.number} are put by", "collect the hold")


def _is_open() -> ColumnElement[bool]:
    """True for a hold that still counts: not closed, and its last day not over."""
    return Hold.closed_at.is_(None) & (Hold.ends_at > now())


def _is_sold(session: Session, branch: int, lots: list[int], note: str) -> bool:
    sold = exists().where(
        StockMovement.lot_id.in_(lots),
        StockMovement.branch_id == branch,
        StockMovement.reason == Reason.SOLD.value,
        StockMovement.note == note,
    )
    return bool(session.scalar(select(sold)))
