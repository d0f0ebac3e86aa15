"""The slip's typeface, embedded, and what is shown where it has no glyph."""

import unicodedata
from functools import cache, lru_cache, partial

from reportlab import rl_config
from reportlab.pdfbase.pdfmetrics import registerFont
from reportlab.pdfbase.ttfonts import TTFont

from shopdesk.bundled import bundled
from shopdesk.slips.visible import code_of, is_hidden

REGULAR = "SlipSans"
BOLD = "SlipSans-Bold"
_FILES = {REGULAR: "DejaVuSans.ttf", BOLD: "DejaVuSans-Bold.ttf"}
_RIGHT_TO_LEFT = {"R", "AL", "AN"}
_UNBROKEN_SPACES = {"\u202f": "\u00a0", "\u2007": "\u00a0"}
"""Spaces that must not end a line, of which ReportLab knows only one."""


class _Font(TTFont):
    """A font that adds up the letters of a word once, whatever the size it is set in."""

    def __init__(self, name: str, file: str) -> None:
        super().__init__(name, file)
        self._units = lru_cache(maxsize=4096)(partial(super().stringWidth, size=1000))

    def stringWidth(self, text: str, size: float, encoding: str = "utf8") -> float:  # noqa: N802
        """Returns the width of a text in points."""
        width: float = 0.001 * size * self._units(text)
        return width


@cache
def font(name: str) -> TTFont:
    """Returns one of the two fonts, read and registered once."""
    loaded = _Font(name, str(bundled("static/fonts") / _FILES[name]))
    registerFont(loaded)
    return loaded


def load_fonts() -> None:
    """Makes both fonts known to ReportLab, and its files plain bytes without a text armour."""
    rl_config.useA85 = 0
    for name in _FILES:
        font(name)


class _Glyphs(dict[int, str]):
    """What is drawn for each character's number, worked out when it is first met."""

    def __init__(self, name: str) -> None:
        self.known: dict[int, int] = font(name).face.charToGlyph

    def __missing__(self, number: int) -> str:
        character = _UNBROKEN_SPACES.get(chr(number), chr(number))
        known = self.known.get(ord(character), 0) != 0 and not is_hidden(character)
        if not known or unicodedata.bidirectional(character) in _RIGHT_TO_LEFT:
            character = code_of(character)
        self[number] = character
        return character


@cache
def _glyphs(name: str) -> _Glyphs:
    return _Glyphs(name)


@lru_cache(maxsize=4096)
def drawn(text: str, name: str = REGULAR) -> str:
    """Returns `text` with each character that the font cannot draw replaced by its code.

    Scripts written from right to left are shown by codes too, for nothing here sets them.
    """
    return unicodedata.normalize("NFC", text).translate(_glyphs(name))
