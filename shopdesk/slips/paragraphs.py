"""Paragraphs made of runs of text that no markup parser ever reads, broken once for each width.

Nothing has to be escaped, for nothing is parsed; what the fonts lack is shown by its code.
"""

from dataclasses import dataclass
from functools import cache

from reportlab.lib.colors import Color
from reportlab.lib.styles import ParagraphStyle
from reportlab.platypus import Paragraph
from reportlab.platypus.paraparser import ParaFrag

from shopdesk.slips.fonts import BOLD, drawn


@dataclass(frozen=True, slots=True)
class Run:
    """A piece of a paragraph that looks different from its style."""

    text: str
    bold: bool = False
    colour: Color | None = None
    size: float | None = None


class Text(Paragraph):
    """A paragraph that breaks its lines once for each width, however often it is asked."""

    _size: tuple[float, tuple[float, float]] | None = None

    def wrap(self, available_width: float, available_height: float) -> tuple[float, float]:
        """Returns the size in points for this width."""
        broken = self._size if hasattr(self, "blPara") else None
        if broken is None or broken[0] != available_width:
            broken = available_width, super().wrap(available_width, available_height)
            self._size = broken
        return broken[1]


def paragraph(style: ParagraphStyle, *runs: str | Run, bullet: str | None = None) -> Text:
    """Returns a paragraph of these runs, one after the other."""
    pieces = [_piece(style, Run(run) if isinstance(run, str) else run) for run in runs]
    return Text("", style, bulletText=bullet, frags=pieces)


@cache
def _pattern(style: ParagraphStyle) -> ParaFrag:
    """The piece that ReportLab itself makes of plain text in this style."""
    pattern: ParaFrag = Paragraph("x", style).frags[0]
    return pattern


def _piece(style: ParagraphStyle, run: Run) -> ParaFrag:
    looks: dict[str, object] = {}
    if run.bold:
        looks["fontName"] = BOLD
    if run.colour is not None:
        looks["textColor"] = run.colour
    if run.size is not None:
        looks["fontSize"] = run.size
    name = BOLD if run.bold else style.fontName
    piece: ParaFrag = _pattern(style).clone(text=drawn(run.text, name), **looks)
    return piece
