"""From the options of `shopdesk slip` to a whole choice: each part's colour and its lots.

An option holds for every part, or for one as 'part=value'. What is not given is taken from the
answer: its first colour, and the lots that it planned.
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from shopdesk.answering.model.answer import (
    Candidate,
    ColourSupply,
    LotTaken,
    SelectedPart,
    Selection,
)
from shopdesk.craft.numerals import NumberRefused, read_number
from shopdesk.craft.yarn import ShelfYarn
from shopdesk.terminal.boundary import BadUsage

MOST_SKEINS = 1000


@dataclass(frozen=True, slots=True)
class Wanted:
    """The values of the options as they were written."""

    colours: tuple[str, ...] = ()
    lots: tuple[str, ...] = ()
    skeins: tuple[str, ...] = ()
    told: tuple[str, ...] = ()


def choice_of(candidate: Candidate, yarn: ShelfYarn, wanted: Wanted) -> Selection:
    """Returns the whole choice of a judged yarn. Raises BadUsage, naming the option."""
    parts = [amount.part for amount in candidate.amounts]
    colours = _by_part("--colour", wanted.colours, parts)
    lots = _by_part("--lot", wanted.lots, parts)
    skeins = _by_part("--skeins", wanted.skeins, parts)
    chosen = tuple(
        _chosen(candidate, yarn, part, colours.get(part), lots.get(part), skeins.get(part))
        for part in parts
    )
    return Selection(candidate.sku, chosen, frozenset(wanted.told))


def _by_part(option: str, values: Sequence[str], parts: Sequence[str]) -> dict[str, str]:
    found: dict[str, str] = {}
    for written in values:
        name, equals, value = written.partition("=")
        named = [name] if equals and name in parts else parts
        for part in named:
            if part in found and found[part] is not None and len(named) == 1:
                raise BadUsage(f"{option}: '{part}' is given twice; give it once")
            found.setdefault(part, value if len(named) == 1 and equals else written)
    return found


def _chosen(
    candidate: Candidate,
    yarn: ShelfYarn,
    part: str,
    colour: str | None,
    lot: str | None,
    skeins: str | None,
) -> SelectedPart:
    choice = _colour(candidate, part, colour)
    number = _number(skeins)
    if lot is None and number is None:
        return SelectedPart(part, choice.colour_code, _planned(choice))
    planned = next(each.skeins for each in candidate.amounts if each.part == part)
    count = number or planned
    if count is None:
        raise BadUsage(f"--skeins: how many '{part}' takes is not known; write how many to take")
    there = _stock(yarn, choice.colour_code)
    return SelectedPart(part, choice.colour_code, _taken(choice, there, lot, count))


def _colour(candidate: Candidate, part: str, wanted: str | None) -> ColourSupply:
    there = [each for each in candidate.colours if each.part == part]
    if wanted is None:
        for each in there:
            if each.available:
                return each
        raise BadUsage(f"--colour: there is none of {candidate.name} on the shelf for '{part}'")
    for each in there:
        if wanted.casefold() in (each.colour_code.casefold(), each.colour_name.casefold()):
            return each
    codes = ", ".join(each.colour_code for each in there) or "none there are"
    raise BadUsage(f"--colour: {candidate.name} has no colour '{wanted}'; choose of {codes}")


def _number(written: str | None) -> int | None:
    if written is None:
        return None
    right = f"write a whole number from 1 to {MOST_SKEINS}"
    try:
        number = read_number(written, right)
    except NumberRefused as refusal:
        raise BadUsage(f"--skeins: {refusal}") from None
    if number != int(number) or not 1 <= number <= MOST_SKEINS:
        raise BadUsage(f"--skeins: {written.strip()} skeins cannot be; {right}")
    return int(number)


def _planned(choice: ColourSupply) -> tuple[LotTaken, ...]:
    picks = tuple(LotTaken(pick.lot, pick.skeins) for pick in choice.picks if pick.skeins)
    if not picks and choice.available:
        raise BadUsage("--skeins: how many skeins it takes is not known; write how many to take")
    if not picks:
        raise BadUsage(f"--colour: there is none of {choice.colour_name}; choose another colour")
    return picks


def _stock(yarn: ShelfYarn, colour: str) -> dict[str | None, int]:
    """Returns how many skeins of each lot may be promised, in all branches together."""
    there: dict[str | None, int] = {}
    for lot in yarn.lots:
        if lot.colour_code == colour and lot.available:
            there[lot.lot] = there.get(lot.lot, 0) + lot.available
    return there


def _taken(
    choice: ColourSupply, there: Mapping[str | None, int], lot: str | None, count: int
) -> tuple[LotTaken, ...]:
    """Takes all skeins from the lot that is named, or else from the one that has enough."""
    if lot is not None and lot not in there:
        raise BadUsage(f"--lot: there is no lot '{lot}' of {choice.colour_name}; {_listed(there)}")
    for each in [lot] if lot is not None else sorted(there, key=lambda key: there[key]):
        if there[each] >= count:
            return (LotTaken(each, count),)
    raise BadUsage(
        f"{'--lot' if lot is not None else '--skeins'}: no such lot of {choice.colour_name} has "
        f"{count} skeins; {_listed(there)}"
    )


def _listed(there: Mapping[str | None, int]) -> str:
    lots: Iterable[str] = (f"{lot or 'no number'}: {number}" for lot, number in there.items())
    return "there are " + (", ".join(lots) or "none")
