"""Changing the stock of one lot by hand: what came, was counted, was sold, or is put right."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace

from shopdesk.craft.lengths import LOT, fitting
from shopdesk.craft.messages import message
from shopdesk.craft.quantity import MOST_SKEINS
from shopdesk.shelf.branch_lots import LotAtBranch, StockRefused
from shopdesk.shelf.stock import correct, count, on_hand, receive, sell
from shopdesk.shop.shop import Shop
from shopdesk.store.request_keys import first_time

CHANGES: Mapping[str, Callable[..., int]] = {
    "receive": receive,
    "count": count,
    "sell": sell,
    "correct": correct,
}
"""What each kind of change does, each by (session, lot, skeins, staff, note, moment)."""


def require_skeins(skeins: int) -> None:
    """Raises StockRefused for more skeins than any shop has of a lot, more or less than none."""
    if abs(skeins) > MOST_SKEINS:
        wrong = message("problem_shelf.too_many_skeins", number=str(skeins)[:20])
        right = message("problem_file.write_whole", low=0, high=MOST_SKEINS)
        raise StockRefused(wrong, right, "skeins")


@dataclass(frozen=True, slots=True)
class StockChange:
    """One change of a lot in a branch; `kind` is one of CHANGES.

    `skeins` is how many came or were sold, how many are there, or by how many the stock is off.
    `request_key` is a random word of the form that asks: sent twice, it changes once.
    """

    kind: str
    where: LotAtBranch
    skeins: int
    staff: str = ""
    note: str = ""
    request_key: str | None = None


def change_stock(shop: Shop, wanted: StockChange) -> int:
    """Changes the stock with a movement. Returns what is then on hand. Raises InputError."""
    change = CHANGES.get(wanted.kind)
    if change is None:
        wrong = message("problem_visit.no_stock_change", text=wanted.kind[:40])
        known = message("problem_shelf.give_one_of", names=", ".join(CHANGES))
        raise StockRefused(wrong, known, "change")
    require_skeins(wanted.skeins)
    lot = wanted.where.lot
    too_long = message("problem_shelf.lot_long")
    where = replace(wanted.where, lot=fitting(lot, LOT, too_long, "lot") if lot else None)
    with shop.write() as session:
        if not first_time(session, wanted.request_key):
            return on_hand(session, where)
        return change(session, where, wanted.skeins, wanted.staff, wanted.note, shop.clock())
