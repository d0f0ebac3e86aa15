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


@cache
def styles_for(paper: Paper, scale: float = 1.0) -> Styles:
    """Returns the styles of a paper, with all sizes times `scale`."""
    body = paper.body_pt * scale
    ink, quiet = (BLACK, BLACK) if paper.is_roll else (INK, QUIET)

    def style(name: str, size: float, font: str = REGULAR, colour: Color = ink) -> ParagraphStyle:
        leading = round(size * 1.32, 2)
        return ParagraphStyle(name, fontName=font, fontSize=size, leading=leading, textColor=colour)

    narrow = paper.text_mm < WIDE_MM
    return Styles(
        paper=paper,
        ink=ink,
        quiet=quiet,
        rule=BLACK if paper.is_roll else RULE,
        card=None if paper.is_roll else CARD,
        shop=style("shop", body * 1.4, BOLD),
        address=style("address", body * 0.85, colour=quiet),
        title=style("title", body * 1.75, BOLD),
        yarn=style("yarn", body * 1.25, colour=quiet),
        label=style("label", body * 0.9, BOLD, colour=quiet),
        body=style("body", body),
        basis=ParagraphStyle(
            "basis", parent=style("based", body * 0.88, colour=quiet), spaceAfter=body * 0.35
        ),
        strong=style("strong", body * 1.1, BOLD),
        small=style("small", body * 0.88, colour=quiet),
        figure=style("figure", body * (1.5 if narrow else 1.8), BOLD),
        step=ParagraphStyle(
            "step",
            parent=style("stepped", body),
            leftIndent=body * 1.4,
            bulletFontName=BOLD,
            bulletFontSize=body,
        ),
        price=ParagraphStyle(
            "price", parent=style("priced", body), leftIndent=QUIET_MODULES * MODULE_MM * mm
        ),
        total=style("total", body * 1.1, BOLD),
    )
