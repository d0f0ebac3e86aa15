"""The house's branches, and skeins that go from one to another."""

import re
from dataclasses import dataclass

from sqlalchemy import select

from shopdesk.craft import lengths
from shopdesk.craft.errors import InputError
from shopdesk.craft.messages import message
from shopdesk.services.stock_changes import require_skeins
from shopdesk.shelf.branch_lots import LotAtBranch
from shopdesk.shelf.stock import available, transfer
from shopdesk.shop.shop import Shop
from shopdesk.slips.visible import visible
from shopdesk.store.database import ignoring_twins
from shopdesk.store.models import Branch
from shopdesk.store.request_keys import first_time

_CODE = re.compile(r"[a-z0-9][a-z0-9-]{0,19}", re.ASCII)


@dataclass(frozen=True, slots=True)
class BranchName:
    """A branch by its code, and the name that people call it by."""

    code: str
    name: str

    @property
    def shown(self) -> str:
        """The name, or the code of a branch without one."""
        return self.name or self.code


def list_branches(shop: Shop) -> tuple[BranchName, ...]:
    """Returns the house's branches, the first one first."""
    with shop.read() as session:
        rows = session.execute(select(Branch.code, Branch.name).order_by(Branch.id))
        return tuple(BranchName(row.code, row.name) for row in rows)


def add_branch(shop: Shop, code: str, name: str = "") -> BranchName:
    """Adds a branch to the house. Raises InputError."""
    if not _CODE.fullmatch(code):
        raise InputError(
            message("problem_visit.no_branch_code", text=visible(code)[:40]),
            message("problem_visit.write_branch_code", count=lengths.BRANCH_CODE),
        )
    name = visible(name)
    if len(name) > lengths.BRANCH:
        most = message("problem_shelf.letters_most", count=lengths.BRANCH)
        raise InputError(message("problem_visit.name_long"), most)
    with shop.write() as session:
        insert = ignoring_twins(session, Branch, code=code, name=name).returning(Branch.id)
        if session.execute(insert).first() is None:
            there = message("problem_visit.branch_there", text=code)
            raise InputError(there, message("problem_visit.other_code"))
    return BranchName(code, name)


@dataclass(frozen=True, slots=True)
class Transfer:
    """Skeins of a lot on their way to another branch; `request_key` is the form's random word."""

    where: LotAtBranch
    to_branch: str
    skeins: int
    staff: str = ""
    request_key: str | None = None


def transfer_skeins(shop: Shop, wanted: Transfer) -> int:
    """Moves skeins that are free to another branch, with a movement in each. Returns what is free.

    A form sent twice moves them once. Raises StockRefused.
    """
    require_skeins(wanted.skeins)
    moment = shop.clock()
    with shop.write() as session:
        if first_time(session, wanted.request_key):
            transfer(session, wanted.where, wanted.to_branch, wanted.skeins, wanted.staff, moment)
        return available(session, wanted.where, moment)
