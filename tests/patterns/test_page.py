"""A text as tokens with breaks, lines and sections, and where its instructions begin."""

from decimal import Decimal

import pytest

from shopdesk.patterns.phrases.mentions import Span
from shopdesk.patterns.phrases.page import Page, TwoWays, page_of
from tests.patterns.short_texts import numbers_in


def pieces(page: Page) -> list[str]:
    return [token.text or "|" for token in page.tokens]


def at(page: Page, text: str) -> int:
    (place,) = [place for place, token in enumerate(page.tokens) if token.text == text]
    return place


def section(text: str, word: str, language: str = "en") -> str:
    page = page_of(text, language)
    return page.sections[at(page, word)]


def test_a_place_outside_the_text_is_a_wall_and_of_no_kind() -> None:
    page = page_of("hat 22 sts. Needles", "en")
    assert pieces(page) == ["hat", "22 sts", ".", "|", "Needles"]
    assert [page.is_wall(place) for place in range(-1, 6)] == [
        True, False, False, True, True, False, True,
    ]  # fmt: skip
    assert [page.is_kind(place, "item") for place in (-5, -1, 0, 1, 5)] == [
        False, False, True, False, False,
    ]  # fmt: skip
    assert [page.is_kind(place, "needle") for place in (4, 5)] == [True, False]


def test_what_is_near_is_within_reach_and_before_any_wall() -> None:
    page = page_of("hat so so hat so 22 sts. Hat", "en")
    items = frozenset({"item"})
    assert page.near(0, items, 3) == 3
    assert page.near(0, items, 2) is None
    assert page.near(3, items, 3, -1) == 0
    assert page.near(3, items, 2, -1) is None
    assert page.near(3, items, 9) is None
    assert page.near(0, items, 9, -1) is None
    assert page.near(4, items, 1, -1) == 3
    assert page.near(2, items, 1) == 3
    assert page.near(3, frozenset({"stitches", "item"}), 2) == 5


def test_a_span_reaches_from_the_first_token_to_before_the_last() -> None:
    page = page_of("hat 22 sts = 10 cm", "en")
    assert page.span(1, 4) == Span(4, 18)
    assert page.span(1, 2) == Span(4, 10)


def test_the_lines_are_counted() -> None:
    page = page_of("hat 22 sts\n4 mm\n\nDK", "en")
    assert pieces(page) == ["hat", "22 sts", "4 mm", "|", "DK"]
    assert page.lines == [0, 0, 1, 1, 2]


@pytest.mark.parametrize(
    ("text", "language", "ways"),
    [
        ("1.200 m of wool", "en", [TwoWays(Span(0, 5), Decimal("1.2"), Decimal(1200))]),
        ("1.234 m of wool", "en", []),
        ("1.200 m Wolle", "de", []),
    ],
)
def test_numbers_that_can_be_read_in_two_ways_are_kept(
    text: str, language: str, ways: list[TwoWays]
) -> None:
    assert list(page_of(text, language).two_ways) == ways


@pytest.mark.parametrize(
    ("text", "numbers"),
    [
        ("1. 5 balls\n2. 3 skeins", ["5 ball", "3 ball"]),
        ("1) 5 balls\n2) 3 skeins", ["5 ball", "3 ball"]),
        ("hat\n1. 5 balls", ["5 ball"]),
        ("hat\n- 5 balls", ["5 ball"]),
        ("- 5 balls\n- 3 skeins", ["5 ball", "3 ball"]),
        ("5 balls - 3 skeins", ["5 ball", "3 ball"]),
        ("hat\n-5-6 balls", ["range 5 6 ball"]),
        ("hat\n1: 5 balls", ["1", "5 ball"]),
        ("hat\n1.5 balls", ["1.5 ball"]),
        ("hat\n1.", ["1"]),
        ("hat\none. Balls", ["1"]),
        ("hat 1. Balls", ["1"]),
        ("hat\n12. Balls", []),
        ("hat\n1/2. Balls", ["0.5"]),
        ("1. so", []),
        ("hat\n1. so", []),
        ("1. 22 sts", ["22 st"]),
    ],
)
def test_what_counts_the_lines_is_no_number(text: str, numbers: list[str]) -> None:
    assert numbers_in(text) == numbers


def test_a_mark_at_the_start_of_a_line_parts_it_from_the_line_above() -> None:
    page = page_of("22 sts\n- 30 rows\n1. DK\n2) so", "en")
    assert ["break" in kinds for kinds in page.kinds] == [
        False, True, False, True, False, True, False,
    ]  # fmt: skip
    assert [token.text for token in page.tokens] == [
        "22 sts", "-", "30 rows", "1", "DK", "2", "so",
    ]  # fmt: skip
    assert pieces(page_of("1. DK. Hat", "en")) == ["1", "DK", ".", "Hat"]
    assert pieces(page_of("Hat.\n1. DK", "en")) == ["Hat", ".", "1", "DK"]
    assert pieces(page_of("- ) DK", "en")) == ["-", ")", "DK"]


@pytest.mark.parametrize(
    ("text", "language", "cut_off"),
    [
        ("22 sts\nInstructions\nCast on", "en", 7),
        ("22 sts\nInstructions: cast on", "en", 7),
        ("22 sts\nInstructions", "en", 7),
        ("22 sts\nInstructions follow", "en", None),
        ("22 sts, instructions: cast on", "en", None),
        ("Instructions\n22 sts", "en", None),
        ("22 sts\nCast on 84", "en", 7),
        ("22 sts\nCO 84", "en", 7),
        ("22 mailles\nMonter 84", "fr", 11),
        ("22 M\nAnschlagen 84", "de", None),
        ("22 M\nAnleitung:\n84", "de", 5),
        ("22 sts\nhat instructions\nCO 84", "en", 24),
    ],
)
def test_the_text_ends_where_the_working_instructions_begin(
    text: str, language: str, cut_off: int | None
) -> None:
    page = page_of(text, language)
    assert page.cut_off == cut_off
    assert all(token.end <= len(text[:cut_off]) for token in page.tokens)


@pytest.mark.parametrize(
    ("text", "word", "name"),
    [
        ("Gauge: 22 sts", "22 sts", "gauge"),
        ("Gauge\n22 sts", "22 sts", "gauge"),
        ("Gauge\n\n22 sts", "22 sts", "gauge"),
        ("Gauge\n22 sts\n\nhat", "hat", ""),
        ("Gauge\n\n22 sts\n\nhat", "hat", ""),
        ("Gauge: 22 sts\nhat", "hat", "gauge"),
        ("Gauge: 22 sts\nNeedles: 4 mm", "4 mm", "needle"),
        ("Gauge: 22 sts. Needles: 4 mm", "4 mm", "needle"),
        ("Gauge: 22 sts. Needles 4 mm", "4 mm", "needle"),
        ("Gauge: 22 sts, needles: 4 mm", "4 mm", "needle"),
        ("Gauge: 22 sts, needles 4 mm", "4 mm", "gauge"),
        ("Gauge: 22 sts  needles 4 mm", "4 mm", "needle"),
        ("Gauge: 22 sts on needles: 4 mm", "4 mm", "gauge"),
        ("Gauge: 22 x needles: 4 mm", "4 mm", "gauge"),
        ("Gauge: 3.5 mm needles: 4 mm", "4 mm", "gauge"),
        ("Gauge: 3 needles: 4 mm", "4 mm", "gauge"),
        ("22 sts", "22 sts", ""),
        ("Gauge", "Gauge", "gauge"),
        ("hat, needles", "needles", ""),
        ("hat needles:", "needles", "needle"),
        ("5 skeins: 6 (7)", "5 skeins", ""),
    ],
)
def test_a_label_opens_its_section(text: str, word: str, name: str) -> None:
    assert section(text, word) == name


def test_a_break_stands_before_each_label_and_behind_each_blank_line() -> None:
    page = page_of("Gauge: 22 sts\nNeedles: 4 mm\n\nhat", "en")
    assert pieces(page) == ["Gauge", ":", "22 sts", "|", "Needles", ":", "4 mm", "|", "hat"]
    assert page.sections == [
        "gauge", "gauge", "gauge", "gauge", "needle", "needle", "needle", "", "",
    ]  # fmt: skip
    assert (page.tokens[3].start, page.tokens[3].end) == (14, 14)


def test_the_language_is_told_from_the_words_unless_it_is_given() -> None:
    text = "22 Maschen und 30 Reihen"
    assert page_of(text).language == "de"
    assert page_of(text, "en").language == "en"
