"""Which lot is taken: dye lots to take the skeins from, and what to do where they are mixed.

Among lots that hold enough, the one taken is the one whose remainder serves the shop best:
a lot used up to the last skein comes first; then the smallest lot that still leaves at least
three skeins, so that big lots stay whole for big items; a remainder of one or two skeins,
which nobody can use, comes last. Where no lot is enough, the fewest lots are mixed,
the largest first, and the last of them is chosen by the same rule.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import NamedTuple

from shopdesk.craft.messages import Message, message
from shopdesk.craft.yarn import LotStock
from shopdesk.reference.tables import constant

Lot = tuple[str | None, int]


class LotPick(NamedTuple):
    """So many skeins of one lot (None: a yarn without lots) and what then is left of it."""

    lot: str | None
    skeins: int
    left: int


@dataclass(frozen=True, slots=True)
class LotPlan:
    """The picks, whether they are all of one lot, and how many skeins the stock is short by."""

    picks: tuple[LotPick, ...]
    one_lot: bool
    short_by: int
    advice: tuple[Message, ...]


def lots_planned_in(branch: str, lots: Sequence[LotStock]) -> tuple[LotStock, ...]:
    """Returns the lots that a counter in this branch plans with.

    Of each colour these are the branch's own, or those of every branch where it has none.
    """
    here = {lot.colour_code for lot in lots if lot.available and lot.branch == branch}
    return tuple(lot for lot in lots if lot.branch == branch or lot.colour_code not in here)


def only_in(branch: str, lots: Sequence[LotStock]) -> tuple[str, ...]:
    """Returns the branches that all of these lots lie in; none where this branch has some."""
    places = tuple(sorted({lot.branch for lot in lots if lot.available}))
    return () if branch in places else places


def bring_over(colours: Sequence[str], branches: Sequence[str]) -> Message:
    """Returns that the lots of these colours lie in other branches and must be brought over."""
    return message("lots.bring_over", colours=tuple(colours), branches=tuple(branches))


def plan_lots(needed: int, lots: Sequence[Lot], hand_dyed: bool = False) -> LotPlan:
    """Returns how `needed` skeins are best taken from (lot, skeins in stock) pairs.

    Never takes more than is in stock. The same lot listed twice is one lot; the order of the
    list makes no difference. Hand-dyed yarn without lots counts as one lot for no more than
    one skein. Raises ValueError if `needed` is negative.
    """
    if needed < 0:
        raise ValueError(f"{needed} skeins cannot be needed")
    picks, short_by = _picks(needed, _by_lot(lots))
    unlike = hand_dyed and needed > 1 and any(pick.lot is None for pick in picks)
    one_lot = len(picks) <= 1 and not short_by and not unlike
    return LotPlan(picks, one_lot, short_by, _advice(picks, short_by, hand_dyed))


def _by_lot(lots: Sequence[Lot]) -> list[Lot]:
    stock: dict[str | None, int] = {}
    for lot, skeins in lots:
        if skeins > 0:
            stock[lot] = stock.get(lot, 0) + skeins
    if len(stock) < 2:
        return list(stock.items())
    return sorted(stock.items(), key=_largest_first)


def _largest_first(lot: Lot) -> tuple[int, str]:
    return -lot[1], _name(lot)


def _name(lot: Lot | LotPick) -> str:
    return lot[0] or ""


def _picks(needed: int, stock: list[Lot]) -> tuple[tuple[LotPick, ...], int]:
    """Returns the picks, and how many skeins are short; `stock` has the largest lot first."""
    picks: list[LotPick] = []
    left = list(stock)
    while needed > 0 and left:
        enough = [lot for lot in left if lot[1] >= needed]
        chosen = min(enough, key=lambda lot: _remainder_rank(lot, needed), default=left[0])
        skeins = min(needed, chosen[1])
        picks.append(LotPick(chosen[0], skeins, chosen[1] - skeins))
        left.remove(chosen)
        needed -= skeins
    return tuple(picks), needed


def _remainder_rank(lot: Lot, needed: int) -> tuple[bool, int, str]:
    left = lot[1] - needed
    useful = not left or left >= constant("amount_models", "useful_remainder").value
    return not useful, left if useful else -left, _name(lot)


def _advice(picks: Sequence[LotPick], short_by: int, hand_dyed: bool) -> tuple[Message, ...]:
    advice: list[Message] = []
    if short_by:
        advice.append(message("lots.short_by", count=short_by))
    if len(picks) > 1:
        advice.append(message("lots.mixed", count=len(picks)))
    if hand_dyed and sum(pick.skeins for pick in picks) > 1:
        advice.append(message("lots.hand_dyed_alternate"))
    elif len(picks) > 1:
        advice += [message("lots.alternate_rows"), *_odd_lot(picks)]
    return tuple(advice)


def _odd_lot(picks: Sequence[LotPick]) -> list[Message]:
    """Returns where to hide the smallest lot, if it is small enough to be hidden."""
    smallest = min(picks, key=lambda pick: (pick.skeins, _name(pick)))
    share = smallest.skeins / sum(pick.skeins for pick in picks)
    if smallest.lot is None or share > constant("amount_models", "sleeves_share").value:
        return []
    in_ribs = share <= constant("amount_models", "ribs_share").value
    code = "lots.odd_lot_ribs" if in_ribs else "lots.odd_lot_sleeves"
    return [message(code, lot=smallest.lot, count=smallest.skeins)]
