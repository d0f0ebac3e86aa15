"""Checks that every stock is the sum of its movements."""

from collections.abc import Iterator
from dataclasses import dataclass

from sqlalchemy import func, select
from sqlalchemy.orm import Session

from shopdesk.shelf.models import Branch, DyeLot, Stock, StockMovement
from shopdesk.shelf.shelved import Shelved, names


@dataclass(frozen=True, slots=True)
class Discrepancy:
    """A lot in a branch whose stock is not the sum of its movements."""

    where: Shelved
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
        .join_from(DyeLot, Branch, Branch.id > 0)
        .outerjoin(Stock, (Stock.lot_id == DyeLot.id) & (Stock.branch_id == Branch.id))
        .outerjoin(sums, (sums.c.lot_id == DyeLot.id) & (sums.c.branch_id == Branch.id))
        .where(on_hand != moved)
        .order_by(DyeLot.id, Branch.id)
    )
    for lot, branch, has, has_moved in session.execute(differing).all():
        yield Discrepancy(names(session, lot, branch), has, has_moved)
