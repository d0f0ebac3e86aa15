"""What the customer takes of a judged yarn: a colour and lots for each part, checked together."""

from collections import Counter
from collections.abc import Collection, Iterator, Mapping, Sequence
from contextlib import contextmanager
from dataclasses import dataclass
from functools import reduce

from shopdesk.answering.model.answer import (
    Candidate,
    ColourSupply,
    LotTaken,
    SelectedPart,
    Selection,
)
from shopdesk.answering.supply.amounts import skeins_together
from shopdesk.craft.counts import sold_put_up
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

    Parts of one colour whose skeins nobody wrote are rounded up together, so that one may take
    none of its own: it is made of what is left of the others. `told` are the codes of the cautions
    that the customer was told. Raises InputErrors: the path of each problem is the part, and
    'colour', 'lot' or 'skeins'.
    """
    taking = _Taking(judged)
    # What was written comes first; what is counted takes what that leaves.
    taking.take_as_written([one for one in wanted if not _is_counted(one)])
    taking.take_as_counted([one for one in wanted if _is_counted(one)])
    parts = [taking.selected[one.part] for one in wanted if one.part in taking.selected]
    problems = [*taking.problems, *_taken_twice(taking.stock, parts)]
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


def _is_counted(wanted: PartWanted) -> bool:
    """True where the answer says how many skeins the part takes."""
    return not wanted.lots and wanted.skeins is None


class _Taking:
    """What the parts take so far, and what that leaves of the stock."""

    def __init__(self, judged: JudgedYarn) -> None:
        self.judged, self.stock = judged, stock_of(judged.yarn)
        self.left = {colour: Counter(lots) for colour, lots in self.stock.items()}
        self.selected: dict[str, SelectedPart] = {}
        self.problems: list[Problem] = []

    def take_as_written(self, wanted: Sequence[PartWanted]) -> None:
        """Takes the lots or the number of skeins that were written."""
        for one in wanted:
            with self._noting(one.part):
                colour = self._colour(one, ())
                lots = one.lots or (self._from_one_lot(colour, one.lot, one.skeins or 0),)
                self._keep(one.part, colour, lots)

    def take_as_counted(self, wanted: Sequence[PartWanted]) -> None:
        """Takes what the answer counts, the parts of one colour and lot together."""
        groups: dict[tuple[str, str | None], list[ColourSupply]] = {}
        for one in wanted:
            with self._noting(one.part):
                colour = self._colour(one, [each for group in groups.values() for each in group])
                groups.setdefault((colour.colour_code, one.lot), []).append(colour)
        for (_, lot), colours in groups.items():
            counts = self._together([colour.part for colour in colours])
            if len(colours) > 1 and counts is not None:
                with self._noting(colours[-1].part):
                    self._take_together(colours, counts, lot)
                continue
            for colour in colours:
                with self._noting(colour.part):
                    self._keep(colour.part, colour, self._counted(colour, lot))

    @contextmanager
    def _noting(self, part: str) -> Iterator[None]:
        try:
            yield
        except SelectionError as refusal:
            self.problems += [problem.under(part) for problem in refusal.problems]

    def _keep(self, part: str, colour: ColourSupply, lots: tuple[LotTaken, ...]) -> None:
        self.selected[part] = SelectedPart(part, colour.colour_code, lots)
        self.left[colour.colour_code].subtract({lot.lot: lot.skeins for lot in lots})

    def _counted(self, colour: ColourSupply, lot: str | None) -> tuple[LotTaken, ...]:
        if lot is not None:
            return (self._from_one_lot(colour, lot, self._count(colour.part)),)
        left: Lots = self.left.get(colour.colour_code, {})
        return _planned(colour, left, self.judged.yarn.hand_dyed)

    def _take_together(
        self, colours: Sequence[ColourSupply], counts: Sequence[int], lot: str | None
    ) -> None:
        first, needed = colours[0], sum(counts)
        if lot is not None:
            lots: tuple[LotTaken, ...] = (self._from_one_lot(first, lot, needed),)
        else:
            left: Lots = self.left.get(first.colour_code, {})
            lots = _from_lots(first, counts, left, self.judged.yarn.hand_dyed)
        for colour, mine in zip(colours, _shared_out(lots, counts), strict=True):
            self._keep(colour.part, colour, mine)

    def _together(self, parts: Sequence[str]) -> tuple[int, ...] | None:
        amounts = {amount.part: amount for amount in self.judged.candidate.amounts}
        ball = sold_put_up(self.judged.yarn.label)
        return skeins_together([amounts[part] for part in parts], ball.metres if ball else None)

    def _count(self, part: str) -> int:
        amounts = self.judged.candidate.amounts
        count = next(each.skeins for each in amounts if each.part == part)
        if count is None:
            wrong = message("problem_visit.part_unknown", part=part)
            raise SelectionError(wrong, message("problem_visit.write_skeins"), "skeins")
        return count

    def _colour(self, wanted: PartWanted, before: Sequence[ColourSupply]) -> ColourSupply:
        """Returns the part's colour; `before` are those of the parts that are counted so far."""
        candidate = self.judged.candidate
        there = [each for each in candidate.colours if each.part == wanted.part]
        if wanted.colour is not None:
            return _named(candidate, there, wanted.colour)
        in_stock = [each for each in there if each.available]
        if in_stock:
            # One that other parts left too little of is taken only if there is no other.
            return next((each for each in in_stock if self._is_left(each, before)), in_stock[0])
        raise SelectionError(
            message("problem_visit.none_for_part", yarn=candidate.name, part=wanted.part),
            message("problem_visit.other_yarn"),
            "colour",
        )

    def _is_left(self, colour: ColourSupply, before: Sequence[ColourSupply]) -> bool:
        alike = [each.part for each in before if each.colour_code == colour.colour_code]
        counts = self._together([*alike, colour.part]) if alike else None
        needed = sum(counts) if counts else sum(pick.skeins for pick in colour.picks)
        return sum(self.left.get(colour.colour_code, {}).values()) >= needed

    def _from_one_lot(self, colour: ColourSupply, lot: str | None, count: int) -> LotTaken:
        """Takes all skeins from the lot that is named, or else the smallest that has enough."""
        there = self.stock.get(colour.colour_code, {})
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


def _named(candidate: Candidate, there: Sequence[ColourSupply], colour: str) -> ColourSupply:
    written = colour.casefold()
    for each in there:
        if written in (each.colour_code.casefold(), each.colour_name.casefold()):
            return each
    wrong = message("problem_visit.yarn_without_colour", yarn=candidate.name, colour=colour)
    codes = ", ".join(each.colour_code for each in there)
    choose = message("problem_visit.choose_of", codes=codes)
    raise SelectionError(wrong, choose if codes else message("problem_visit.other_yarn"), "colour")


def _shared_out(lots: Sequence[LotTaken], counts: Sequence[int]) -> Iterator[tuple[LotTaken, ...]]:
    """Yields what each part takes of the lots, in their order; one may take none."""
    skeins = [lot.lot for lot in lots for _ in range(lot.skeins)]
    for count in counts:
        mine, skeins = skeins[:count], skeins[count:]
        yield tuple(LotTaken(lot, number) for lot, number in Counter(mine).items())


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
    return _from_lots(colour, [sum(pick.skeins for pick in picks)], left, hand_dyed)


def _from_lots(
    colour: ColourSupply, counts: Sequence[int], left: Lots, hand_dyed: bool
) -> tuple[LotTaken, ...]:
    """Takes the skeins of all parts; where too few are left, the last part is refused."""
    plan = plan_lots(sum(counts), list(left.items()), hand_dyed)
    if plan.short_by:
        there = max(0, counts[-1] - plan.short_by)
        wrong = message(
            "problem_visit.parts_take", colour=colour.colour_name, number=counts[-1], there=there
        )
        raise SelectionError(wrong, message("problem_visit.other_colour"), "colour")
    return tuple(LotTaken(pick.lot, pick.skeins) for pick in plan.picks)


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
