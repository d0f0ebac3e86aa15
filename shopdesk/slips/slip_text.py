"""Puts a slip's content into words: one language, one system of units, the shop's currency."""

import re
from collections.abc import Iterable, Iterator
from dataclasses import replace

from shopdesk.craft.messages import Message, message
from shopdesk.craft.yarn import Craft
from shopdesk.slips.content import CautionNote, Fact, LotPrinted, SlipContent, SlipLine, SwatchCard
from shopdesk.slips.slip_words import (
    BigFigure,
    CautionsWords,
    CautionWords,
    HeadWords,
    LabelledValue,
    LineWords,
    Passage,
    SlipText,
    SwatchWords,
    TillWords,
)
from shopdesk.slips.swatch_card import SWATCH_CM
from shopdesk.slips.visible import visible
from shopdesk.wording.formatting import ReaderPreferences
from shopdesk.wording.translate import translate

_NUMBER_AND_UNIT = re.compile(r"([\d¼½¾]) (?=(?:m|yd|g|oz|cm|mm|in|°[CF])\b)")
"""Where a line must not break: between a number and its unit."""


def slip_text(content: SlipContent, reader: ReaderPreferences) -> SlipText:
    """Returns the slip in the reader's language and units, with money in the shop's currency.

    Control and direction characters of any value are shown by their codes.
    """
    return _Speaker(replace(reader, currency=content.shop.currency)).slip(content)


class _Speaker:
    def __init__(self, reader: ReaderPreferences) -> None:
        self.reader = reader

    def say(self, one: Message) -> str:
        return _NUMBER_AND_UNIT.sub("\\1\u00a0", visible(translate(one, self.reader)))

    def all(self, many: Iterable[Message]) -> tuple[str, ...]:
        return tuple(self.say(one) for one in many)

    def slip(self, content: SlipContent) -> SlipText:
        shop, number = content.shop, content.stamp.number
        facts = tuple(self._fact(fact) for fact in content.pattern)
        pages = message("slip.page", number=number, page="{page}", pages="{pages}")
        return SlipText(
            language=self.reader.language,
            document_title=self.say(message("slip.document_title", number=number, shop=shop.name)),
            page_of_pages=self.say(pages),
            head=self._head(content),
            title=visible(content.title),
            yarn=self.say(message("slip.in_yarn", name=content.yarn)),
            standing=self.all(content.standing),
            pattern=Passage(self.say(message("slip.part_pattern")), facts=facts),
            till=self._till(content),
            swatch=self._swatch(content.swatch),
            fabric_and_care=tuple(self._fabric_and_care(content)),
            cautions=self._cautions(content.cautions),
            end=tuple(self._end(content)),
        )

    def _head(self, content: SlipContent) -> HeadWords:
        shop, replaces = content.shop, content.stamp.replaces
        return HeadWords(
            shop=visible(shop.name),
            address=_lines(shop.address),
            stamp=tuple(self._stamp(content)),
            customer_title=self.say(message("slip.name_customer")),
            customer_name=visible(content.customer_name or ""),
            replaces=self.say(message("slip.replaces", number=replaces)) if replaces else "",
        )

    def _stamp(self, content: SlipContent) -> Iterator[LabelledValue]:
        stamp = content.stamp
        yield LabelledValue(
            self.say(message("slip.name_number")),
            self.say(message("slip.number", number=stamp.number)),
        )
        yield LabelledValue(
            self.say(message("slip.name_date")),
            self.say(message("slip.on", on_date=stamp.on.isoformat())),
        )
        if stamp.staff:
            yield LabelledValue(self.say(message("slip.name_staff")), visible(stamp.staff))

    def _fact(self, fact: Fact) -> LabelledValue:
        name = self.say(message("slip.named", name=self.say(fact.name)))
        return LabelledValue(name, self.say(fact.value))

    def _till(self, content: SlipContent) -> TillWords:
        many = len(content.lines) > 1
        total = message("slip.total", total_price=content.total)
        included = content.shop.tax_included
        tax = message("slip.tax_included") if included else message("slip.tax_excluded")
        return TillWords(
            title=self.say(message("slip.part_yarn")),
            lines=tuple(self._line(line, many) for line in content.lines),
            total=self.say(total) if many else "",
            terms=" ".join(self.all((message("slip.estimate"), tax))),
        )

    def _line(self, line: SlipLine, one_of_many: bool) -> LineWords:
        price = message(
            "slip.line_price", skeins=line.skeins, each_price=line.each, total_price=line.total
        )
        return LineWords(
            part=visible(line.part) if one_of_many or line.parts else "",
            name=visible(line.yarn),
            colour=visible(line.colour),
            amounts=self.all(_amounts(line)),
            price=self.say(price),
            notes=self.all(line.notes),
            barcode=line.gtin or "",
            barcode_name=self.say(message("slip.barcode", number=line.gtin)) if line.gtin else "",
        )

    def _swatch(self, card: SwatchCard) -> SwatchWords:
        return SwatchWords(
            title=self.say(message("slip.part_swatch")),
            figures=tuple(self._figures(card)),
            steps=self.all(card.steps),
            outcomes=self.all(card.outcomes),
        )

    def _figures(self, card: SwatchCard) -> Iterator[BigFigure]:
        knit = card.craft is Craft.KNIT
        if card.tool is not None:
            name = message("slip.figure_needle") if knit else message("slip.figure_hook")
            yield BigFigure(
                self.say(name),
                self.say(message("slip.tool_mm", tool_mm=card.tool.mm)),
                " ".join(self.all(_other_numbers(card.tool.us, card.tool.uk))),
            )
        if card.cast_on is not None:
            name = message("slip.figure_cast_on") if knit else message("slip.figure_chain")
            below = message("slip.cast_on_below", count=card.cast_on, side_cm=SWATCH_CM)
            number = message("slip.cast_on_number", count=card.cast_on)
            yield BigFigure(self.say(name), self.say(number), self.say(below))
        if card.stitches is not None:
            yield self._aim(card.stitches, card.rows)

    def _aim(self, stitches: float, rows: float | None) -> BigFigure:
        name = self.say(message("slip.figure_aim"))
        if rows is None:
            value, below = message("slip.aim", stitches_st=stitches), message("slip.aim_below")
        else:
            value = message("slip.aim_rows", stitches_st=stitches, rows_st=rows)
            below = message("slip.aim_rows_below")
        return BigFigure(name, self.say(value), self.say(below))

    def _fabric_and_care(self, content: SlipContent) -> Iterator[Passage]:
        if content.differences:
            yield self._passage("slip.part_differences", content.differences)
        yield self._care(content)

    def _care(self, content: SlipContent) -> Passage:
        title = self.say(message("slip.part_care"))
        not_a_label = message("slip.advice_not_label")
        if not content.care:
            words = self.say(message("slip.care_unknown"))
            return Passage(title, (words,), self.say(not_a_label))
        basis = () if content.care_by_default else (message("slip.care_from_band"),)
        return Passage(
            title, (" ".join(self.all(content.care)),), " ".join(self.all((*basis, not_a_label)))
        )

    def _end(self, content: SlipContent) -> Iterator[Passage]:
        if content.unknown:
            yield self._passage("slip.part_unknown", content.unknown)
        if content.held_until is not None:
            until = message("slip.held_until", until_date=content.held_until.isoformat())
            yield self._passage("slip.part_hold", (until,))
        returns = _lines(content.shop.return_wording.splitlines())
        if returns:
            yield Passage(self.say(message("slip.part_returns")), returns)

    def _passage(self, title: str, sentences: Iterable[Message]) -> Passage:
        return Passage(self.say(Message(title)), self.all(sentences))

    def _cautions(self, notes: tuple[CautionNote, ...]) -> CautionsWords:
        if not notes:
            return CautionsWords("", ())
        return CautionsWords(
            title=self.say(message("slip.part_cautions")),
            notes=tuple(self._caution(note) for note in notes),
        )

    def _caution(self, note: CautionNote) -> CautionWords:
        said, basis = _halves(note.caution.text)
        return CautionWords(
            kind=self.say(message("slip.law") if note.caution.law else message("slip.advice")),
            text=self.say(note.caution.text),
            said=self.say(said),
            basis=self.say(basis) if basis else "",
            told=self.say(message("slip.told")) if note.told else "",
        )


def _halves(caution: Message) -> tuple[Message, Message | None]:
    """A caution's words, with their condition, and its basis, where it is made of these two."""
    text, basis = caution.values.get("text_term"), caution.values.get("basis_term")
    if isinstance(text, str) and isinstance(basis, str):
        conditional = caution.code == "cautions.with_basis_if_baby"
        said = message("cautions.if_baby", text_term=text) if conditional else Message(text)
        return said, Message(basis)
    return caution, None


def _lines(written: Iterable[str]) -> tuple[str, ...]:
    return tuple(line for line in map(visible, written) if line)


def _other_numbers(us: str | None, uk: str | None) -> Iterator[Message]:
    if us and uk:
        yield message("slip.tool_us_uk", us=us, uk=uk)
    elif us:
        yield message("slip.tool_us", us=us)
    elif uk:
        yield message("slip.tool_uk", uk=uk)


def _amounts(line: SlipLine) -> Iterator[Message]:
    for lot in line.lots:
        yield _lot_text(lot)
    if not line.lots:
        yield message("slip.skeins", count=line.skeins)
    if line.length_m is not None and line.mass_g is not None:
        yield message("slip.line_holds", length_m=line.length_m, mass_g=line.mass_g)
    if line.spare_m is None:
        return
    if line.spare_m < 0:
        yield message("slip.line_short", short_m=-line.spare_m)
    elif line.spare_g is None:
        yield message("slip.line_spare_length", spare_m=line.spare_m)
    else:
        yield message("slip.line_spare", spare_m=line.spare_m, spare_g=line.spare_g)


def _lot_text(lot: LotPrinted) -> Message:
    if lot.lot is None:
        return message("slip.skeins_no_lot", count=lot.skeins)
    return message("slip.skeins_of_lot", count=lot.skeins, lot=lot.lot)
