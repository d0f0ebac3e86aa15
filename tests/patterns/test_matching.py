"""A number belongs to the first phrase that reads it, and no phrase reaches across a stop."""

from collections import Counter

import pytest

from shopdesk.patterns.phrases.matching import MOST_OF_A_PHRASE, mentions_of
from shopdesk.patterns.phrases.mentions import Mention
from shopdesk.patterns.phrases.page import page_of
from tests.patterns.short_texts import told


def mentions(text: str, language: str = "en") -> list[Mention]:
    return mentions_of(page_of(text, language))


def fields(text: str, language: str = "en") -> Counter[str]:
    return Counter(each.field for each in mentions(text, language))


@pytest.mark.parametrize(
    ("text", "read"),
    [
        ("50 g = 125 m", {"put_up": 1}),
        ("50 g = 125 m, 50 g = 125 m", {"put_up": 2}),
        ("125 m = 50 g = 125 m", {"put_up": 1, "amount": 1}),
        ("5 x 50 g", {"amount": 1, "ball_mass": 1}),
        # The mass of '5 x 50 g' may also be that of a put-up, but not its number.
        ("5 x 50 g = 125 m", {"amount": 1, "ball_mass": 1, "put_up": 1}),
        ("5 balls of 50 g = 125 m", {"amount": 1, "ball_mass": 1, "put_up": 1}),
        ("5 x 50 g balls", {"amount": 1, "ball_mass": 1}),
    ],
)
def test_a_number_is_read_once(text: str, read: dict[str, int]) -> None:
    assert fields(text) == read


def test_all_numbers_that_were_read_are_claimed() -> None:
    page = page_of("22 sts = 10 cm, so 17 of 4 mm needles", "en")
    mentions_of(page)
    numbers = [at for at, token in enumerate(page.tokens) if token.numbers is not None]
    assert [page.tokens[at].text for at in numbers] == ["22 sts", "10 cm", "17", "4 mm"]
    assert [at in page.claimed for at in numbers] == [True, True, False, True]


def test_the_mentions_stand_in_the_order_of_the_words() -> None:
    spans = [
        each.span for each in mentions("DK hat, 4 mm needles, 22 sts = 10 cm in garter stitch")
    ]
    assert spans == sorted(spans)
    assert len(set(spans)) > 4


def test_no_more_of_one_phrase_are_read_than_any_header_has() -> None:
    assert MOST_OF_A_PHRASE == 60
    for count in (59, 60, 61, 70):
        text = "\n".join(["4 mm needles"] * count)
        assert fields(text)["tool"] == min(count, 60)


@pytest.mark.parametrize(
    ("text", "read"),
    [
        ("22 sts = 10 cm", True),
        ("22 sts\n= 10 cm", True),
        ("22 sts; = 10 cm", False),
        ("22 sts =\n\n10 cm", False),
        ("22 sts. Over 10 cm", False),
    ],
)
def test_no_phrase_reaches_across_a_stop(text: str, read: bool) -> None:
    assert (fields(text)["stitches"] == 1) is read


@pytest.mark.parametrize(
    ("text", "read"),
    [("100% wool", True), ("100%\nwool", False), ("US 8", True), ("US\n8", False)],
)
def test_a_phrase_of_one_line_ends_with_it(text: str, read: bool) -> None:
    assert bool(fields(text) & Counter(["share", "tool"])) is read


def test_a_phrase_of_one_language_is_read_in_no_other() -> None:
    assert fields("Stricknadeln Nr. 3 und 3,5", "de")["tool"] == 2
    assert "tool word with two numbers" not in {
        each.phrase for each in mentions("needles no. 3 and 3.5")
    }


@pytest.mark.parametrize(
    ("text", "field", "value"),
    [
        ("1.200 m of wool", "amount main", "1.2 m or 1200 m unclear"),
        ("hat of 1.200 m", "amount main", "1.2 m or 1200 m unclear"),
        ("1.200 m, 4 mm needles", "tool", "4 mm sure"),
        ("4 mm needles, 1.200 m", "tool", "4 mm sure"),
        ("hat 4 mm1.200 m", "tool", "4 mm sure"),
    ],
)
def test_only_what_has_the_doubtful_number_is_unclear(text: str, field: str, value: str) -> None:
    assert told(text)[field] == value


@pytest.mark.parametrize(
    ("text", "fields_read"),
    [
        ("0 balls", 0),
        ("0 sts = 10 cm", 0),
        ("machine wash, do not iron", 1),
    ],
)
def test_nothing_is_read_of_a_zero_but_heat(text: str, fields_read: int) -> None:
    assert sum(fields(text).values()) == fields_read
