"""Numbers with their units, ranges, and one quantity in two units, in short texts."""

from decimal import Decimal

import pytest

from shopdesk.patterns.phrases.page import page_of
from shopdesk.patterns.tokens.joining import units_differ, with_ranges
from shopdesk.patterns.tokens.lexicon import lexicon
from shopdesk.patterns.tokens.tokens import Shape, cut
from tests.patterns.short_texts import numbers_in


@pytest.mark.parametrize(
    ("text", "language", "numbers"),
    [
        ("22-24 sts", "en", ["range 22 24 st"]),
        ("22 - 24 sts", "en", ["range 22 24 st"]),
        ("22-24", "en", ["range 22 24"]),
        ("hat, 22-24 sts", "en", ["range 22 24 st"]),
        ("-5-6", "en", ["range 5 6"]),
        ("x -5-6 balls", "en", ["range 5 6 ball"]),
        ("2 x 5-6 balls", "en", ["2", "range 5 6 ball"]),
        ("22-24 sts 30-32 rows", "en", ["range 22 24 st", "range 30 32 row"]),
        ("110 to 130 yds", "en", ["range 110 130 yd"]),
        ("3 bis 4 Knäuel", "de", ["range 3 4 ball"]),
        ("3 à 4 pelotes", "fr", ["range 3 4 ball"]),
    ],
)
def test_two_ends_are_a_range(text: str, language: str, numbers: list[str]) -> None:
    assert numbers_in(text, language) == numbers


@pytest.mark.parametrize(
    ("text", "numbers"),
    [
        ("110 to 130", ["110", "130"]),
        ("110 to 130 of them", ["110", "130"]),
        ("110 then 130 yds", ["110", "130 yd"]),
        ("110 to  130 yds", ["110", "130 yd"]),
        ("22 -  24 sts", ["22", "24 st"]),
        ("22  - 24 sts", ["22", "24 st"]),
        ("24-22 sts", ["24", "22 st"]),
        ("22-22 sts", ["22", "22 st"]),
        ("36/38 - 40 sts", ["pair 36 38", "40 st"]),
        ("40 - 42/44 sts", ["40", "pair 42 44 st"]),
        ("US 5-6", ["5", "6"]),
        ("5-6-7", ["list 5 6 7"]),
        ("hat 5 - 6 - 7", ["list 5 6 7"]),
        ("hat 9 - 6 - 7", ["9", "6", "7"]),
    ],
)
def test_what_is_no_range_stays_apart(text: str, numbers: list[str]) -> None:
    assert numbers_in(text) == numbers


def test_a_range_keeps_its_ends_and_how_it_is_written() -> None:
    (token,) = with_ranges(cut("22 - 24", lexicon("en"), "en"))
    assert token.numbers is not None
    assert token.numbers.shape is Shape.RANGE
    assert token.numbers.names == ("22-24",)
    assert (token.start, token.end, token.text) == (0, 7, "22 - 24")
    (tight,) = with_ranges(cut("22-24", lexicon("en"), "en"))
    assert tight.text == "22-24"


@pytest.mark.parametrize(
    ("text", "numbers"),
    [
        ("newborn to 3 months", ["range 0 3 month"]),
        ("size newborn - 3 months", ["range 0 3 month"]),
        ("newborn to 3 balls", ["3 ball"]),
        ("newborn and 3 months", ["3 month"]),
        ("newborn to 3", ["3"]),
        ("newborn to three", ["3"]),
    ],
)
def test_newborn_is_the_age_of_nothing(text: str, numbers: list[str]) -> None:
    found = [each for each in numbers_in(text) if not each.startswith("list")]
    assert found == numbers


def test_an_age_from_birth_is_named_as_written() -> None:
    page = page_of("newborn to 3 months", "en")
    (age,) = page.tokens
    assert age.numbers is not None
    assert age.numbers.names == ("newborn to 3",)
    assert (age.start, age.end, age.text) == (0, 19, "newborn to 3 months")


@pytest.mark.parametrize(
    ("text", "numbers"),
    [
        ("22 sts", ["22 st"]),
        ("10cm", ["10 cm"]),
        ("10  cm", ["10 cm"]),
        ("10\ncm", ["10 cm"]),
        ("10\n\ncm", ["10"]),
        ("10-cm swatch", ["10 cm"]),
        ("10 -cm swatch", ["10"]),
        ("10- cm swatch", ["10"]),
        ("10-", ["10"]),
        ("10", ["10"]),
        ("10 more cm", ["10"]),
        ("hat 22  skeins", ["22 ball"]),
        ("hat 22\nskeins", ["22"]),
        ("hat 22\nballs", ["22 ball"]),
        ("5 (6, 7) balls", ["list 5 6 7 ball"]),
        ("22 sts 30 rows", ["22 st", "30 row"]),
        ("22 sts rows", ["22 st"]),
    ],
)
def test_a_number_takes_the_unit_behind_it(text: str, numbers: list[str]) -> None:
    assert numbers_in(text) == numbers


def test_a_quantity_covers_its_words_and_keeps_only_what_its_unit_means() -> None:
    tokens = page_of("hat 10-cm 5 (6, 7)  balls", "en").tokens
    length, balls = [token for token in tokens if token.merged]
    assert (length.start, length.end, length.text) == (4, 9, "10-cm")
    assert dict(length.kinds) == {"short": "cm"}
    assert dict(balls.kinds) == {"balls": "ball", "listed": ""}
    assert (balls.start, balls.end, balls.text) == (10, 25, "5 (6, 7) balls")


@pytest.mark.parametrize(
    ("text", "units"),
    [
        ("4 in / 10 cm", ["4 in | 10 cm"]),
        ("10 cm (4 in)", ["10 cm | 4 in"]),
        ("10 cm (4 in", ["10 cm | 4 in"]),
        ("10 cm (4 in 22 sts", ["10 cm | 4 in", "22 st"]),
        ("10 cm (", ["10 cm"]),
        ("220 yd/200 m", ["220 yd | 200 m"]),
        ("4 in or 10 cm", ["4 in | 10 cm"]),
        ("4 in = 10 cm", ["4 in | 10 cm"]),
        ("4 in, 10 cm", ["4 in | 10 cm"]),
        ("4 in  10 cm", ["4 in | 10 cm"]),
        ("4 in 10 cm", ["4 in | 10 cm"]),
        ("4 in 10 cm 22 sts", ["4 in | 10 cm", "22 st"]),
        ("4 in\n10 cm", ["4 in", "10 cm"]),
        ("4 in x 10 cm", ["4 in", "10 cm"]),
        ("50 g / 1.75 oz", ["50 g | 1.75 oz"]),
        ("10 cm / 12 cm", ["10 cm", "12 cm"]),
        ("50 g / 125 m", ["50 g", "125 m"]),
        ("22 sts / 10 cm", ["22 st", "10 cm"]),
        ("0 cm / 4 in", ["0 cm", "4 in"]),
        ("81 (86, 91) cm / 32 (34, 36) in", ["list 81 86 91 cm | list 32 34 36 in"]),
        ("81 (86, 91) cm / 32 (34) in", ["list 81 86 91 cm", "list 32 34 in"]),
        ("81 (86, 91) cm / 32 (14, 36) in", ["list 81 86 91 cm", "list 32 14 36 in"]),
        # 147 yd are 134.4 m, 150 yd are 137.2 m: 34 and 37 percent more than 100 m.
        ("100 m (147 yd)", ["100 m | 147 yd"]),
        ("100 m (150 yd)", ["100 m", "150 yd"]),
        # 650 g are exactly 35 percent less than 1000 g.
        ("1000 g (0.66 kg)", ["1000 g | 0.66 kg"]),
        ("1000 g (0.65 kg)", ["1000 g", "0.65 kg"]),
    ],
)
def test_about_the_same_in_another_unit_is_one_quantity(text: str, units: list[str]) -> None:
    both = []
    for token in page_of(text, "en").tokens:
        if token.numbers is not None:
            one = numbers_in(text[token.start : token.end])[0]
            other = token.also
            words = numbers_in(text[other.start : other.end])[0] if other else ""
            both.append(f"{one} | {words}" if words else one)
    assert both == units


def test_what_stands_in_two_units_ends_behind_its_bracket() -> None:
    tokens = page_of("5 (6, 7) cm (2 (2.4, 2.8) in) x", "en").tokens
    first = tokens[0]
    assert first.also is not None
    assert (first.start, first.end) == (0, 29)
    assert first.text == "5 (6, 7) cm / 2 (2.4, 2.8) in"
    assert dict(first.kinds) == {"short": "cm", "listed": ""}
    assert [token.text for token in tokens[1:]] == ["x"]


def test_a_single_quantity_in_two_units_is_no_list() -> None:
    (token,) = page_of("4 in / 10 cm", "en").tokens
    assert dict(token.kinds) == {"short": "in"}


def differs(text: str) -> bool:
    (token,) = [token for token in page_of(text, "en").tokens if token.also is not None]
    return units_differ(token)


@pytest.mark.parametrize(
    ("text", "differ"),
    [
        # A length of yarn may miss by 4 percent: 1050 yd are 960.1 m, 1047 yd are 957.4 m.
        ("1000 m (1050 yd)", False),
        ("1000 m (1047 yd)", True),
        ("1000 m (1136 yd)", False),
        ("1000 m (1139 yd)", True),
        ("1 m (1.2 yd)", True),
        # Short ones and masses by half of the coarser unit: 1.27 cm, 0.5 in, 14.2 g.
        ("10 cm (4.25 in)", False),
        ("10 cm (4.45 in)", True),
        ("10 cm (3.45 in)", False),
        ("10 cm (3.4 in)", True),
        ("4 in (11 cm)", False),
        ("4 in (11.5 cm)", True),
        ("50 g (2 oz)", False),
        ("2 kg (1500 g)", False),
        ("100 g (3 oz)", True),
        # By 4 percent where that is more: 40 in are 101.6 cm, 42 in are 106.7 cm.
        ("100 cm (40 in)", False),
        ("100 cm (42 in)", True),
        # One of a list is enough.
        ("81 (86, 91) cm / 32 (34, 36) in", False),
        ("81 (86, 91) cm / 32 (39, 36) in", True),
    ],
)
def test_two_units_agree_to_what_rounding_leaves(text: str, differ: bool) -> None:
    assert differs(text) is differ


def test_one_unit_alone_agrees_with_itself() -> None:
    assert not units_differ(page_of("10 cm", "en").tokens[0])


def test_a_range_of_two_units_is_compared_at_both_ends() -> None:
    (token,) = page_of("100-110 m (109-140 yd)", "en").tokens
    assert token.numbers is not None
    assert token.numbers.values == (Decimal(100), Decimal(110))
    assert units_differ(token)
