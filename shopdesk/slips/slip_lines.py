"""The lines of a slip: for each part what to take to the till, and how it was counted."""

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from decimal import Decimal

from shopdesk.answering.model.answer import (
    Candidate,
    ColourSupply,
    Need,
    PartAmount,
    Price,
    SelectedPart,
    Selection,
)
from shopdesk.craft.counts import sold_put_up
from shopdesk.craft.errors import InputError
from shopdesk.craft.figures import Basis, Figure
from shopdesk.craft.messages import Message, MessageValue, message
from shopdesk.craft.money import line_total
from shopdesk.craft.quantity import in_skeins_m, planning_m
from shopdesk.craft.yarn import ShelfYarn
from shopdesk.slips.barcodes import printable
from shopdesk.slips.content import LotPrinted, SlipLine

OFFERED = frozenset({"needs.prudent_extra", "needs.prudent_extra_plain"})
"""What is decided at the counter and no news on a slip."""


class SelectionError(InputError):
    """The choice does not fit the answer."""


def slip_lines(
    candidate: Candidate, choice: Selection, shelf: Mapping[str, ShelfYarn]
) -> tuple[SlipLine, ...]:
    """Returns one line for each chosen part, and one for a second yarn held with the first.

    Raises SelectionError for a part, colour or count that the answer does not have.
    """
    if not choice.parts:
        raise SelectionError(message("problem_shelf.no_part"), message("problem_shelf.choose_part"))
    yarn = shelf[candidate.sku]
    lines = [_line(candidate, yarn, parts) for parts in _sold_together(candidate, choice)]
    return (*lines, *_companion_lines(candidate, shelf))


def _sold_together(candidate: Candidate, choice: Selection) -> list[list[SelectedPart]]:
    """The parts of each line: those of one colour that share a lot or were rounded up together."""
    groups: list[list[SelectedPart]] = []
    for part in choice.parts:
        amount = _amount(candidate, part)
        fewer = amount is not None and amount.skeins is not None and _skeins(part) < amount.skeins
        with_it = (group for group in groups if _go_together(group, part, fewer))
        found = next(with_it, None)
        if found is None:
            groups.append([part])
        else:
            found.append(part)
    return groups


def _go_together(group: Sequence[SelectedPart], part: SelectedPart, fewer: bool) -> bool:
    if group[0].colour_code != part.colour_code:
        return False
    taken = {lot.lot for other in group for lot in other.lots}
    return fewer or not part.lots or any(lot.lot in taken for lot in part.lots)


def _amount(candidate: Candidate, part: SelectedPart) -> PartAmount | None:
    return next((each for each in candidate.amounts if each.part == part.part), None)


def _skeins(*parts: SelectedPart) -> int:
    return sum(lot.skeins for part in parts for lot in part.lots)


def _line(candidate: Candidate, yarn: ShelfYarn, parts: Sequence[SelectedPart]) -> SlipLine:
    names = tuple(part.part for part in parts)
    colours = [_colour(candidate, part) for part in parts]
    lots, skeins = _lots(parts), _skeins(*parts)
    if any(lot.skeins < 1 for part in parts for lot in part.lots) or not skeins:
        raise SelectionError(
            message("problem_shelf.part_without_skeins", part=names[0]),
            message("problem_shelf.take_one"),
        )
    ball = sold_put_up(yarn.label)
    spare_m, spare_g = _spare_of_all(candidate, parts, yarn)
    amount = _amount(candidate, parts[0])
    return SlipLine(
        part=", ".join(names),
        yarn=candidate.name,
        sku=candidate.sku,
        colour=_colour_words(colours[0]),
        lots=lots,
        skeins=skeins,
        each=candidate.price.each,
        total=_total(candidate.price, skeins),
        gtin=printable(colours[0].gtin) or printable(yarn.gtin),
        strands=amount.strands if amount else 1,
        length_m=ball.metres * skeins if ball else None,
        mass_g=ball.grams * skeins if ball else None,
        spare_m=spare_m,
        spare_g=spare_g,
        notes=tuple(_all_notes(candidate, parts, colours)),
        parts=names if len(names) > 1 else (),
    )


def _lots(parts: Sequence[SelectedPart]) -> tuple[LotPrinted, ...]:
    taken = Counter[str | None]()
    for part in parts:
        for lot in part.lots:
            taken[lot.lot] += lot.skeins
    return tuple(LotPrinted(lot, skeins) for lot, skeins in taken.items())


def _colour(candidate: Candidate, chosen: SelectedPart) -> ColourSupply:
    there = [colour for colour in candidate.colours if colour.part == chosen.part]
    for colour in there:
        if colour.colour_code == chosen.colour_code:
            return colour
    raise SelectionError(
        message(
            "problem_shelf.no_colour_for",
            yarn=candidate.name,
            colour=chosen.colour_code,
            part=chosen.part,
        ),
        message("problem_shelf.choose_one_of", names=", ".join(one.colour_code for one in there))
        if there
        else message("problem_shelf.part_of_pattern"),
    )


def _colour_words(colour: ColourSupply) -> str:
    return " ".join(word for word in (colour.colour_name, colour.colour_code) if word)


def _total(price: Price, skeins: int) -> Decimal:
    return line_total(price.each, skeins, price.currency)


def _spare(
    amount: PartAmount | None, skeins: int, yarn: ShelfYarn
) -> tuple[float | None, float | None]:
    """The answer's spare, moved by as many skeins as the customer took more or fewer."""
    ball = sold_put_up(yarn.label)
    if amount is None or amount.skeins is None or amount.spare_m is None:
        return None, None
    more = skeins - amount.skeins
    if not more:
        return amount.spare_m, amount.spare_g
    if ball is None:
        return None, None
    spare_g = None if amount.spare_g is None else amount.spare_g + more * ball.grams
    return amount.spare_m + more * ball.metres, spare_g


def _spare_of_all(
    candidate: Candidate, parts: Sequence[SelectedPart], yarn: ShelfYarn
) -> tuple[float | None, float | None]:
    spares = [_spare(_amount(candidate, part), _skeins(part), yarn) for part in parts]
    metres = [spare_m for spare_m, _ in spares if spare_m is not None]
    grams = [spare_g for _, spare_g in spares if spare_g is not None]
    return (
        sum(metres) if len(metres) == len(parts) else None,
        sum(grams) if len(grams) == len(parts) else None,
    )


def _all_notes(
    candidate: Candidate, parts: Sequence[SelectedPart], colours: Sequence[ColourSupply]
) -> Iterator[Message]:
    """How each part was counted, by its name where there are several, and what the lots want."""
    if len(parts) == 1:
        yield from _notes(_amount(candidate, parts[0]), parts[0])
    else:
        yield from _notes_of_several(candidate, parts)
    lots = {lot.lot for part in parts for lot in part.lots}
    if len(lots) > 1 or None in lots:
        yield from dict.fromkeys(said for colour in colours for said in colour.advice)


def _notes_of_several(candidate: Candidate, parts: Sequence[SelectedPart]) -> Iterator[Message]:
    """What each part needs; what was counted is said once, for all of them."""
    in_skeins = 0.0
    for part in parts:
        for said in _notes(_amount(candidate, part), part):
            if said.code == "slip.in_skeins":
                in_skeins += float(str(said.values["total_m"]))
            elif said.code != "needs.counted_more":
                yield message("slip.of_part", part=part.part, said=said)
    if in_skeins:
        yield message("slip.in_skeins", total_m=in_skeins)
    amounts = (_amount(candidate, part) for part in parts)
    counted = sum(amount.skeins or 0 for amount in amounts if amount)
    if _skeins(*parts) < counted:
        yield message("slip.rounded_together", count=_skeins(*parts))


def _notes(amount: PartAmount | None, chosen: SelectedPart) -> Iterator[Message]:
    if amount is not None and amount.need.plan_m is None:
        yield message("slip.need_unknown")
        yield from amount.need.why
    elif amount is not None:
        yield from _need(amount.need, in_skeins=amount.skeins is not None)
        yield from _why(amount, chosen)


def _why(amount: PartAmount, chosen: SelectedPart) -> Iterator[Message]:
    """How the amount was counted; what was offered at the counter is settled by now."""
    for said in amount.why:
        fewer = said.code == "needs.counted_more" and _skeins(chosen) < (amount.skeins or 0)
        if not fewer and said.code not in OFFERED:
            yield said


def _need(need: Need, in_skeins: bool) -> Iterator[Message]:
    """The pattern's need, the allowance on it, and what the customer holds of it already."""
    pattern = need.pattern_m
    if pattern is None or need.plan_m is None or need.skein_m is None:
        return
    if in_skeins:
        yield from _need_in_skeins(need, pattern)
    else:
        yield _need_with_allowance(need, pattern)
    if need.own_m:
        still = need.skein_m if in_skeins else need.plan_m
        yield message("slip.need_own", own_m=need.own_strand_m, plan_m=still)
    yield from (said for said in need.why if said.code == "needs.why_there")
    yield from need.own_told


def _need_in_skeins(need: Need, pattern: Figure) -> Iterator[Message]:
    values: dict[str, MessageValue] = {"low_m": pattern.low, "high_m": pattern.high}
    if need.rough:
        yield Message("slip.skeins_rough", values)
    elif pattern.basis is Basis.ESTIMATE:
        yield Message("slip.skeins_estimated", values)
    elif pattern.low < pattern.high:
        yield Message("slip.skeins_range", values)
    else:
        yield message("slip.skeins_need", need_m=pattern.value)
    yield message("slip.in_skeins", total_m=in_skeins_m(pattern, need.allowance_percent))


def _need_with_allowance(need: Need, pattern: Figure) -> Message:
    values: dict[str, MessageValue] = {
        "allowance_percent": need.allowance_percent,
        "total_m": planning_m(pattern) + need.allowance_m,
    }
    bounds: dict[str, MessageValue] = {"low_m": pattern.low, "high_m": pattern.high}
    if need.rough:
        return Message("slip.need_rough", values | bounds)
    if pattern.basis is Basis.ESTIMATE:
        return Message("slip.need_estimated", values | bounds)
    if pattern.low < pattern.high:
        return Message("slip.need_range", values | bounds)
    return Message("slip.need", values | {"need_m": pattern.value})


def _companion_lines(candidate: Candidate, shelf: Mapping[str, ShelfYarn]) -> Iterator[SlipLine]:
    second = candidate.companion
    if second is None or not second.skeins:
        return
    yarn = shelf.get(second.sku)
    ball = sold_put_up(yarn.label) if yarn else None
    yield SlipLine(
        part="",
        yarn=second.name,
        sku=second.sku,
        colour="",
        lots=(),
        skeins=second.skeins,
        each=second.price.each,
        total=_total(second.price, second.skeins),
        gtin=printable(yarn.gtin) if yarn else None,
        length_m=ball.metres * second.skeins if ball else None,
        mass_g=ball.grams * second.skeins if ball else None,
        notes=(message("slip.line_companion", name=candidate.name),),
    )
