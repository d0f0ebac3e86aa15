"""A pattern's own words, pasted or as a file, read into fields and into the ask of one size."""

from typing import Any

from shopdesk.patterns.reading import PatternReading, read_pattern
from shopdesk.patterns.text.pattern_files import text_of_file
from shopdesk.patterns.to_ask import one_size
from shopdesk.patterns.tokens.lexicon import LANGUAGES


def read_pattern_text(given: str | bytes, language: str | None = None) -> PatternReading:
    """Returns what a pasted text says, or the bytes of a PDF or text file. Keeps nothing.

    `language` is one of LANGUAGES; any other is told from the words. Raises TextRefused.
    """
    text = text_of_file(given) if isinstance(given, bytes) else given
    return read_pattern(text, language if language in LANGUAGES else None)


def ask_of_pattern(reading: PatternReading, size: str | None = None) -> dict[str, Any]:
    """Returns the ask of one size as a document that is answered as it stands.

    Raises SizeRefused, and AskRefused where what could be read is not enough for an answer.
    """
    from shopdesk.answering.ask.ask_reading import read_ask

    document = one_size(reading, size)
    read_ask(document)
    return document
