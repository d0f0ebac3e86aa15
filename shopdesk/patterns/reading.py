"""Reads a pattern's header: every field with its words, how sure, and what does not fit."""

from collections.abc import Sequence
from dataclasses import dataclass

from shopdesk.answering.model.ask import MEASURES
from shopdesk.craft.messages import message
from shopdesk.patterns.fields.contradictions import look_for_contradictions, look_for_gaps
from shopdesk.patterns.fields.deciding import (
    SINGLE_FIELDS,
    FieldReading,
    FieldReadings,
    Notice,
    decide_craft,
    decide_item,
    decide_measure,
    decide_single,
    decide_sizes,
    decide_wearer,
    decide_words,
)
from shopdesk.patterns.fields.deciding_gauge import decide_gauge, decide_tool
from shopdesk.patterns.fields.deciding_yarn import (
    decide_amounts,
    decide_fibres,
    decide_put_up,
    decide_weight,
)
from shopdesk.patterns.phrases.matching import mentions_of
from shopdesk.patterns.phrases.mentions import Mention, Span, plain
from shopdesk.patterns.phrases.page import Page, page_of
from shopdesk.patterns.text.cleaning import clean
from shopdesk.patterns.tokens.tokens import UNREAD

READ_CHARACTERS = 20_000
"""So much of a text is read: a header is a page, and the time to read stays bounded."""
MOST_FINDINGS = 60
"""More than a header has of any one field; the rest of a text that repeats itself is not read."""
CARE_AXES = ("wash_c", "wash_action", "bleach", "tumble", "natural_drying", "iron_c", "dry_clean")


@dataclass(frozen=True, slots=True)
class PatternReading:
    """What was read in a header. `text` is the cleaned text that all spans mean.

    `notices` are contradictions and gaps; `not_understood` are the words with numbers that no
    phrase read; `instructions_from` is where the working instructions begin, which are not read.
    """

    text: str
    language: str
    readings: tuple[FieldReading, ...]
    notices: tuple[Notice, ...]
    not_understood: tuple[Span, ...]
    instructions_from: int | None


def read_pattern(text: str, language: str | None = None) -> PatternReading:
    """Returns what a pattern's header says. Raises TextRefused for no text or too much.

    `language` is one of `lexicon.LANGUAGES`; it is told from the words if not given. Nothing is
    kept of the text but what is returned.
    """
    cleaned, whole = _first_part(clean(text))
    page = page_of(cleaned, language)
    decided = decide(mentions_of(page), page)
    for number in page.two_ways:
        ways = {"one": plain(number.other), "other": plain(number.value)}
        decided.say(message("intake.number_two_ways", **ways), (number.span,))
    if page.cut_off is not None:
        decided.say(message("intake.instructions_left_out"))
    elif not whole:
        decided.say(message("intake.first_part_only"))
    return PatternReading(
        text=cleaned,
        language=page.language,
        readings=tuple(decided.readings.values()),
        notices=tuple(decided.notices),
        not_understood=tuple(not_understood(page)),
        instructions_from=page.cut_off,
    )


def _first_part(text: str) -> tuple[str, bool]:
    """Returns the text up to the last line that begins in the part that is read."""
    if len(text) <= READ_CHARACTERS:
        return text, True
    end = text.rfind("\n", READ_CHARACTERS // 2, READ_CHARACTERS)
    return text[: end if end > 0 else READ_CHARACTERS], False


def decide(findings: Sequence[Mention], page: Page) -> FieldReadings:
    """Returns one reading for each field that the findings speak of."""
    fields: dict[str, list[Mention]] = {}
    for each in findings:
        mine = fields.setdefault(each.field, [])
        if len(mine) < MOST_FINDINGS:
            mine.append(each)
    decided = FieldReadings()
    decide_craft(decided, fields)
    decide_item(decided, fields)
    decide_wearer(decided, fields)
    decide_gauge(decided, fields)
    decide_tool(decided, fields, larger_said=_larger_said(page))
    decide_weight(decided, fields)
    decide_put_up(decided, fields)
    decide_fibres(decided, fields)
    decide_words(decided, fields, "attributes")
    for name in (*SINGLE_FIELDS, *(f"care.{axis}" for axis in CARE_AXES)):
        decide_single(decided, fields, name)
    decide_sizes(decided, fields)
    for name in MEASURES:
        decide_measure(decided, fields, name)
    decide_words(decided, fields, "features")
    decide_amounts(decided, fields)
    look_for_contradictions(decided)
    look_for_gaps(decided)
    return decided


def _larger_said(page: Page) -> bool:
    return any(
        "main" in kinds and "larger" in page.tokens[at].text.casefold()
        for at, kinds in enumerate(page.kinds)
    )


def not_understood(page: Page) -> list[Span]:
    """Returns the words around each number that no phrase read, one span for each run."""
    spans: list[Span] = []
    for at, token in enumerate(page.tokens):
        number = token.numbers is not None or UNREAD in token.kinds
        if not number or at in page.claimed or not token.text[:1].isdigit():
            continue
        start, end = at, at + 1
        while _joins(page, start - 1, at):
            start -= 1
        while _joins(page, end, at):
            end += 1
        span = page.span(start, end)
        if spans and spans[-1].end >= span.start:
            span = Span(spans.pop().start, span.end)
        spans.append(span)
    return spans


def _joins(page: Page, place: int, at: int) -> bool:
    """True if the word at `place` belongs to the number at `at` that was not understood."""
    if page.is_wall(place) or place in page.claimed or abs(place - at) > 4:
        return False
    return page.lines[place] == page.lines[at]
