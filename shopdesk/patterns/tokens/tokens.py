"""Cuts cleaned text into tokens: words with their possible meanings, numbers, signs.

Each token knows its place in the text and the gap before it, because in tables a wide gap or
a new line parts one value from the next.
"""

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field, replace
from decimal import Decimal
from enum import IntEnum, StrEnum, auto
from types import MappingProxyType

from shopdesk.craft.numerals import VULGAR, NumberRefused, read_number
from shopdesk.patterns.tokens.lexicon import MOST_WORDS, WORD, Lexicon, parts_of_compound
from shopdesk.reference.languages import languages

UNIT_KINDS = frozenset(
    {"stitches", "rows", "short", "mm", "long", "mass", "percent", "degree", "balls"}
    | {"wraps", "strands", "ply", "age"}
)
LONGEST_NUMBER = 120
UNREAD = "unread"
"""The kind of a number that cannot be read; it is said not to be understood."""
KEPT_KINDS = UNIT_KINDS | {"crochetstitch"}
"""What a quantity keeps of its unit word's kinds."""
_SIGNS = {
    "(": "open", "[": "open", "{": "open", ")": "close", "]": "close", "}": "close",
    ",": "comma", ":": "colon", "-": "dash", "&": "join", "+": "join", "~": "approx",
    "@": "each", ";": "stop", "!": "stop", "?": "stop", ".": "stop", "/": "slash",
}  # fmt: skip
_V = "".join(VULGAR)
_NUMBER = re.compile(
    r"(?P<list>\d{1,4}(?:/\d{1,4}){2,24}+(?![\d/]))"
    r"|(?P<commas>\d{1,3}(?:,\d{1,3}){2,24}+(?![\d,]))"
    rf"|(?P<mixed>\d{{1,4}}(?:[ -]?[{_V}]|[ -]\d/(?:2|3|4|5|8|16)(?![\d/])))"
    rf"|(?P<vulgar>[{_V}])"
    r"|(?P<pair>\d{1,4}/\d{1,4}(?![\d/]|[.,]\d))"
    r"|(?P<spaced>[1-9]\d? \d{3}(?=\s?(?:g|m|gr|grammes|mètres)\b))"
    r"|(?P<thousands>[1-9]\d{0,2}[,.]\d{3}(?![\d.,]?\d))"
    r"|(?P<plain>\d{1,7}(?:[.,]\d{1,4})?(?![\d]))"
    r"|(?P<long>\d+)"
)
_SIZE = r"(?:X{0,3}[SL]|M|[1-6]XL?)"
_SIZE_SLASHES = re.compile(rf"{_SIZE}(?:/{_SIZE}){{2,24}}+\b")
_SIZE_PAIR = re.compile(rf"{_SIZE}/{_SIZE}\b")
_TIGHT_COMMAS = re.compile(r"[(\[] ?\d{1,3}(?:,\d{1,3}){1,24}+ ?[)\]]")
_RUN = re.compile(r"\d+(?:[.,/]\d+)*")
_LEADER = re.compile(r"(?:\. ?){3,}+|_{2,}+|-{3,}+|\.{2}")
_AFTER_FIVE_LETTERS = re.compile(r"(?<=[^\W\d_]{5})\.")
_BETWEEN_WORDS = re.compile(r"[ ]?[-.]?[ ]?|\n")
_FRACTION_BOTTOMS = {2, 3, 4, 5, 8, 16}


class Gap(IntEnum):
    """What stands before a token, least first."""

    NONE = auto()
    SPACE = auto()
    WIDE = auto()
    LINE = auto()
    PARAGRAPH = auto()


class Shape(StrEnum):
    ONE = "number"
    RANGE = "range"
    PAIR = "pair"
    LIST = "list"


@dataclass(frozen=True, slots=True)
class NumberToken:
    """One number, a range, a pair such as 36/38, or a list with a value for each size.

    `names` are the items as written; `values` is empty for a list of size names alone.
    `doubtful` is True where the writing has a second reading ('1,200' in English); `other` is
    that reading where neither is preferred ('1.200' in English).
    """

    shape: Shape
    values: tuple[Decimal, ...]
    names: tuple[str, ...]
    doubtful: bool = False
    other: Decimal | None = None


@dataclass(frozen=True, slots=True)
class Token:
    """A word, number, quantity or sign at [start, end) of the text.

    `kinds` maps each kind it may be to the meaning in that kind. `also` is the same quantity in
    a second unit, where both are written.
    """

    start: int
    end: int
    text: str
    gap: Gap
    kinds: Mapping[str, str] = field(default_factory=lambda: MappingProxyType({}))
    numbers: NumberToken | None = None
    also: "Token | None" = None
    merged: bool = False

    @property
    def is_unit(self) -> bool:
        """True for a bare unit word that waits for its number."""
        return self.numbers is None and any(kind in UNIT_KINDS for kind in self.kinds)


def cut(text: str, words: Lexicon, language: str) -> list[Token]:
    """Returns the tokens of cleaned text, with number words read as numbers."""
    return [_with_number_word(token) for token in _tokens(text, words, language)]


def _tokens(text: str, words: Lexicon, language: str) -> Iterator[Token]:
    place, gap = 0, Gap.PARAGRAPH
    while place < len(text):
        skipped = _skip(text, place)
        if skipped is not None:
            place, seen = skipped
            gap = max(gap, seen)
            continue
        token = _token_at(text, place, gap, words, language)
        if token is None:
            place += 1
            continue
        yield token
        place, gap = token.end, Gap.NONE


def _skip(text: str, place: int) -> tuple[int, Gap] | None:
    """Returns the end of the blank at `place` and how wide it is, or None if there is none."""
    leader = _LEADER.match(text, place)
    if leader is not None:
        return leader.end(), Gap.WIDE
    end = place
    while end < len(text) and text[end] in " \t\n|":
        end += 1
    if end == place:
        return None
    blank = text[place:end]
    if blank.count("\n") >= 2:
        return end, Gap.PARAGRAPH
    if "\n" in blank:
        return end, Gap.LINE
    wide = "\t" in blank or "|" in blank or len(blank) >= 2
    return end, Gap.WIDE if wide else Gap.SPACE


def _token_at(text: str, place: int, gap: Gap, words: Lexicon, language: str) -> Token | None:
    slashes = _SIZE_SLASHES.match(text, place)
    if slashes is not None:
        names = tuple(slashes[0].split("/"))
        return _number_token(text, place, slashes.end(), gap, NumberToken(Shape.LIST, (), names))
    pair = _SIZE_PAIR.match(text, place)
    if pair is not None:
        kinds = MappingProxyType({"sizename": "size"})
        return Token(place, pair.end(), pair[0], gap, kinds)
    if (text[place].isdigit() or text[place] in VULGAR) and WORD.match(text, place) is None:
        number = _number_at(text, place, gap, language)
        if number is not None:
            return number
    word = _word_at(text, place, gap, words)
    if word is not None:
        return word
    sign = _SIGNS.get(text[place])
    if sign is None or (sign == "stop" and not _ends_something(text, place)):
        return None
    return Token(place, place + 1, text[place], gap, MappingProxyType({sign: text[place]}))


def _ends_something(text: str, place: int) -> bool:
    """True unless this is the dot of an abbreviation: 'rgs. = 10 cm', 'Nr. 4'."""
    if text[place] != ".":
        return True
    if text[place + 1 : place + 2] == '"' and not text[place + 2 : place + 3].strip():
        return True
    behind = place + 1
    while text[behind : behind + 1] == " ":
        behind += 1
    sign = text[behind : behind + 1]
    if behind == place + 1 and sign not in ("", "\n"):
        return False
    if sign.isdigit():
        return _AFTER_FIVE_LETTERS.match(text, place) is not None
    return sign in ("", "\n", ">") or sign.isupper()


def _word_at(text: str, place: int, gap: Gap, words: Lexicon) -> Token | None:
    found: list[tuple[int, Mapping[str, str]]] = []
    parts: list[str] = []
    match = WORD.match(text, place)
    for _ in range(MOST_WORDS):
        if match is None:
            break
        parts.append(match[0])
        meanings = words.meanings(tuple(parts))
        if meanings:
            found.append((match.end(), meanings))
        between = _BETWEEN_WORDS.match(text, match.end())
        match = WORD.match(text, between.end() if between else match.end())
    if not parts:
        return None
    if not found:
        end = place + len(parts[0])
        kinds = parts_of_compound(parts[0], words) or {"word": parts[0]}
        return Token(place, end, parts[0], gap, MappingProxyType(dict(kinds)))
    end, meanings = found[-1]
    return Token(place, end, text[place:end], gap, MappingProxyType(dict(meanings)))


def _number_at(text: str, place: int, gap: Gap, language: str) -> Token | None:
    match = _NUMBER.match(text, place)
    if match is None or match.lastgroup == "long" or len(match[0]) > LONGEST_NUMBER:
        return None if match is None else _unreadable(match, gap)
    try:
        return _readable(match, gap, language)
    except NumberRefused:
        run = _RUN.match(text, place) or match
        end = max(match.end(), run.end())
        kinds = MappingProxyType({"word": "", UNREAD: ""})
        return Token(place, end, text[place:end], gap, kinds)


def _readable(match: re.Match[str], gap: Gap, language: str) -> Token:
    """Returns the number, pair or list of numbers. Raises NumberRefused."""
    text, place, written = match.string, match.start(), match[0]
    ways = languages()[language]
    if match.lastgroup == "list":
        return _listed(match, gap, written.split("/"))
    if match.lastgroup == "commas" and not ways.decimal_comma:
        return _listed(match, gap, written.split(","))
    if "," in written and not ways.decimal_comma and _in_tight_commas(text, place):
        end = place + written.index(",")
        return _plain(text, place, end, gap)
    if match.lastgroup == "spaced":
        if not ways.blank_thousands:
            return _plain(text, place, text.index(" ", place), gap)
        return _thousands(match, gap, " ")
    if match.lastgroup == "thousands":
        return _thousands(match, gap, "." if ways.decimal_comma else ",")
    if match.lastgroup == "pair":
        return _fraction_or_pair(match, gap)
    return _plain(text, place, match.end(), gap)


def _in_tight_commas(text: str, place: int) -> bool:
    """True of the first of '(6,7)': in English such a comma in brackets parts two numbers."""
    opening = place - 2 if text[place - 1 : place] == " " else place - 1
    return _TIGHT_COMMAS.match(text, opening) is not None


def _plain(text: str, place: int, end: int, gap: Gap) -> Token:
    numbers = NumberToken(Shape.ONE, (read_number(text[place:end]),), (text[place:end],))
    return _number_token(text, place, end, gap, numbers)


def _thousands(match: re.Match[str], gap: Gap, mark: str) -> Token:
    """Reads '1,200' as 1200 where the language parts thousands so; else as a decimal.

    A decimal of three places with an idle last zero is more often thousands of another language.
    """
    written, other = match[0], None
    if mark in written:
        value = read_number(written.replace(mark, ""))
    else:
        value = read_number(written.replace(",", "."), thousandths=True)
        if written.endswith("0"):
            other = read_number(re.sub("[.,]", "", written))
    numbers = NumberToken(Shape.ONE, (value,), (written,), mark in written, other)
    return _number_token(match.string, match.start(), match.end(), gap, numbers)


def _fraction_or_pair(match: re.Match[str], gap: Gap) -> Token:
    top, bottom = (int(part) for part in match[0].split("/"))
    if bottom in _FRACTION_BOTTOMS and 0 < top < bottom:
        numbers = NumberToken(Shape.ONE, (read_number(match[0]),), (match[0],))
    else:
        numbers = NumberToken(Shape.PAIR, (Decimal(top), Decimal(bottom)), (match[0],))
    return _number_token(match.string, match.start(), match.end(), gap, numbers)


def _listed(match: re.Match[str], gap: Gap, parts: list[str]) -> Token:
    values = tuple(read_number(part) for part in parts)
    numbers = NumberToken(Shape.LIST, values, tuple(parts))
    return _number_token(match.string, match.start(), match.end(), gap, numbers)


def _unreadable(match: re.Match[str], gap: Gap) -> Token:
    written, kinds = match.group(), MappingProxyType({"word": ""})
    return Token(match.start(), match.end(), written, gap, kinds)


def _number_token(text: str, start: int, end: int, gap: Gap, numbers: NumberToken) -> Token:
    kinds = {numbers.shape.value: ""} if numbers.values else {"sizelist": ""}
    return Token(start, end, text[start:end], gap, MappingProxyType(kinds), numbers)


def _with_number_word(token: Token) -> Token:
    """Gives 'eight' the number 8 beside what else the word may be."""
    written = token.kinds.get("number")
    if written is None or token.numbers is not None:
        return token
    return replace(token, numbers=NumberToken(Shape.ONE, (Decimal(written),), (written,)))
