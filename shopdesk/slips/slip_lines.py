"""The lines of a slip: for each part what to take to the till, and how it was counted."""

from collections.abc import Iterator, Mapping
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
from shopdesk.craft.figures import Basis
from shopdesk.craft.messages import Message, MessageValue, message
from shopdesk.craft.money import line_total
from shopdesk.craft.quantity import planning_m
from shopdesk.craft.yarn import ShelfYarn
from shopdesk.slips.barcodes import printable
from shopdesk.slips.content import LotPrinted, SlipLine


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
    lines = [_line(candidate, yarn, part) for part in choice.parts]
    return (*lines, *_companion_lines(candidate, shelf))


def _line(candidate: Candidate, yarn: ShelfYarn, chosen: SelectedPart) -> SlipLine:
    colour = _colour(candidate, chosen)
    amount = next((a for a in candidate.amounts if a.part == chosen.part), None)
    skeins = sum(lot.skeins for lot in chosen.lots)
    if any(lot.skeins < 1 for lot in chosen.lots) or not skeins:
        raise SelectionError(
            message("problem_shelf.part_without_skeins", part=chosen.part),
            message("problem_shelf.take_one"),
        )
    ball = sold_put_up(yarn.label)
    spare_m, spare_g = _spare(amount, skeins, yarn)
    return SlipLine(
        part=chosen.part,
        yarn=candidate.name,
        sku=candidate.sku,
        colour=_colour_words(colour),
        lots=tuple(LotPrinted(lot.lot, lot.skeins) for lot in chosen.lots),
        skeins=skeins,
        each=candidate.price.each,
        total=_total(candidate.price, skeins),
        gtin=printable(colour.gtin) or printable(yarn.gtin),
        strands=amount.strands if amount else 1,
        length_m=ball.metres * skeins if ball else None,
        mass_g=ball.grams * skeins if ball else None,
        spare_m=spare_m,
        spare_g=spare_g,
        notes=tuple(_notes(amount, colour, chosen)),
    )


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


def _notes(
    amount: PartAmount | None, colour: ColourSupply, chosen: SelectedPart
) -> Iterator[Message]:
    if amount is not None and amount.need.plan_m is None:
        yield message("slip.need_unknown")
        yield from amount.need.why
    elif amount is not None:
        yield from _need(amount.need)
        yield from amount.why
    if len({lot.lot for lot in chosen.lots}) > 1 or any(lot.lot is None for lot in chosen.lots):
        yield from colour.advice


def _need(need: Need) -> Iterator[Message]:
    """The pattern's need, the allowance on it, and what the customer holds of it already."""
    pattern = need.pattern_m
    if pattern is None or need.plan_m is None:
        return
    values: dict[str, MessageValue] = {
        "allowance_percent": need.allowance_percent,
        "total_m": planning_m(pattern) + need.allowance_m,
    }
    bounds: dict[str, MessageValue] = {"low_m": pattern.low, "high_m": pattern.high}
    if need.rough:
        yield Message("slip.need_rough", values | bounds)
    elif pattern.basis is Basis.ESTIMATE:
        yield Message("slip.need_estimated", values | bounds)
    elif pattern.low < pattern.high:
        yield Message("slip.need_range", values | bounds)
    else:
        yield Message("slip.need", values | {"need_m": pattern.value})
    if need.own_m:
        yield message("slip.need_own", own_m=need.own_strand_m, plan_m=need.plan_m)
    yield from need.own_told


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
