"""The lots that a slip names, as they are named on the shelf."""

from sqlalchemy import select
from sqlalchemy.orm import Session

from shopdesk.craft.refusals import Refused
from shopdesk.shelf.models import Branch, Slip
from shopdesk.shelf.shelved import FIRST_BRANCH, Shelved, branch_id
from shopdesk.slips.documents import read_choice


class SlipUnknown(Refused):
    """There is no slip of this number."""

    def __init__(self, number: int) -> None:
        super().__init__(f"there is no slip {number}", "check the number at the top of the slip")


def slip_row(session: Session, number: int, branch: str = FIRST_BRANCH) -> Slip:
    """Returns a stored slip. Raises SlipUnknown, and StockRefused for an unknown branch."""
    key = branch_id(session, branch)
    row = session.scalar(select(Slip).where(Slip.branch_id == key, Slip.number == number))
    if row is None:
        raise SlipUnknown(number)
    return row


def lots_of_slip(session: Session, row: Slip) -> dict[Shelved, int]:
    """Returns how many skeins of each lot a slip says, in the slip's branch."""
    branch = session.scalars(select(Branch.code).where(Branch.id == row.branch_id)).one()
    choice = read_choice(row.choice)
    lots: dict[Shelved, int] = {}
    for part in choice.parts:
        for chosen in part.lots:
            where = Shelved(choice.sku, part.colour_code, chosen.lot, branch)
            lots[where] = lots.get(where, 0) + chosen.skeins
    return {where: skeins for where, skeins in lots.items() if skeins > 0}
