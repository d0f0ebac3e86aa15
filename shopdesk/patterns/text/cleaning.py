"""Makes one kind of text out of what was pasted or taken from a PDF.

Ligatures, soft hyphens, page source, dashes, primes, odd spaces and broken words are evened
out, so that the phrases need only know one writing of each. Places in the text ('spans') always
mean the cleaned text, which is what the page shows.
"""

import html
import re
import unicodedata

from shopdesk.craft.errors import InputError
from shopdesk.craft.messages import message

LONGEST_TEXT = 200_000
_TABLE = str.maketrans(
    {
        "ﬀ": "ff", "ﬁ": "fi", "ﬂ": "fl", "ﬃ": "ffi", "ﬄ": "ffl", "ﬅ": "st", "ﬆ": "st",
        "\u2010": "-", "\u2011": "-", "\u2012": "-", "\u2013": "-", "\u2014": "-", "\u2015": "-",
        "\u2212": "-", "\ufe63": "-", "\uff0d": "-",
        "″": '"', "”": '"', "“": '"', "„": '"', "‟": '"', "〃": '"', "\u02ba": '"',
        "′": "'", "’": "'", "‘": "'", "‛": "'", "\u02b9": "'", "´": "'", "`": "'",
        "⁄": "/", "∕": "/", "×": "x", "✕": "x", "✖": "x", "º": "°", "№": "no.", "…": "...",
        "\u00ad": None, "\u200b": None, "\u200c": None, "\u200d": None, "\ufeff": None,
        "\u2060": None, "\u200e": None, "\u200f": None,
        "\f": "\n\n", "\v": "\n", "\u2028": "\n", "\u2029": "\n\n", "\x85": "\n",
        "•": ";", "●": ";", "▪": ";", "◦": ";", "‣": ";", "·": ";", "✦": ";", "■": ";",
        "≈": "~", "ß": "ß", "＝": "=", "％": "%",
    }
)  # fmt: skip
_ODD_SPACE = re.compile(r"[\u00a0\u1680\u2000-\u200a\u202f\u205f\u3000]")
_SPACED_THOUSANDS = re.compile(r"(?<![\d.,])(\d{1,3})[\u00a0\u2009\u202f](\d{3})(?![\d.,]?\d)")
_SOFT_BREAK = re.compile(r"\u00ad[ \t]*\r?\n[ \t]*")
_BROKEN_WORD = re.compile(r"([a-zäöüßàâçéèêëîïôûœ]{2})-[ \t]*\n[ \t]*(?=[a-zäöüßàâçéèêëîïôûœ]{2})")
_TWO_PRIMES = re.compile(r"(?<=\d)''|(?<=\d )''|(?<=[½⅓⅔¼¾⅛⅜⅝⅞])''")
_PAGE_SOURCE = re.compile(r"&(?:[a-z]{2,8}|#\d{2,5});|</?(?:br|p|div|li|td|tr|b|strong)\b", re.I)
_LINE_TAG = re.compile(r"</?(?:br|p|div|li|ul|ol|tr|h[1-6])\b[^<>]{0,200}>", re.I)
_TAG = re.compile(r"</?[a-z][^<>]{0,200}>", re.I)
_BLANKS = re.compile(r"(?<![ \t])[ \t]+\n")
_MANY_LINES = re.compile(r"\n{3,}")


class TextRefused(InputError):
    """The text cannot be read as a pattern."""


def clean(text: str) -> str:
    """Returns the text in one plain writing. Raises TextRefused if it is empty or too long."""
    if len(text) > LONGEST_TEXT:
        raise TextRefused(
            message("problem_pattern.text_long", count_grouped=len(text)),
            message("problem_pattern.paste_first", most_grouped=LONGEST_TEXT),
        )
    text = text.replace("\r\n", "\n").replace("\r", "\n")
    if _PAGE_SOURCE.search(text):
        text = html.unescape(_TAG.sub(" ", _LINE_TAG.sub("\n", text)))
    text = _SOFT_BREAK.sub("", text)
    text = unicodedata.normalize("NFC", text).translate(_TABLE)
    text = _SPACED_THOUSANDS.sub(r"\1\2", text)
    text = _ODD_SPACE.sub(" ", text)
    text = "".join(sign for sign in text if sign in "\n\t" or sign.isprintable())
    text = _TWO_PRIMES.sub('"', text)
    text = _BROKEN_WORD.sub(r"\1", text)
    text = _MANY_LINES.sub("\n\n", _BLANKS.sub("\n", text)).strip()
    if not text:
        raise TextRefused(message("problem_pattern.no_text"), message("problem_pattern.paste"))
    return text
