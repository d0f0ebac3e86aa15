"""What the customer takes of a judged yarn: a colour and lots for each part, checked together."""

from collections import Counter
from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass

from shopdesk.answering.model.answer import (
    Candidate,
    ColourSupply,
    LotTaken,
    SelectedPart,
    Selection,
)
from shopdesk.craft.yarn import ShelfYarn
from shopdesk.services.answers import JudgedYarn
from shopdesk.shelf.loading import lots_by_yarn, yarn_keys
from shopdesk.shop.shop import Shop
from shopdesk.slips.slip_lines import SelectionError

Lots = Mapping[str | None, int]
"""Skeins that may be promised, by lot; None is what has no lot number."""


@dataclass(frozen=True, slots=True)
class PartWanted:
    """What was written for one part.

    `colour` is a code or name; None takes the first that is in stock. `lots` are skeins by lot.
    Without them `skeins` are taken from `lot`, or from one lot that has enough; where neither is
    given, the lots are those that the answer plans.
    """

    part: str
    colour: str | None = None
    lots: tuple[LotTaken, ...] = ()
    lot: str | None = None
    skeins: int | None = None


@dataclass(frozen=True, slots=True)
class PartProblem:
    """What cannot be taken for a part; `field` is 'colour', 'lot' or 'skeins'."""

    part: str
    field: str
    wrong: str
    right: str

    def __str__(self) -> str:
        return f"{self.wrong}; {self.right}"


class SelectionRefused(SelectionError):
    """What was written cannot be taken; `parts` has every reason found."""

    def __init__(self, parts: Sequence[PartProblem]) -> None:
        super().__init__(parts[0].wrong, parts[0].right, parts[0].field)
        self.parts = tuple(parts)


def select(
    judged: JudgedYarn, wanted: Sequence[PartWanted], told: Collection[str] = ()
) -> Selection:
    """Returns the whole selection of a judged yarn; no lot gives more than it has.

    `told` are the codes of the cautions that the customer was told. Raises SelectionRefused.
    """
    stock = stock_of(judged.yarn)
    parts, problems = list[SelectedPart](), list[PartProblem]()
    for one in wanted:
        try:
            parts.append(_part(judged.candidate, stock, one))
        except SelectionError as refusal:
            problems.append(PartProblem(one.part, refusal.field, refusal.wrong, refusal.right))
    problems += _taken_twice(stock, parts)
    if problems:
        raise SelectionRefused(problems)
    return Selection(judged.candidate.sku, tuple(parts), frozenset(told))


def stock_of(yarn: ShelfYarn) -> dict[str, dict[str | None, int]]:
    """Returns how many skeins of each lot of each colour may be promised."""
    stock: dict[str, dict[str | None, int]] = {}
    for lot in yarn.lots:
        if lot.available:
            lots = stock.setdefault(lot.colour_code, {})
            lots[lot.lot] = lots.get(lot.lot, 0) + lot.available
    return stock


def stock_elsewhere(shop: Shop, sku: str) -> dict[str, dict[str, int]]:
    """Returns, by colour's code, the skeins that may be promised in each other branch, by code."""
    with shop.read() as session:
        lots = lots_by_yarn(session, list(yarn_keys(session, [sku]).values()))
    found: dict[str, dict[str, int]] = {}
    for lot in (lot for those in lots.values() for lot in those):
        if lot.available and lot.branch != shop.branch:
            places = found.setdefault(lot.colour_code, {})
            places[lot.branch] = places.get(lot.branch, 0) + lot.available
    return found


def _part(candidate: Candidate, stock: Mapping[str, Lots], wanted: PartWanted) -> SelectedPart:
    colour = _colour(candidate, wanted)
    there = stock.get(colour.colour_code, {})
    if wanted.lots:
        lots = wanted.lots
    elif wanted.lot is None and wanted.skeins is None:
        lots = _planned(colour)
    else:
        lots = (_from_one_lot(colour, there, wanted.lot, _count(candidate, wanted)),)
    return SelectedPart(wanted.part, colour.colour_code, lots)


def _colour(candidate: Candidate, wanted: PartWanted) -> ColourSupply:
    there = [each for each in candidate.colours if each.part == wanted.part]
    if wanted.colour is None:
        for each in there:
            if each.available:
                return each
        raise SelectionError(
            f"there is none of {candidate.name} on the shelf for '{wanted.part}'",
            "choose another yarn",
            "colour",
        )
    written = wanted.colour.casefold()
    for each in there:
        if written in (each.colour_code.casefold(), each.colour_name.casefold()):
            return each
    codes = ", ".join(each.colour_code for each in there) or "none there are"
    raise SelectionError(
        f"{candidate.name} has no colour '{wanted.colour}'", f"choose of {codes}", "colour"
    )


def _planned(colour: ColourSupply) -> tuple[LotTaken, ...]:
    picks = tuple(LotTaken(pick.lot, pick.skeins) for pick in colour.picks if pick.skeins)
    if not picks and colour.available:
        raise SelectionError(
            "how many skeins it takes is not known",
            f"write how many of which lot of {colour.colour_name}",
            "skeins",
        )
    if not picks:
        raise SelectionError(
            f"there is none of {colour.colour_name}", "choose another colour", "colour"
        )
    return picks


def _count(candidate: Candidate, wanted: PartWanted) -> int:
    planned = next(each.skeins for each in candidate.amounts if each.part == wanted.part)
    count = wanted.skeins or planned
    if count is None:
        raise SelectionError(
            f"how many '{wanted.part}' takes is not known", "write how many to take", "skeins"
        )
    return count


def _from_one_lot(colour: ColourSupply, there: Lots, lot: str | None, count: int) -> LotTaken:
    """Takes all skeins from the lot that is named, or else from the smallest that has enough."""
    if lot is not None and lot not in there:
        raise SelectionError(
            f"there is no lot '{lot}' of {colour.colour_name}", _listed(there), "lot"
        )
    for each in [lot] if lot is not None else sorted(there, key=lambda key: there[key]):
        if there[each] >= count:
            return LotTaken(each, count)
    raise SelectionError(
        f"no such lot of {colour.colour_name} has {count} skeins",
        _listed(there),
        "skeins" if lot is None else "lot",
    )


def _listed(there: Lots) -> str:
    lots = (f"{lot or 'no number'}: {number}" for lot, number in there.items())
    return "there are " + (", ".join(lots) or "none")


def _taken_twice(stock: Mapping[str, Lots], parts: Sequence[SelectedPart]) -> Iterator[PartProblem]:
    """Yields a problem for each part that takes what other parts left no more of."""
    taken: Counter[tuple[str, str | None]] = Counter()
    for part in parts:
        for lot in part.lots:
            taken[part.colour_code, lot.lot] += lot.skeins
            there = stock.get(part.colour_code, {}).get(lot.lot, 0)
            if taken[part.colour_code, lot.lot] > there:
                name = lot.lot or "without a number"
                yield PartProblem(
                    part.part,
                    "lot",
                    f"the parts together take more of lot {name} than the {there} in stock",
                    "take another lot or colour",
                )
