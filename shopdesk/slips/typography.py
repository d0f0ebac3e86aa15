"""The slip's typography: sizes of one typeface, paragraphs, and tables measured once."""

from dataclasses import dataclass
from functools import cache

from reportlab.lib.colors import Color, HexColor
from reportlab.lib.styles import ParagraphStyle
from reportlab.lib.units import mm
from reportlab.platypus import Paragraph, Table
from reportlab.platypus.paraparser import ParaFrag

from shopdesk.slips.barcodes import MODULE_MM, QUIET_MODULES
from shopdesk.slips.fonts import BOLD, REGULAR, drawn
from shopdesk.slips.papers import Paper


@dataclass(frozen=True, slots=True)
class Run:
    """A piece of a paragraph that looks different from its style."""

    text: str
    bold: bool = False
    colour: Color | None = None
    size: float | None = None


class CachedParagraph(Paragraph):
    """A paragraph that breaks its lines once for each width, however often it is asked."""

    _size: tuple[float, tuple[float, float]] | None = None

    def wrap(self, available_width: float, available_height: float) -> tuple[float, float]:
        """Returns the size in points for this width."""
        broken = self._size if hasattr(self, "blPara") else None
        if broken is None or broken[0] != available_width:
            broken = available_width, super().wrap(available_width, available_height)
            self._size = broken
        return broken[1]


def paragraph(
    style: ParagraphStyle, *runs: str | Run, bullet: str | None = None
) -> CachedParagraph:
    """Returns a paragraph of these runs, one after the other."""
    pieces = [_piece(style, Run(run) if isinstance(run, str) else run) for run in runs]
    return CachedParagraph("", style, bulletText=bullet, frags=pieces)


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


class FixedTable(Table):
    """A table whose size depends on the width it gets, never on the height that is left."""

    _size: tuple[float, tuple[float, float]] | None = None

    def wrap(self, available_width: float, available_height: float) -> tuple[float, float]:
        """Returns the size in points for this width."""
        if self._size is None or self._size[0] != available_width:
            self._size = available_width, super().wrap(available_width, available_height)
        return self._size[1]


BLACK = HexColor(0x000000)
INK = HexColor(0x1C1C1C)
QUIET = HexColor(0x55524E)
RULE = HexColor(0xB9B4AC)
CARD = HexColor(0xF3F1EC)
LABEL_MM = 27.0
"""Width of the column of titles on sheets that are wide enough for one."""
WIDE_MM = 110.0


@dataclass(frozen=True, slots=True)
class Styles:
    """Paragraph styles and colours of one paper."""

    paper: Paper
    quiet: Color
    rule: Color
    card: Color | None
    shop: ParagraphStyle
    address: ParagraphStyle
    title: ParagraphStyle
    yarn: ParagraphStyle
    label: ParagraphStyle
    body: ParagraphStyle
    basis: ParagraphStyle
    strong: ParagraphStyle
    small: ParagraphStyle
    figure: ParagraphStyle
    step: ParagraphStyle
    price: ParagraphStyle
    total: ParagraphStyle

    @property
    def hangs(self) -> bool:
        """True if titles stand in a column of their own."""
        return self.paper.text_mm >= WIDE_MM

    @property
    def text_pt(self) -> float:
        """Width between the side margins in points."""
        return self.paper.text_mm * mm

    @property
    def label_pt(self) -> float:
        """Width of the column of titles in points; 0 where they stand above."""
        return LABEL_MM * mm if self.hangs else 0.0

    @property
    def gap(self) -> float:
        """The space between two parts of the slip, in points."""
        return self.body.fontSize * 0.75


@dataclass(frozen=True, slots=True)
class _Look:
    """A style's size against the body's, its weight and colour, and spaces in body sizes."""

    size: float = 1.0
    bold: bool = False
    quiet: bool = False
    left: float = 0.0
    after: float = 0.0


_LOOKS = {
    "shop": _Look(1.4, bold=True),
    "address": _Look(0.85, quiet=True),
    "title": _Look(1.75, bold=True),
    "yarn": _Look(1.25, quiet=True),
    "label": _Look(0.9, bold=True, quiet=True),
    "body": _Look(),
    "basis": _Look(0.88, quiet=True, after=0.35),
    "strong": _Look(1.1, bold=True),
    "small": _Look(0.88, quiet=True),
    "figure": _Look(1.8, bold=True),
    "step": _Look(left=1.4),
    "price": _Look(),
    "total": _Look(1.1, bold=True),
}


@cache
def styles_for(paper: Paper, scale: float = 1.0) -> Styles:
    """Returns the styles of a paper, with all sizes times `scale`."""
    ink, quiet = (BLACK, BLACK) if paper.is_roll else (INK, QUIET)
    body = paper.body_pt * scale
    looks = _LOOKS if paper.text_mm >= WIDE_MM else _LOOKS | {"figure": _Look(1.5, bold=True)}
    styles = {name: _style(name, look, body, ink, quiet) for name, look in looks.items()}
    styles["price"].leftIndent = QUIET_MODULES * MODULE_MM * mm
    rule, card = (BLACK, None) if paper.is_roll else (RULE, CARD)
    return Styles(paper=paper, quiet=quiet, rule=rule, card=card, **styles)


def _style(name: str, look: _Look, body: float, ink: Color, quiet: Color) -> ParagraphStyle:
    size = body * look.size
    return ParagraphStyle(
        name,
        fontName=BOLD if look.bold else REGULAR,
        fontSize=size,
        leading=round(size * 1.32, 2),
        textColor=quiet if look.quiet else ink,
        leftIndent=body * look.left,
        spaceAfter=body * look.after,
        bulletFontName=BOLD,
        bulletFontSize=body,
    )
