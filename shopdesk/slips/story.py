"""A slip's words as ReportLab flowables for one paper."""

from collections.abc import Iterator, Sequence
from typing import Any

from reportlab.lib.styles import ParagraphStyle
from reportlab.lib.units import mm
from reportlab.platypus import (
    Flowable,
    HRFlowable,
    Spacer,
    TableStyle,
)

from shopdesk.slips.barcodes import Bars, barcode
from shopdesk.slips.fonts import REGULAR
from shopdesk.slips.slip_words import (
    BigFigure,
    CautionWords,
    LabelledValue,
    LineWords,
    Passage,
    SlipText,
)
from shopdesk.slips.typography import CachedParagraph, FixedTable, Run, Styles, paragraph

FLUSH: list[tuple[Any, ...]] = [
    ("LEFTPADDING", (0, 0), (-1, -1), 0),
    ("RIGHTPADDING", (0, 0), (-1, -1), 0),
    ("TOPPADDING", (0, 0), (-1, -1), 0),
    ("BOTTOMPADDING", (0, 0), (-1, -1), 0),
    ("VALIGN", (0, 0), (-1, -1), "TOP"),
    ("FONTNAME", (0, 0), (-1, -1), REGULAR),
]
GUTTER = 4 * mm
BARS_MM = 44.0
CARD_PADDING = 2.4 * mm
NO_BREAK = "\u00a0"
LONGEST_UNBROKEN = 18
WIDE_SPACE = "\u00a0\u00a0\u00a0\u00a0 "
WIDE_DOT = "\u00a0 \u00b7\u00a0 "
THREE_ABREAST_MM = 75.0
"""Below this width the swatch's three figures stand one below the other."""


def story(words: SlipText, styles: Styles) -> list[Flowable]:
    """Returns the flowables of the whole slip, new ones at each call."""
    return list(_Story(words, styles).parts())


class _Story:
    def __init__(self, words: SlipText, styles: Styles) -> None:
        self.words = words
        self.styles = styles

    def parts(self) -> Iterator[Flowable]:
        words = self.words
        yield from self._head()
        yield from self._title()
        yield from self._section(words.pattern.title, self._facts(words.pattern.facts))
        yield self._rule()
        yield from self._till()
        yield from self._swatch()
        for passage in words.fabric_and_care:
            yield from self._passage(passage)
        if words.cautions.notes:
            yield from self._section(words.cautions.title, list(self._cautions()))
        for passage in words.end:
            yield from self._passage(passage)

    def _rule(self) -> Flowable:
        space = self.styles.gap
        return HRFlowable(
            "100%", 0.5, color=self.styles.rule, spaceBefore=space * 0.6, spaceAfter=space * 0.6
        )

    def _head(self) -> Iterator[Flowable]:
        head, styles = self.words.head, self.styles
        yield _text(head.shop, styles.shop)
        if styles.hangs and head.address:
            yield _text(WIDE_DOT.join(head.address), styles.address)
        else:
            yield from (_text(line, styles.address) for line in head.address)
        yield self._rule()
        yield self._stamp()

    def _stamp(self) -> Flowable:
        head = self.words.head
        runs: list[str | Run] = []
        for one in (*head.stamp, *head.customer):
            name, value = _unbroken(one.name), _unbroken(one.value)
            runs += [WIDE_SPACE if runs else "", f"{name}{NO_BREAK}", Run(value, bold=True)]
        return paragraph(self.styles.body, *runs)

    def _title(self) -> Iterator[Flowable]:
        words, styles = self.words, self.styles
        yield Spacer(0, styles.gap)
        yield _text(words.title, styles.title)
        yield _text(words.yarn, styles.yarn)
        yield Spacer(0, styles.gap * 0.4)
        for sentence in (words.head.replaces, *words.standing):
            if sentence:
                yield _text(sentence, styles.body)

    def _section(self, title: str, rows: Sequence[Flowable]) -> Iterator[Flowable]:
        """A title in its column with rows beside it, or above them on narrow paper."""
        styles = self.styles
        yield Spacer(0, styles.gap)
        label = _text(title, styles.label)
        if not styles.hangs:
            label.keepWithNext = True
            yield label
            yield from rows
            return
        cells = [[label if number == 0 else Spacer(0, 0), row] for number, row in enumerate(rows)]
        widths = [styles.label_pt, styles.text_pt - styles.label_pt]
        look = TableStyle([*FLUSH, ("RIGHTPADDING", (0, 0), (0, -1), 2 * mm)])
        yield FixedTable(cells, colWidths=widths, style=look)

    def _passage(self, passage: Passage) -> Iterator[Flowable]:
        """Sentences follow one another where the column is wide, and stand apart elsewhere."""
        joined = (" ".join(passage.sentences),) if self.styles.hangs else passage.sentences
        rows = [_text(sentence, self.styles.body) for sentence in joined]
        rows += [_text(passage.basis, self.styles.small)] if passage.basis else []
        yield from self._section(passage.title, rows)

    def _facts(self, facts: Sequence[LabelledValue]) -> list[Flowable]:
        styles = self.styles
        every: list[list[str | Run]] = [
            [Run(f"{fact.name} ", colour=styles.quiet), fact.value] for fact in facts
        ]
        if not styles.hangs:
            return [paragraph(styles.body, *runs) for runs in every]
        joined = [run for runs in every for run in (WIDE_DOT, *runs)]
        return [paragraph(styles.body, *joined[1:])]

    def _till(self) -> Iterator[Flowable]:
        till, styles = self.words.till, self.styles
        for number, line in enumerate(till.lines):
            yield from self._section(till.title if number == 0 else "", [self._line(line)])
        terms = [_text(till.terms, styles.small)]
        if till.total:
            terms.insert(0, _text(till.total, styles.total))
        yield from self._section("", terms)

    def _line(self, line: LineWords) -> Flowable:
        """Texts with the bar code and the price beside them, or below on narrow paper."""
        styles = self.styles
        width = styles.text_pt - styles.label_pt
        texts = self._line_texts(line)
        till: list[Flowable] = [Bars(barcode(line.barcode))] if line.barcode else []
        till.append(_text(line.price, styles.price if till else styles.body))
        notes: list[Flowable] = [_text(" ".join(line.notes), styles.small)] * bool(line.notes)
        if width < (BARS_MM + 40) * mm:
            stacked = [row for row in (texts, till, notes) if row]
            look = TableStyle([*FLUSH, ("TOPPADDING", (0, 1), (-1, -1), 3)])
            return FixedTable([[row] for row in stacked], colWidths=[width], style=look)
        widths = [width - BARS_MM * mm, BARS_MM * mm]
        beside = FixedTable([[texts, till]], colWidths=widths, style=TableStyle(FLUSH))
        rows: list[list[Flowable]] = [[beside], *([note] for note in notes)]
        return FixedTable(rows, colWidths=[width], style=TableStyle(FLUSH))

    def _line_texts(self, line: LineWords) -> list[Flowable]:
        styles = self.styles
        name = Run(line.name, bold=True, size=styles.strong.fontSize)
        colour = f"{NO_BREAK} {line.colour}" if line.colour else ""
        texts: list[Flowable] = [_text(line.part, styles.label)] if line.part else []
        texts.append(paragraph(styles.body, name, colour))
        return [*texts, *(_text(amount, styles.body) for amount in line.amounts)]

    def _swatch(self) -> Iterator[Flowable]:
        styles, card = self.styles, self.words.swatch
        inner = styles.text_pt - 2 * CARD_PADDING
        rows: list[Flowable] = [_text(card.title, styles.strong)]
        if card.figures:
            rows.append(self._figures(card.figures, inner))
        steps = [self._numbered(number, step) for number, step in enumerate(card.steps, 1)]
        outcomes: list[Flowable] = [_text(outcome, styles.body) for outcome in card.outcomes]
        if styles.hangs:
            rows.append(self._side_by_side(steps, outcomes, inner))
        else:
            rows += [*steps, *outcomes]
        yield Spacer(0, styles.gap)
        look = TableStyle(self._card_style())
        yield FixedTable([[row] for row in rows], colWidths=[styles.text_pt], style=look)

    def _side_by_side(
        self, left: Sequence[Flowable], right: Sequence[Flowable], width: float
    ) -> Flowable:
        look = TableStyle([*FLUSH, ("RIGHTPADDING", (0, 0), (0, 0), GUTTER)])
        return FixedTable([[list(left), list(right)]], colWidths=[width / 2, width / 2], style=look)

    def _card_style(self) -> list[tuple[Any, ...]]:
        edge: list[tuple[Any, ...]] = [
            ("NOSPLIT", (0, 0), (-1, -1)),
            ("FONTNAME", (0, 0), (-1, -1), REGULAR),
            ("LEFTPADDING", (0, 0), (-1, -1), CARD_PADDING),
            ("RIGHTPADDING", (0, 0), (-1, -1), CARD_PADDING),
            ("TOPPADDING", (0, 0), (-1, -1), 1),
            ("BOTTOMPADDING", (0, 0), (-1, -1), 1),
            ("BOTTOMPADDING", (0, 1), (-1, 1), 4),
            ("TOPPADDING", (0, 0), (-1, 0), CARD_PADDING * 0.8),
            ("BOTTOMPADDING", (0, -1), (-1, -1), CARD_PADDING),
        ]
        if self.styles.card is not None:
            return [*edge, ("BACKGROUND", (0, 0), (-1, -1), self.styles.card)]
        return [*edge, ("BOX", (0, 0), (-1, -1), 0.8, self.styles.rule)]

    def _figures(self, figures: Sequence[BigFigure], width: float) -> Flowable:
        if width < THREE_ABREAST_MM * mm:
            return self._stacked_figures(figures, width)
        styles = self.styles
        cells = [
            [
                _text(figure.name, styles.small),
                _text(figure.value, styles.figure),
                _text(figure.below, styles.small),
            ]
            for figure in figures
        ]
        share = [width / len(cells)] * len(cells)
        return FixedTable([cells], colWidths=share, style=TableStyle(FLUSH))

    def _stacked_figures(self, figures: Sequence[BigFigure], width: float) -> Flowable:
        styles = self.styles
        cells = [
            [
                _text(figure.value, styles.figure),
                [_text(text, styles.small) for text in (figure.name, figure.below) if text],
            ]
            for figure in figures
        ]
        value = styles.figure.fontSize * 6
        look = TableStyle(
            [*FLUSH, ("VALIGN", (0, 0), (-1, -1), "MIDDLE"), ("BOTTOMPADDING", (0, 0), (-1, -1), 3)]
        )
        return FixedTable(cells, colWidths=[value, width - value], style=look)

    def _numbered(self, number: int, step: str) -> Flowable:
        return paragraph(self.styles.step, step, bullet=str(number))

    def _cautions(self) -> Iterator[Flowable]:
        for basis, notes in self.words.cautions.by_basis():
            yield from (self._caution(note) for note in notes)
            if basis:
                yield _text(basis, self.styles.basis)

    def _caution(self, caution: CautionWords) -> Flowable:
        kind = Run(f"{caution.kind}.", bold=True)
        told = f" {caution.told}" if caution.told else ""
        return paragraph(self.styles.body, kind, f" {caution.said}{told}")


def _unbroken(words: str) -> str:
    """Short words that are read as one, such as a date, stay on one line."""
    return words.replace(" ", NO_BREAK) if len(words) <= LONGEST_UNBROKEN else words


def _text(text: str, style: ParagraphStyle) -> CachedParagraph:
    return paragraph(style, text)
