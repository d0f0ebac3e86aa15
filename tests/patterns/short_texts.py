"""Reads short texts, and says in one line of words what was made of them."""

from collections.abc import Iterable

from shopdesk.patterns.fields.deciding import FieldReading
from shopdesk.patterns.phrases.mentions import plain, shown
from shopdesk.patterns.phrases.page import page_of
from shopdesk.patterns.reading import PatternReading, read_pattern
from shopdesk.patterns.tokens.tokens import UNIT_KINDS, Token


def numbers_in(text: str, language: str = "en") -> list[str]:
    """Returns each number, range or list with its unit: '22 st', 'range 22 24', 'list S M'."""
    tokens = page_of(text, language).tokens
    return [in_words(token) for token in tokens if token.numbers is not None]


def in_words(token: Token) -> str:
    """Returns a number's shape unless it is one, its values or names, and its unit."""
    numbers = token.numbers
    assert numbers is not None
    shape = "" if numbers.shape.value == "number" else numbers.shape.value
    values = map(plain, numbers.values) if numbers.values else numbers.names
    units = [token.kinds[kind] for kind in sorted(UNIT_KINDS) if kind in token.kinds]
    words = " ".join([shape, *values, *(units if token.merged else [])])
    return words.strip()


def told(text: str, language: str = "en") -> dict[str, str]:
    """Returns for each field what was read and how sure: '8 US sure', '4 mm or 5 mm unclear'."""
    return {each.name: _told(each) for each in read_pattern(text, language).readings}


def _told(each: FieldReading) -> str:
    return f"{' or '.join(map(shown, (each.value, *each.others)))} {each.sure}"


def sources(text: str, language: str = "en") -> dict[str, list[str]]:
    """Returns for each field the words of the text that it was read from."""
    reading = read_pattern(text, language)
    return {
        each.name: [reading.text[span.start : span.end] for span in each.words]
        for each in reading.readings
    }


def said(text: str, language: str = "en") -> set[str]:
    """Returns the codes of what is said about the text, without their topic."""
    return codes(read_pattern(text, language))


def codes(reading: PatternReading) -> set[str]:
    """Returns the codes of a reading's notices, without their topic."""
    return {notice.message.code.removeprefix("intake.") for notice in reading.notices}


def values_said(text: str, code: str, language: str = "en") -> list[dict[str, object]]:
    """Returns the values of the notices of one code."""
    notices = read_pattern(text, language).notices
    return [dict(n.message.values) for n in notices if n.message.code in (code, f"intake.{code}")]


def words_said(text: str, code: str, language: str = "en") -> list[list[str]]:
    """Returns the words of the text that the notices of one code point to."""
    reading = read_pattern(text, language)
    notices = [each for each in reading.notices if each.message.code == f"intake.{code}"]
    return [[reading.text[span.start : span.end] for span in each.words] for each in notices]


def only(read: dict[str, str], names: Iterable[str]) -> dict[str, str]:
    """Returns these fields of what was read, those that were read."""
    return {name: read[name] for name in names if name in read}
