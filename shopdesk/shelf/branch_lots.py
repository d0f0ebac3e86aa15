"""A dye lot in a branch by the names that people use, and the rows behind them."""

from dataclasses import dataclass

from sqlalchemy import select
from sqlalchemy.orm import Session

from shopdesk.craft.errors import InputError
from shopdesk.craft.messages import Message, message
from shopdesk.store.database import ignoring_twins
from shopdesk.store.tables.stock import FIRST_BRANCH, Branch
from shopdesk.store.tables.yarns import Colourway, DyeLot, Yarn


class StockRefused(InputError):
    """Something about stock that cannot be."""


@dataclass(frozen=True, slots=True)
class LotAtBranch:
    """A dye lot in a branch, named by its yarn and colour. `lot` is None without lots."""

    sku: str
    colour_code: str
    lot: str | None
    branch: str = FIRST_BRANCH

    @property
    def said(self) -> Message:
        """Its name as a message: 'T-1 colour 01 lot 7974 in north'."""
        name = message("problem_shelf.colour_of", sku=self.sku, colour=self.colour_code)
        if self.lot:
            name = message("problem_shelf.lot_of", colour=name, lot=self.lot)
        if self.branch != FIRST_BRANCH:
            name = message("problem_shelf.lot_in", lot=name, branch=self.branch)
        return name

    def __str__(self) -> str:
        lot = f" lot {self.lot}" if self.lot else ""
        place = "" if self.branch == FIRST_BRANCH else f" in {self.branch}"
        return f"{self.sku} colour {self.colour_code}{lot}{place}"


def branch_id(session: Session, code: str) -> int:
    """Returns the key of a branch. Raises StockRefused if there is none of this code."""
    found = session.scalar(select(Branch.id).where(Branch.code == code))
    if found is None:
        known = ", ".join(session.scalars(select(Branch.code).order_by(Branch.id)))
        raise StockRefused(
            message("problem_shelf.no_branch", branch=code),
            message("problem_shelf.give_one_of", names=known),
        )
    return found


def lot_id(session: Session, where: LotAtBranch, make: bool = False) -> int:
    """Returns the key of a dye lot; `make` makes one that is new. Raises StockRefused."""
    colour = _colour_id(session, where)
    lot = where.lot or ""
    wanted = select(DyeLot.id).where(DyeLot.colourway_id == colour, DyeLot.lot == lot)
    found = session.scalar(wanted)
    if found is not None:
        return found
    if not make:
        raise StockRefused(
            message("problem_shelf.no_lot", lot=where.said), message("problem_shelf.check_lot")
        )
    session.execute(ignoring_twins(session, DyeLot, colourway_id=colour, lot=lot))
    return session.scalars(wanted).one()


def names(session: Session, lot: int, branch: int) -> LotAtBranch:
    """Returns the names of a dye lot in a branch."""
    row = session.execute(
        select(Yarn.sku, Colourway.code, DyeLot.lot, Branch.code)
        .select_from(DyeLot)
        .join(Colourway, Colourway.id == DyeLot.colourway_id)
        .join(Yarn, Yarn.id == Colourway.yarn_id)
        .join(Branch, Branch.id == branch)
        .where(DyeLot.id == lot)
    ).one()
    return LotAtBranch(row[0], row[1], row[2] or None, row[3])


def _colour_id(session: Session, where: LotAtBranch) -> int:
    found = session.scalar(
        select(Colourway.id)
        .join(Yarn, Yarn.id == Colourway.yarn_id)
        .where(Yarn.sku == where.sku, Colourway.code == where.colour_code)
    )
    if found is None:
        raise StockRefused(
            message("problem_shelf.no_colour", sku=where.sku, colour=where.colour_code),
            message("problem_shelf.check_colour"),
        )
    return found
