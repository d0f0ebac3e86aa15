"""A slip as a PDF: the same words and paper always give the same bytes."""

from io import BytesIO
from threading import Lock
from typing import Any

from reportlab.lib.units import mm
from reportlab.pdfgen.canvas import Canvas
from reportlab.platypus import BaseDocTemplate, Frame, PageTemplate

from shopdesk.slips.content import SlipContent
from shopdesk.slips.fonts import REGULAR, drawn, load_fonts
from shopdesk.slips.papers import Paper
from shopdesk.slips.speaking import speak
from shopdesk.slips.story import story
from shopdesk.slips.styles import Styles, styles_for
from shopdesk.slips.words import SlipWords
from shopdesk.wording.voice import Voice

LONGEST_ROLL_MM = 5000.0
"""A page of a PDF is at most 14,400 points (5,080 mm) long in common readers."""
SMALLER = (1.0, 0.95, 0.9, 0.86)
"""How far the letters of a sheet may shrink, step by step, to keep the slip on one page."""
_drawing = Lock()


def draw_pdf(content: SlipContent, paper: Paper, voice: Voice) -> bytes:
    """Returns the slip as a PDF in the voice's language."""
    return draw_words(speak(content, voice), paper)


def draw_words(words: SlipWords, paper: Paper) -> bytes:
    """Returns a slip that has been put into words as a PDF."""
    with _drawing:
        load_fonts()
        if paper.is_roll:
            return _on_roll(words, styles_for(paper))
        return _on_sheets(words, paper)


def _on_roll(words: SlipWords, styles: Styles) -> bytes:
    paper = styles.paper
    needed = height_of(words, styles) + (paper.top_mm + paper.foot_mm) * mm
    return _drawn(words, styles, min(needed, LONGEST_ROLL_MM * mm))


def _on_sheets(words: SlipWords, paper: Paper) -> bytes:
    """On one page if letters that are still readable allow it, else on as many as it takes."""
    height = (paper.height_mm or 0.0) * mm
    room = height - (paper.top_mm + paper.foot_mm) * mm
    for scale in SMALLER:
        styles = styles_for(paper, scale)
        if height_of(words, styles) <= room:
            return _drawn(words, styles, height)
    return _drawn(words, styles_for(paper), height)


def _drawn(words: SlipWords, styles: Styles, height: float) -> bytes:
    """A second pass only where page numbers need the count of pages."""
    first = _Slip(words, styles, height, pages=1)
    data = first.drawn()
    if first.page == 1:
        return data
    return _Slip(words, styles, height, pages=first.page).drawn()


def height_of(words: SlipWords, styles: Styles) -> float:
    """Returns the height in points that the whole slip takes in one column."""
    height = after = 0.0
    for flowable in story(words, styles):
        before = max(flowable.getSpaceBefore() - after, 0.0) if height else 0.0
        after = flowable.getSpaceAfter()
        height += before + flowable.wrap(styles.text_pt, LONGEST_ROLL_MM * mm)[1] + after
    return height + 1.0


class _Slip(BaseDocTemplate):
    """One pass of drawing, with `pages` as the number of pages there will be."""

    def __init__(self, words: SlipWords, styles: Styles, height: float, pages: int) -> None:
        self._words, self._styles, self._pages = words, styles, pages
        self._buffer = BytesIO()
        paper = styles.paper
        width, side = paper.width_mm * mm, paper.side_mm * mm
        super().__init__(
            self._buffer,
            pagesize=(width, height),
            title=words.document_title,
            author=words.head.shop,
            subject=words.title,
            creator="Shopdesk",
            lang=words.language,
            displayDocTitle=1,
            invariant=1,
            initialFontName=REGULAR,
        )
        top, foot = paper.top_mm * mm, paper.foot_mm * mm
        frame = Frame(side, foot, width - 2 * side, height - top - foot, 0, 0, 0, 0)
        self.addPageTemplates(PageTemplate(frames=[frame], onPage=self._foot))

    def drawn(self) -> bytes:
        """Draws everything and returns the file."""
        self.build(story(self._words, self._styles))
        return self._buffer.getvalue()

    def _foot(self, canvas: Canvas, document: Any) -> None:
        if self._pages == 1:
            return
        small = self._styles.small
        text = self._words.page_of_pages.replace("{page}", str(document.page))
        canvas.setFont(REGULAR, small.fontSize)
        canvas.setFillColor(self._styles.quiet)
        width = self._styles.paper.width_mm * mm
        canvas.drawCentredString(
            width / 2, 5 * mm, drawn(text.replace("{pages}", str(self._pages)))
        )
