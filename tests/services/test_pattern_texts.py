"""A pattern's words, pasted or as a file: in the language that is named, or told from them."""

import pytest

from shopdesk.answering.ask.ask_reading import read_ask
from shopdesk.answering.model.asked_wearer import wearer_of
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


GAUGE = "Gauge: 22 sts and 30 rows = 10 cm in stockinette\nYarn: {yarn}, 600 m\n"


@pytest.mark.parametrize(
    ("title", "yarn", "wearer", "asked"),
    [
        ("Harbour pullover", "baby yarn", "unknown", True),
        ("Harbour pullover", "baby wool", "unknown", True),
        ("Harbour pullover", "DK, 100% baby alpaca", "unknown", False),
        ("Harbour pullover", "DK", "unknown", False),
        ("Women's pullover", "baby yarn", "adult", False),
        ("Baby pullover", "DK", "baby under 12 months", False),
    ],
)
def test_a_weight_called_baby_is_asked_and_a_fibre_called_so_says_nothing(
    title: str, yarn: str, wearer: str, asked: bool
) -> None:
    text = f"{title}\n\n{GAUGE.format(yarn=yarn)}"
    who = wearer_of(read_ask(ask_of_pattern(read_pattern_text(text, "en"))))
    assert (who.wearer, who.may_be_a_baby) == (wearer, asked)
