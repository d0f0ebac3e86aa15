"""A pattern's words, pasted or as a file: in the language that is named, or told from them."""

import pytest

from shopdesk.services.pattern_texts import ask_of_pattern, read_pattern_text

GERMAN = "Maschenprobe: 22 Maschen und 30 Reihen = 10 x 10 cm glatt rechts\nGarn: 600 m\n"


@pytest.mark.parametrize(
    ("language", "read_in"), [(None, "de"), ("de", "de"), ("en", "en"), ("tlh", "de"), ("", "de")]
)
def test_a_language_that_is_not_read_is_told_from_the_words(
    language: str | None, read_in: str
) -> None:
    assert read_pattern_text(GERMAN, language).language == read_in
    assert read_pattern_text(GERMAN.encode(), language).language == read_in


def test_what_is_read_is_an_ask_that_can_be_answered() -> None:
    document = ask_of_pattern(read_pattern_text(GERMAN))
    assert (document["gauge"]["stitches"], document["gauge"]["rows"]) == (22, 30)
