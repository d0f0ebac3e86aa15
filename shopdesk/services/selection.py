"""What the customer takes of a judged yarn: a colour and lots for each part, checked together."""

from collections import Counter
from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import reduce

from shopdesk.answering.model.answer import (
    Candidate,
    ColourSupply,
    LotTaken,
    SelectedPart,
    Selection,
)
from shopdesk.craft.errors import InputErrors, Problem
from shopdesk.craft.lots import plan_lots
from shopdesk.craft.messages import Message, message
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

    `colour` is a code or name; None takes the first in stock that other parts leave enough of.
    `lots` are skeins by lot. Without them `skeins` are taken from `lot`, or from one lot that has
    enough; where neither is given, the lots are those that the answer plans.
    """

    part: str
    colour: str | None = None
    lots: tuple[LotTaken, ...] = ()
    lot: str | None = None
    skeins: int | None = None


def select(
    judged: JudgedYarn, wanted: Sequence[PartWanted], told: Collection[str] = ()
) -> Selection:
    """Returns the whole selection of a judged yarn; no lot gives more than it has.

    `told` are the codes of the cautions that the customer was told. Raises InputErrors: the path
    of each problem is the part, and 'colour', 'lot' or 'skeins'.
    """
    stock = stock_of(judged.yarn)
    left = {colour: Counter(lots) for colour, lots in stock.items()}
    selected, problems = dict[str, SelectedPart](), list[Problem]()
    # What was written comes first; what is planned takes what that leaves.
    for one in sorted(wanted, key=_is_planned):
        try:
            part = selected[one.part] = _part(judged, stock, left, one)
        except SelectionError as refusal:
            problems += [problem.under(one.part) for problem in refusal.problems]
        else:
            left[part.colour_code].subtract({lot.lot: lot.skeins for lot in part.lots})
    parts = [selected[one.part] for one in wanted if one.part in selected]
    problems += _taken_twice(stock, parts)
    if problems:
        raise InputErrors(problems)
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


def _is_planned(wanted: PartWanted) -> bool:
    return not wanted.lots and wanted.lot is None and wanted.skeins is None


def _part(
    judged: JudgedYarn, stock: Mapping[str, Lots], left: Mapping[str, Lots], wanted: PartWanted
) -> SelectedPart:
    candidate = judged.candidate
    colour = _colour(candidate, left, wanted)
    there = stock.get(colour.colour_code, {})
    if wanted.lots:
        lots = wanted.lots
    elif _is_planned(wanted):
        lots = _planned(colour, left.get(colour.colour_code, {}), judged.yarn.hand_dyed)
    else:
        lots = (_from_one_lot(colour, there, wanted.lot, _count(candidate, wanted)),)
    return SelectedPart(wanted.part, colour.colour_code, lots)


def _colour(candidate: Candidate, left: Mapping[str, Lots], wanted: PartWanted) -> ColourSupply:
    there = [each for each in candidate.colours if each.part == wanted.part]
    if wanted.colour is None:
        in_stock = [each for each in there if each.available]
        if in_stock:
            # One that other parts left too little of is taken only if there is no other.
            return next((each for each in in_stock if _is_left(each, left)), in_stock[0])
        raise SelectionError(
            message("problem_visit.none_for_part", yarn=candidate.name, part=wanted.part),
            message("problem_visit.other_yarn"),
            "colour",
        )
    written = wanted.colour.casefold()
    for each in there:
        if written in (each.colour_code.casefold(), each.colour_name.casefold()):
            return each
    wrong = message("problem_visit.yarn_without_colour", yarn=candidate.name, colour=wanted.colour)
    codes = ", ".join(each.colour_code for each in there)
    choose = message("problem_visit.choose_of", codes=codes)
    raise SelectionError(wrong, choose if codes else message("problem_visit.other_yarn"), "colour")


def _is_left(colour: ColourSupply, left: Mapping[str, Lots]) -> bool:
    planned = sum(pick.skeins for pick in colour.picks)
    return sum(left.get(colour.colour_code, {}).values()) >= planned


def _planned(colour: ColourSupply, left: Lots, hand_dyed: bool) -> tuple[LotTaken, ...]:
    """Returns the lots that the answer plans, or others where other parts took of those."""
    picks = tuple(LotTaken(pick.lot, pick.skeins) for pick in colour.picks if pick.skeins)
    if not picks and colour.available:
        raise SelectionError(
            message("problem_visit.skeins_unknown"),
            message("problem_visit.write_lots", colour=colour.colour_name),
            "skeins",
        )
    if not picks:
        wrong = message("problem_visit.none_of", colour=colour.colour_name)
        raise SelectionError(wrong, message("problem_visit.other_colour"), "colour")
    if all(left.get(pick.lot, 0) >= pick.skeins for pick in picks):
        return picks
    needed = sum(pick.skeins for pick in picks)
    plan = plan_lots(needed, list(left.items()), hand_dyed)
    if plan.short_by:
        there = needed - plan.short_by
        wrong = message(
            "problem_visit.parts_take", colour=colour.colour_name, number=needed, there=there
        )
        raise SelectionError(wrong, message("problem_visit.other_colour"), "colour")
    return tuple(LotTaken(pick.lot, pick.skeins) for pick in plan.picks)


def _count(candidate: Candidate, wanted: PartWanted) -> int:
    planned = next(each.skeins for each in candidate.amounts if each.part == wanted.part)
    count = wanted.skeins or planned
    if count is None:
        wrong = message("problem_visit.part_unknown", part=wanted.part)
        raise SelectionError(wrong, message("problem_visit.write_skeins"), "skeins")
    return count


def _from_one_lot(colour: ColourSupply, there: Lots, lot: str | None, count: int) -> LotTaken:
    """Takes all skeins from the lot that is named, or else from the smallest that has enough."""
    if lot is not None and lot not in there:
        wrong = message("problem_visit.no_lot_of", lot=lot, colour=colour.colour_name)
        raise SelectionError(wrong, _listed(there), "lot")
    for each in [lot] if lot is not None else sorted(there, key=lambda key: there[key]):
        if there[each] >= count:
            return LotTaken(each, count)
    raise SelectionError(
        message("problem_visit.no_lot_enough", colour=colour.colour_name, number=count),
        _listed(there),
        "skeins" if lot is None else "lot",
    )


def _listed(there: Lots) -> Message:
    if not there:
        return message("problem_visit.there_are_none")
    lots = reduce(
        lambda listed, last: message("problem_visit.and_lot", listed=listed, last=last),
        (_lot_with(lot, number) for lot, number in there.items()),
    )
    return message("problem_visit.there_are", lots=lots)


def _lot_with(lot: str | None, number: int) -> Message:
    if not lot:
        return message("problem_visit.without_number_with", number=number)
    return message("problem_visit.lot_with", lot=lot, number=number)


def _taken_twice(stock: Mapping[str, Lots], parts: Sequence[SelectedPart]) -> Iterator[Problem]:
    """Yields a problem for each part that takes what other parts left no more of."""
    taken: Counter[tuple[str, str | None]] = Counter()
    for part in parts:
        for lot in part.lots:
            taken[part.colour_code, lot.lot] += lot.skeins
            there = stock.get(part.colour_code, {}).get(lot.lot, 0)
            if taken[part.colour_code, lot.lot] > there:
                wrong = _more_than(lot.lot, there)
                right = message("problem_visit.other_lot_or_colour")
                yield Problem((part.part, "lot"), wrong, right)


def _more_than(lot: str | None, there: int) -> Message:
    if not lot:
        return message("problem_visit.taken_twice_unnumbered", there=there)
    return message("problem_visit.taken_twice", lot=lot, there=there)
