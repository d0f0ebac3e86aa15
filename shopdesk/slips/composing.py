"""From an answer and a selection to a slip, unless a caution that must be told first was not."""

from collections.abc import Collection, Iterator, Mapping
from datetime import date

from shopdesk.answering.judging.item_care import differences_left
from shopdesk.answering.model.answer import Answer, Candidate, Caution, Selection, Suitability
from shopdesk.answering.model.ask import Ask
from shopdesk.craft.colours import mixed_messages
from shopdesk.craft.messages import Message, message
from shopdesk.craft.yarn import ShelfYarn
from shopdesk.parsing.gtins import GtinRefused, read_gtin
from shopdesk.slips.barcodes import barcode
from shopdesk.slips.content import CautionNote, SlipContent, SlipHeader, SlipShop
from shopdesk.slips.pattern_asks import pattern_facts
from shopdesk.slips.slip_lines import SelectionError, slip_lines
from shopdesk.slips.swatch_card import swatch_card

THE_SAME = frozenset(
    {
        "judging.gauge_same",
        "judging.length_same",
        "judging.fabric_same",
        "judging.crochet_same_weight",
        "fabric.same_mass",
    }
)
"""Reasons that say that nothing differs: no news for a slip's list of differences."""
SAID_ELSEWHERE = frozenset({"unknown.after_washing"})
"""What the swatch card says in its steps."""


class CautionsNotTold(SelectionError):
    """Flagged cautions that the customer has not been told; `cautions` are those."""

    def __init__(self, cautions: tuple[Caution, ...]) -> None:
        codes = ", ".join(caution.code for caution in cautions)
        super().__init__(
            message("problem_shelf.untold", codes=codes), message("problem_shelf.tell_first")
        )
        self.cautions = cautions


def untold_cautions(
    answer: Answer, candidate: Candidate, told: Collection[str] = ()
) -> tuple[Caution, ...]:
    """Returns the cautions that the customer must be told still; `told` are codes."""
    cautions = _all_cautions(answer, candidate)
    return tuple(one for one in cautions if one.flag and one.code not in told)


def compose(
    ask: Ask,
    answer: Answer,
    choice: Selection,
    shelf: Mapping[str, ShelfYarn],
    shop: SlipShop,
    stamp: SlipHeader,
    *,
    held_until: date | None = None,
) -> SlipContent:
    """Returns the slip's content; `shelf` holds the chosen yarn (and its companion) by SKU.

    Raises SelectionError if the choice does not fit, CautionsNotTold if a flag is not answered.
    """
    candidate = _chosen(answer, choice, shelf)
    return SlipContent(
        shop=shop,
        stamp=stamp,
        title=ask.title,
        pattern=pattern_facts(ask),
        yarn=candidate.name,
        standing=tuple(_standing(answer, candidate, choice)),
        lines=slip_lines(candidate, choice, shelf),
        swatch=swatch_card(ask, candidate),
        differences=_differences(candidate, choice),
        care=candidate.care.words,
        care_by_default=candidate.care.by_default,
        cautions=_cautions(answer, candidate, choice),
        unknown=tuple(one for one in answer.unknown if one.code not in SAID_ELSEWHERE),
        held_until=held_until,
        warnings=tuple(_warnings(candidate, choice, shelf)),
    )


def _chosen(answer: Answer, choice: Selection, shelf: Mapping[str, ShelfYarn]) -> Candidate:
    candidate = answer.candidate(choice.sku)
    if candidate is None or choice.sku not in shelf:
        raise SelectionError(
            message("problem_shelf.yarn_not_there", sku=choice.sku),
            message("problem_shelf.choose_answer"),
        )
    return candidate


_STANDING = {
    Suitability.AS_IT_IS: message("slip.standing_as_it_is"),
    Suitability.SWATCH_FIRST: message("slip.standing_swatch_first"),
    Suitability.WITH_A_CHANGE: message("slip.standing_with_a_change"),
    Suitability.NOT_FOR_THIS: message("slip.standing_not_for_this"),
}


def _standing(answer: Answer, candidate: Candidate, choice: Selection) -> Iterator[Message]:
    yield _STANDING[candidate.group]
    if candidate.change is not None:
        yield candidate.change
    yield from candidate.also_change
    yield from candidate.reasons[:1]
    chosen = {part.part for part in choice.parts}
    for need in answer.needs:
        if need.part not in chosen:
            yield message("slip.part_not_chosen", part=need.part)


def _differences(candidate: Candidate, choice: Selection) -> tuple[Message, ...]:
    """How fabric and washing differ from the designer's yarn and from what is wished."""
    words = candidate.fabric.words if candidate.fabric else ()
    care = candidate.care
    chosen = {(part.part, part.colour_code) for part in choice.parts}
    darks = [c.dark for c in candidate.colours if (c.part, c.colour_code) in chosen]
    left = differences_left(care, candidate.cautions)
    washing = (*left, *care.changes, *mixed_messages(darks, ()))
    every = dict.fromkeys((*candidate.reasons, *words, *washing))
    told = (*candidate.reasons[:1], *(one for one in care.differences if one not in left))
    return tuple(one for one in every if one.code not in THE_SAME and one not in told)


def _cautions(answer: Answer, candidate: Candidate, choice: Selection) -> tuple[CautionNote, ...]:
    untold = untold_cautions(answer, candidate, choice.told)
    if untold:
        raise CautionsNotTold(untold)
    return tuple(CautionNote(c, c.code in choice.told) for c in _all_cautions(answer, candidate))


def _all_cautions(answer: Answer, candidate: Candidate) -> tuple[Caution, ...]:
    cautions = (*candidate.cautions, *answer.cautions)
    return tuple({caution.code: caution for caution in cautions}.values())


def to_bring_over(candidate: Candidate, choice: Selection) -> tuple[Message, ...]:
    """Returns what of the choice must be brought over from other branches first."""
    chosen = {(part.part, part.colour_code) for part in choice.parts}
    there = (one for one in candidate.colours if (one.part, one.colour_code) in chosen)
    return tuple(dict.fromkeys(one.bring_over for one in there if one.bring_over is not None))


def _warnings(
    candidate: Candidate, choice: Selection, shelf: Mapping[str, ShelfYarn]
) -> Iterator[Message]:
    """What staff should know: lots of other branches; bar codes not printed, in-store numbers."""
    for said in to_bring_over(candidate, choice):
        yield Message("slip.warn_bring_over", said.values)
    colours = {(colour.part, colour.colour_code): colour.gtin for colour in candidate.colours}
    chosen = (colours.get((part.part, part.colour_code)) for part in choice.parts)
    for number in dict.fromkeys(gtin or shelf[candidate.sku].gtin for gtin in chosen):
        if number is None:
            yield message("slip.warn_no_barcode", name=candidate.name)
            continue
        try:
            barcode(number)
            if read_gtin(number).in_store:
                yield message("slip.warn_in_store", number=number)
        except GtinRefused:
            yield message("slip.warn_not_printed", number=number)
