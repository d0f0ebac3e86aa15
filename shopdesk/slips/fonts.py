"""The slip's typeface, embedded, and what is shown where it has no glyph."""

import unicodedata
from functools import cache
from xml.sax.saxutils import escape

from reportlab.pdfbase.pdfmetrics import registerFont
from reportlab.pdfbase.ttfonts import TTFont

from shopdesk.bundled import bundled
from shopdesk.slips.visible import code_of, visible

REGULAR = "SlipSans"
BOLD = "SlipSans-Bold"
_FILES = {REGULAR: "DejaVuSans.ttf", BOLD: "DejaVuSans-Bold.ttf"}
_RIGHT_TO_LEFT = {"R", "AL", "AN"}
_UNBROKEN_SPACES = {"\u202f": "\u00a0", "\u2007": "\u00a0"}
"""Spaces that must not end a line, of which ReportLab knows only one."""


@cache
def font(name: str) -> TTFont:
    """Returns one of the two fonts, read and registered once."""
    loaded = TTFont(name, str(bundled("static/fonts") / _FILES[name]))
    registerFont(loaded)
    return loaded


def load_fonts() -> None:
    """Makes both fonts known to ReportLab."""
    for name in _FILES:
        font(name)


def drawn(text: str, name: str = REGULAR) -> str:
    """Returns `text` with each character that the font cannot draw replaced by its code.

    Scripts written from right to left are shown by codes too, for nothing here sets them.
    """
    glyphs = font(name).face.charToGlyph
    return "".join(_drawn(character, glyphs) for character in visible(text))


def _drawn(character: str, glyphs: dict[int, int]) -> str:
    character = _UNBROKEN_SPACES.get(character, character)
    known = glyphs.get(ord(character), 0) != 0
    if known and unicodedata.bidirectional(character) not in _RIGHT_TO_LEFT:
        return character
    return code_of(character)


def markup(text: str, name: str = REGULAR) -> str:
    """Returns `text` safe to stand in a ReportLab paragraph: drawable, and escaped."""
    return escape(drawn(text, name))
