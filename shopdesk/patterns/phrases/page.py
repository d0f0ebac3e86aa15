"""The cleaned text as tokens with breaks and sections: what the phrases are looked for in."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from decimal import Decimal
from types import MappingProxyType

from shopdesk.patterns.phrases.grammar import kinds_of
from shopdesk.patterns.phrases.mentions import Span
from shopdesk.patterns.tokens.joining import with_quantities, with_ranges, with_second_units
from shopdesk.patterns.tokens.lexicon import language_of, lexicon
from shopdesk.patterns.tokens.lists import with_lists
from shopdesk.patterns.tokens.tokens import Gap, Token, cut

_BREAK = MappingProxyType({"break": ""})


@dataclass(frozen=True, slots=True)
class TwoWays:
    """A number with two readings, of which neither is preferred: '1.200' in English."""

    span: Span
    value: Decimal
    other: Decimal


@dataclass
class Page:
    """The tokens of a header and what is known of each place; `claimed` numbers are read.

    `two_ways` are the numbers that make whatever is read from them unclear.
    """

    text: str
    language: str
    tokens: list[Token]
    kinds: list[frozenset[str]]
    sections: list[str]
    lines: list[int]
    cut_off: int | None = None
    two_ways: tuple[TwoWays, ...] = ()
    claimed: set[int] = field(default_factory=set)

    def is_kind(self, at: int, kind: str) -> bool:
        """True if the token at `at` may be of this kind; False outside the text."""
        return 0 <= at < len(self.kinds) and kind in self.kinds[at]

    def meaning(self, at: int, kind: str) -> str:
        """Returns what the token at `at` means as this kind."""
        return self.tokens[at].kinds[kind]

    def is_wall(self, at: int) -> bool:
        """True outside the text and at a stop or break, which no reading reaches across."""
        return not 0 <= at < len(self.kinds) or not self.kinds[at].isdisjoint({"break", "stop"})

    def near(self, at: int, kinds: frozenset[str], reach: int, step: int = 1) -> int | None:
        """Returns the next place of one of these kinds after `at` (before it, with step -1).

        At most `reach` tokens away, and not across a stop or break.
        """
        for place in range(at + step, at + step * (reach + 1), step):
            if self.is_wall(place):
                return None
            if not self.kinds[place].isdisjoint(kinds):
                return place
        return None

    def span(self, start: int, end: int) -> Span:
        """Returns the characters from token `start` to before token `end`."""
        return Span(self.tokens[start].start, self.tokens[end - 1].end)


def page_of(text: str, language: str | None = None) -> Page:
    """Returns the page of cleaned text; the language is found from its words if not given."""
    language = language or language_of(text)
    tokens = _without_list_numbers(cut(text, lexicon(language), language), text)
    tokens, cut_off = _before_instructions(tokens)
    two_ways = tuple(_two_ways(tokens))
    tokens = with_second_units(with_quantities(with_lists(with_ranges(tokens))))
    tokens, sections = _with_sections(tokens)
    lines = _lines(tokens)
    kinds = [kinds_of(token) for token in tokens]
    return Page(text, language, tokens, kinds, sections, lines, cut_off, two_ways)


def _two_ways(tokens: Sequence[Token]) -> Iterator[TwoWays]:
    for token in tokens:
        if token.numbers is not None and token.numbers.other is not None:
            span = Span(token.start, token.end)
            yield TwoWays(span, token.numbers.values[0], token.numbers.other)


def _lines(tokens: Sequence[Token]) -> list[int]:
    lines, line = [], -1
    for token in tokens:
        line += token.gap >= Gap.LINE
        lines.append(line)
    return lines


def _without_list_numbers(tokens: Sequence[Token], text: str) -> list[Token]:
    """Drops '1.' and '-' at the start of a line: they count or mark, and are no values."""
    made: list[Token] = []
    counted = False
    for token in tokens:
        dot = counted and token.text in (".", ")")
        counted = False
        if token.gap >= Gap.LINE and _marks_a_line(token, text):
            made.append(Token(token.start, token.end, token.text, token.gap, _BREAK))
            counted = token.numbers is not None
        elif not dot:
            made.append(token)
    return made


def _marks_a_line(token: Token, text: str) -> bool:
    behind = text[token.end : token.end + 2]
    if "dash" in token.kinds:
        return behind[:1] == " "
    return token.numbers is not None and token.text.isdigit() and behind in (". ", ") ")


def _before_instructions(tokens: Sequence[Token]) -> tuple[list[Token], int | None]:
    """Returns the tokens up to where the working instructions or abbreviations begin."""
    for place, token in enumerate(tokens):
        if "instructions" not in token.kinds or token.gap < Gap.LINE or place == 0:
            continue
        after = tokens[place + 1] if place + 1 < len(tokens) else None
        opens = after is None or after.gap >= Gap.LINE or "colon" in after.kinds
        if opens or token.text.casefold() in ("cast on", "co", "monter"):
            return list(tokens[:place]), token.start
    return list(tokens), None


def _with_sections(tokens: Sequence[Token]) -> tuple[list[Token], list[str]]:
    """Returns the tokens with a break before each label and blank line, and each one's section."""
    made: list[Token] = []
    sections: list[str] = []
    section, fresh = "", False
    for place, token in enumerate(tokens):
        label = _label(tokens, place)
        if token.gap is Gap.PARAGRAPH or label:
            if token.gap is Gap.PARAGRAPH and not fresh:
                section = ""
            if made:
                made.append(Token(token.start, token.start, "", Gap.NONE, _BREAK))
                sections.append(section)
        section, fresh = label or section, bool(label)
        made.append(token)
        sections.append(section)
    return made, sections


def _label(tokens: Sequence[Token], place: int) -> str:
    """Returns the section that this token opens, or ''."""
    token = tokens[place]
    names = [kind for kind in token.kinds if kind.startswith("label-")]
    if not names or token.merged:
        return ""
    before = tokens[place - 1] if place else None
    opening = (
        token.gap >= Gap.WIDE or before is None or not {"stop", "break"}.isdisjoint(before.kinds)
    )
    after = tokens[place + 1] if place + 1 < len(tokens) else None
    amid = before is not None and not {"small", "number", "mm", "by"}.isdisjoint(before.kinds)
    with_colon = after is not None and "colon" in after.kinds and not amid
    return names[0].removeprefix("label-") if opening or with_colon else ""
