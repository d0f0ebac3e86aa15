"""Says where each field came from: as lines for a person and as a document for programs."""

from collections.abc import Iterator
from typing import Any

from shopdesk.patterns.fields.deciding import FieldReading
from shopdesk.patterns.phrases.mentions import Span, Sureness, shown
from shopdesk.patterns.reading import PatternReading
from shopdesk.patterns.to_ask import as_json, ask_document, path_of, size_names
from shopdesk.wording.translate import english

_LONGEST_WORDS = 70


def words_at(reading: PatternReading, span: Span) -> str:
    """Returns the words of a span on one line."""
    return " ".join(reading.text[span.start : span.end].split())


def report_lines(reading: PatternReading) -> Iterator[str]:
    """Yields one line for each field, each contradiction or gap, and what was not understood."""
    for each in reading.readings:
        yield _field_line(reading, each)
    for notice in reading.notices:
        words = "; ".join(_quoted(reading, span) for span in notice.words)
        yield f"note: {english(notice.message)}{f' {words}' if words else ''}"
    for span in reading.not_understood:
        yield f"not understood: {_quoted(reading, span)}"


def _field_line(reading: PatternReading, each: FieldReading) -> str:
    words = ", ".join(_quoted(reading, span) for span in each.words)
    others = f"; or {', '.join(shown(value) for value in each.others)}" if each.others else ""
    left_out = ", left out" if each.sure is Sureness.UNCLEAR else ""
    return f"{path_of(each.name)}: {shown(each.value)}{others} ({each.sure}{left_out}) from {words}"


def _quoted(reading: PatternReading, span: Span) -> str:
    words = words_at(reading, span)
    return f"'{words}'" if len(words) <= _LONGEST_WORDS else f"'{words[:_LONGEST_WORDS]}…'"


def report_document(reading: PatternReading, size: str | None = None) -> dict[str, Any]:
    """Returns the whole report as JSON; places are characters of the cleaned text.

    Raises SizeRefused for a size that the pattern has not.
    """
    return {
        "language": reading.language,
        "fields": [_field(reading, each) for each in reading.readings],
        "notices": [
            {
                "code": notice.message.code,
                "text": english(notice.message),
                "words": _places(reading, notice.words),
            }
            for notice in reading.notices
        ],
        "not_understood": _places(reading, reading.not_understood),
        "instructions_from": reading.instructions_from,
        "sizes": list(size_names(reading)),
        "ask": ask_document(reading, size),
    }


def _field(reading: PatternReading, each: FieldReading) -> dict[str, Any]:
    return {
        "path": path_of(each.name),
        "value": as_json(each.value),
        "sure": each.sure.value,
        "words": _places(reading, each.words),
        "other_readings": [as_json(value) for value in each.others],
        "form": each.phrase,
    }


def _places(reading: PatternReading, spans: tuple[Span, ...]) -> list[dict[str, Any]]:
    return [
        {"start": span.start, "end": span.end, "text": words_at(reading, span)} for span in spans
    ]
