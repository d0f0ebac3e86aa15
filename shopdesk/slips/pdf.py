"""A slip as a PDF: the same words and paper always give the same bytes."""

from collections.abc import Callable, Sequence
from functools import partial
from io import BytesIO
from threading import Lock
from typing import Any, Self

from reportlab.lib.units import mm
from reportlab.pdfgen.canvas import Canvas
from reportlab.platypus import BaseDocTemplate, Flowable, Frame, PageTemplate

from shopdesk.slips.fonts import REGULAR, drawn, load_fonts
from shopdesk.slips.papers import Paper
from shopdesk.slips.slip_words import SlipText
from shopdesk.slips.story import story
from shopdesk.slips.typography import Styles, styles_for

LONGEST_ROLL_MM = 5000.0
"""A page of a PDF is at most 14,400 points (5,080 mm) long in common readers."""
SMALLER = (1.0, 0.95, 0.9, 0.86)
"""How far the letters of a sheet may shrink, step by step, to keep the slip on one page."""
LEAST_OF_MANY = 2
_drawing = Lock()


def draw_words(words: SlipText, paper: Paper) -> bytes:
    """Returns a slip that has been put into words as a PDF."""
    with _drawing:
        load_fonts()
        if paper.is_roll:
            return _on_roll(words, styles_for(paper))
        return _on_sheets(words, paper)


def _on_roll(words: SlipText, styles: Styles) -> bytes:
    paper, flowables = styles.paper, story(words, styles)
    needed = height_of(flowables, styles) + (paper.top_mm + paper.foot_mm) * mm
    return _Slip(words, styles, min(needed, LONGEST_ROLL_MM * mm)).laid_out(flowables).file()


def _on_sheets(words: SlipText, paper: Paper) -> bytes:
    """On one page if letters that are still readable allow it."""
    height = (paper.height_mm or 0.0) * mm
    room = height - (paper.top_mm + paper.foot_mm) * mm
    measured: dict[float, list[Flowable]] = {}
    full = 0.0
    for scale in SMALLER:
        if full * scale * scale > room:
            continue
        styles = styles_for(paper, scale)
        measured[scale] = flowables = story(words, styles)
        needed = height_of(flowables, styles)
        if needed <= room:
            return _Slip(words, styles, height).laid_out(flowables).file()
        full = full or needed
    return _on_many(words, paper, height, measured)


def _on_many(
    words: SlipText, paper: Paper, height: float, measured: dict[float, list[Flowable]]
) -> bytes:
    """On several pages: in full size, or in the largest size that saves a page."""
    best: _Slip | None = None
    for scale in SMALLER:
        styles = styles_for(paper, scale)
        slip = _Slip(words, styles, height)
        slip.laid_out(measured.get(scale) or story(words, styles))
        if best is None or slip.page < best.page:
            best = slip
        if best.page <= LEAST_OF_MANY:
            break
    return best.file() if best else b""


def height_of(flowables: Sequence[Flowable], styles: Styles) -> float:
    """Returns the height in points that a slip's flowables take in one column."""
    height = after = 0.0
    for flowable in flowables:
        before = max(flowable.getSpaceBefore() - after, 0.0) if height else 0.0
        after = flowable.getSpaceAfter()
        height += before + flowable.wrap(styles.text_pt, LONGEST_ROLL_MM * mm)[1] + after
    return height + 1.0


class _Slip(BaseDocTemplate):
    """A slip being laid out on pages of one height in points."""

    def __init__(self, words: SlipText, styles: Styles, height: float) -> None:
        self._words, self._styles = words, styles
        self._buffer = BytesIO()
        paper = styles.paper
        width, side = paper.width_mm * mm, paper.side_mm * mm
        super().__init__(
            self._buffer,
            pagesize=(width, height),
            title=drawn(words.document_title),
            author=drawn(words.head.shop),
            subject=drawn(words.title),
            creator="Shopdesk",
            lang=words.language,
            displayDocTitle=1,
            invariant=1,
            initialFontName=REGULAR,
        )
        top, foot = paper.top_mm * mm, paper.foot_mm * mm
        frame = Frame(side, foot, width - 2 * side, height - top - foot, 0, 0, 0, 0)
        self.addPageTemplates(PageTemplate(frames=[frame]))

    def laid_out(self, flowables: Sequence[Flowable]) -> Self:
        """Sets everything on its pages, of which `page` is then the number."""
        self._doSave = 0
        self.build(list(flowables), canvasmaker=partial(_NumberedPages, self._foot))
        return self

    def file(self) -> bytes:
        """Returns the file of what was laid out."""
        self.canv.save()
        return self._buffer.getvalue()

    def _foot(self, canvas: Canvas, page: int, pages: int) -> None:
        small = self._styles.small
        text = self._words.page_of_pages.replace("{page}", str(page))
        canvas.setFont(REGULAR, small.fontSize)
        canvas.setFillColor(self._styles.quiet)
        middle = self._styles.paper.width_mm * mm / 2
        canvas.drawCentredString(middle, 5 * mm, drawn(text.replace("{pages}", str(pages))))


class _NumberedPages(Canvas):
    """Holds the pages back until their number is known; a page alone has no number."""

    def __init__(
        self, foot: Callable[[Canvas, int, int], None], *arguments: Any, **options: Any
    ) -> None:
        super().__init__(*arguments, **options)
        self._foot_of_page = foot
        self._held: list[dict[str, Any]] = []

    def showPage(self) -> None:  # noqa: N802
        """Puts the finished page aside and begins the next."""
        self._held.append(dict(self.__dict__))
        self._startPage()  # type: ignore[attr-defined]

    def save(self) -> None:
        """Draws the foot of every page and writes the file."""
        held = self._held
        for page, state in enumerate(held, 1):
            self.__dict__.update(state)
            if len(held) > 1:
                self._foot_of_page(self, page, len(held))
            super().showPage()
        super().save()
