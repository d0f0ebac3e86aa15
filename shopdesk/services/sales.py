"""The lots that a slip names, taken off the stock once, for a shop whose till does not."""

from dataclasses import dataclass
from datetime import datetime

from sqlalchemy import exists, select
from sqlalchemy.orm import Session

from shopdesk.craft.errors import InputError
from shopdesk.craft.messages import message
from shopdesk.shelf.branch_lots import LotAtBranch, StockRefused, branch_id, lot_id
from shopdesk.shelf.stock import MovementKind, sell
from shopdesk.shop.shop import Shop
from shopdesk.slips.slip_documents import read_choice
from shopdesk.store.models import Branch, Hold, Slip, StockMovement
from shopdesk.store.tables.stock import FIRST_BRANCH
from shopdesk.store.types import can_be_number


class SlipUnknown(InputError):
    """There is no slip of this number."""

    def __init__(self, number: int) -> None:
        wrong = message("problem_visit.no_slip", number=number)
        super().__init__(wrong, message("problem_visit.check_slip"))


def slip_row(session: Session, number: int, branch: str = FIRST_BRANCH) -> Slip:
    """Returns a stored slip. Raises SlipUnknown, and StockRefused for an unknown branch."""
    key = branch_id(session, branch)
    wanted = select(Slip).where(Slip.branch_id == key, Slip.number == number)
    row = session.scalar(wanted) if can_be_number(number) else None
    if row is None:
        raise SlipUnknown(number)
    return row


def lots_of_slip(session: Session, row: Slip) -> dict[LotAtBranch, int]:
    """Returns how many skeins of each lot a slip says, in the slip's branch."""
    branch = session.scalars(select(Branch.code).where(Branch.id == row.branch_id)).one()
    choice = read_choice(row.choice)
    lots: dict[LotAtBranch, int] = {}
    for part in choice.parts:
        for chosen in part.lots:
            where = LotAtBranch(choice.sku, part.colour_code, chosen.lot, branch)
            lots[where] = lots.get(where, 0) + chosen.skeins
    return lots


def lots_on_slip(shop: Shop, number: int) -> tuple[tuple[LotAtBranch, int], ...]:
    """Returns how many skeins of each lot a slip of the shop's branch says.

    Raises SlipUnknown, and StockRefused for an unknown branch.
    """
    with shop.read() as session:
        return tuple(lots_of_slip(session, slip_row(session, number, shop.branch)).items())


@dataclass(frozen=True, slots=True)
class SoldLot:
    """A lot of a slip that was sold, and how many skeins of it are left on hand."""

    where: LotAtBranch
    on_hand: int


def book_sale(shop: Shop, number: int, staff: str = "") -> tuple[SoldLot, ...]:
    """Sells every lot of a slip of the shop's branch, or none of them.

    Raises SlipUnknown; StockRefused where it was sold before, is on hold, names no lot, or more
    is wanted than may be promised.
    """
    moment = shop.clock()
    with shop.write() as session:
        row = slip_row(session, number, shop.branch)
        session.execute(select(Slip.id).where(Slip.id == row.id).with_for_update())
        lots = lots_of_slip(session, row)
        if not lots:
            empty = message("problem_visit.slip_empty", number=number)
            raise StockRefused(empty, message("problem_visit.lot_by_lot"))
        _check_not_held(session, row, moment)
        note = sold_note(number)
        if _is_sold(session, row.branch_id, [lot_id(session, where) for where in lots], note):
            sold = message("problem_visit.slip_sold", number=number)
            raise StockRefused(sold, message("problem_visit.nothing_more"))
        return tuple(
            SoldLot(where, sell(session, where, skeins, staff, note, moment))
            for where, skeins in lots.items()
        )


def sold_note(number: int) -> str:
    """Returns the note of the movements that a slip's sale leaves."""
    return f"slip {number}"


def _check_not_held(session: Session, row: Slip, moment: datetime) -> None:
    of_slip = Hold.slip_id == row.id
    if session.scalar(select(exists().where(of_slip, Hold.outcome == "collected"))):
        collected = message("problem_visit.slip_collected", number=row.number)
        raise StockRefused(collected, message("problem_visit.sold_already"))
    counts = Hold.closed_at.is_(None) & (Hold.ends_at > moment)
    if session.scalar(select(exists().where(of_slip, counts))):
        held = message("problem_visit.slip_held", number=row.number)
        raise StockRefused(held, message("problem_visit.collect_hold"))


def _is_sold(session: Session, branch: int, lots: list[int], note: str) -> bool:
    sold = exists().where(
        StockMovement.lot_id.in_(lots),
        StockMovement.branch_id == branch,
        StockMovement.reason == MovementKind.SOLD.value,
        StockMovement.note == note,
    )
    return bool(session.scalar(select(sold)))
