"""The slip's typography: a few sizes of one typeface, black on rolls, one quiet grey on sheets."""

from dataclasses import dataclass
from functools import cache

from reportlab.lib.colors import Color, HexColor
from reportlab.lib.styles import ParagraphStyle
from reportlab.lib.units import mm

from shopdesk.slips.barcodes import MODULE_MM, QUIET_MODULES
from shopdesk.slips.fonts import BOLD, REGULAR
from shopdesk.slips.papers import Paper

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
    ink: Color
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
    return Styles(paper=paper, ink=ink, quiet=quiet, rule=rule, card=card, **styles)


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
