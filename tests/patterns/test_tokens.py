"""Words, numbers and signs of a text, with the gaps between them."""

from decimal import Decimal

import pytest

from shopdesk.patterns.tokens.lexicon import lexicon
from shopdesk.patterns.tokens.tokens import LONGEST_NUMBER, UNREAD, Gap, Shape, Token, cut


def tokens(text: str, language: str = "en") -> list[Token]:
    return cut(text, lexicon(language), language)


def numbers(text: str, language: str = "en") -> list[str]:
    found = [token.numbers for token in tokens(text, language) if token.numbers is not None]
    return [
        " ".join([each.shape.value, *(f"{value:f}" for value in each.values)]) for each in found
    ]


@pytest.mark.parametrize(
    ("text", "language", "read"),
    [
        ("22", "en", ["number 22"]),
        ("5.5", "en", ["number 5.5"]),
        ("3,5", "de", ["number 3.5"]),
        ("6,5 mm", "en", ["number 6.5"]),
        ("5 1/2", "en", ["number 5.5"]),
        ("5-1/2", "en", ["number 5.5"]),
        ("5½", "en", ["number 5.5"]),
        ("½", "en", ["number 0.5"]),
        ("eight", "en", ["number 8"]),
        ("acht", "de", ["number 8"]),
        ("1/2", "en", ["number 0.5"]),
        ("2/3", "en", ["number 0.666666666667"]),
        ("3/4", "en", ["number 0.75"]),
        ("4/5", "en", ["number 0.8"]),
        ("7/8", "en", ["number 0.875"]),
        ("1/16", "en", ["number 0.0625"]),
        # No fraction of the trade, or none below one: a size or a gauge of two numbers.
        ("1/6", "en", ["pair 1 6"]),
        ("1/9", "en", ["pair 1 9"]),
        ("1/18", "en", ["pair 1 18"]),
        ("0/4", "en", ["pair 0 4"]),
        ("4/4", "en", ["pair 4 4"]),
        ("5/4", "en", ["pair 5 4"]),
        ("36/38", "en", ["pair 36 38"]),
        ("22/24/26", "en", ["list 22 24 26"]),
        ("6,7,8", "en", ["list 6 7 8"]),
        ("(6,7) 8", "en", ["number 6", "number 7", "number 8"]),
        ("[ 6,7 ] 8", "en", ["number 6", "number 7", "number 8"]),
        ("hat (100,200)", "en", ["number 100", "number 200"]),
        ("hat (6,7) 8,5", "en", ["number 6", "number 7", "number 8.5"]),
        ("hat [ 6,7 ]", "en", ["number 6", "number 7"]),
        ("(6,7 cm)", "en", ["number 6.7"]),
        ("*5", "en", ["number 5"]),
        ("(6,7)", "de", ["number 6.7"]),
        ("1,200", "en", ["number 1200"]),
        ("1.234", "en", ["number 1.234"]),
        ("1.200", "de", ["number 1200"]),
        ("1,234", "de", ["number 1.234"]),
        ("1 200 m", "fr", ["number 1200"]),
        ("1 200 m", "en", ["number 1", "number 200"]),
        ("1 200 m", "de", ["number 1", "number 200"]),
    ],
)
def test_a_number_is_read_as_its_language_writes_it(
    text: str, language: str, read: list[str]
) -> None:
    assert numbers(text, language) == read


@pytest.mark.parametrize(
    ("text", "language", "value", "doubtful", "other"),
    [
        ("1,200", "en", "1200", True, None),
        ("1.200", "de", "1200", True, None),
        ("1 200 m", "fr", "1200", True, None),
        ("1.200", "en", "1.2", False, "1200"),
        ("1,250", "de", "1.25", False, "1250"),
        ("1.234", "en", "1.234", False, None),
        ("12.5", "en", "12.5", False, None),
        ("1200", "en", "1200", False, None),
    ],
)
def test_thousands_are_doubtful_and_an_idle_zero_has_two_readings(
    text: str, language: str, value: str, doubtful: bool, other: str | None
) -> None:
    read = tokens(text, language)[0].numbers
    assert read is not None
    assert read.values == (Decimal(value),)
    assert read.doubtful is doubtful
    assert read.other == (None if other is None else Decimal(other))


def test_numbers_are_named_as_they_are_written() -> None:
    found = tokens("22/24/26 36/38 5½ 3/4 8 eight")
    names = [token.numbers.names for token in found if token.numbers]
    assert names == [("22", "24", "26"), ("36/38",), ("5½",), ("3/4",), ("8",), ("8",)]


def test_a_number_longer_than_any_list_of_sizes_is_not_read() -> None:
    # 25 numbers and 24 slashes: 96 figures fill the 120 signs, one figure more is too many.
    longest = "/".join(["1234"] * 21 + ["123"] * 4)
    longer = "/".join(["1234"] * 22 + ["123"] * 3)
    assert (len(longest), len(longer)) == (LONGEST_NUMBER, 121) == (120, 121)
    assert [token.numbers is None for token in tokens(longest)] == [False]
    assert [token.numbers is None for token in tokens(longer)] == [True]
    assert [token.text for token in tokens(longer)] == [longer]


def test_more_figures_than_any_amount_has_are_a_word() -> None:
    found = tokens("1234567 12345678 m")
    assert [token.text for token in found] == ["1234567", "12345678", "m"]
    assert [token.numbers is None for token in found] == [False, True, True]


@pytest.mark.parametrize("number", ["1.200.5", "١٢٠"])
def test_a_number_that_cannot_be_read_is_one_token_that_says_so(number: str) -> None:
    unread = [token.text for token in tokens(f"hat {number} km") if UNREAD in token.kinds]
    assert unread == [number]


@pytest.mark.parametrize(
    ("text", "gap"),
    [
        ("a5", Gap.NONE),
        ("a: 5", Gap.SPACE),
        ("a  5", Gap.WIDE),
        ("a\t5", Gap.WIDE),
        ("a|5", Gap.WIDE),
        ("a | 5", Gap.WIDE),
        ("a ..... 5", Gap.WIDE),
        ("a . . . 5", Gap.WIDE),
        ("a ___ 5", Gap.WIDE),
        ("a --- 5", Gap.WIDE),
        ("a .. 5", Gap.WIDE),
        ("a\n5", Gap.LINE),
        ("a \n  5", Gap.LINE),
        ("a\n.....  5", Gap.LINE),
        ("a\n\n5", Gap.PARAGRAPH),
        ("a \n\n\n 5", Gap.PARAGRAPH),
        ("5", Gap.PARAGRAPH),
    ],
)
def test_the_gap_before_a_number_is_the_widest_of_what_stands_there(text: str, gap: Gap) -> None:
    assert tokens(text)[-1].gap is gap


def test_a_blank_at_the_end_is_nothing() -> None:
    assert [token.text for token in tokens("22 ")] == ["22"]


def test_a_token_knows_its_place() -> None:
    text = "Hat, 22 sts = 10 cm."
    for token in tokens(text):
        assert text[token.start : token.end] == token.text
    assert [token.text for token in tokens(text)] == text.replace(",", " ,").replace(
        "cm.", "cm ."
    ).split()


def stops(text: str, language: str = "en") -> list[int]:
    return [token.start for token in tokens(text, language) if "stop" in token.kinds]


@pytest.mark.parametrize(
    ("text", "language"),
    [
        ("22 sts. Work on 4 mm", "en"),
        ("Gauge. 22 sts", "en"),
        ("a gauge. 22 sts", "en"),
        ("4 mm.", "en"),
        ("4 mm.\nhat", "en"),
        ("4 mm. \nhat", "en"),
        ('"Hat."', "en"),
        ('"Hat." for', "en"),
        ("4 mm! hat", "en"),
        ("4 mm; hat", "en"),
        ("4 mm? hat", "en"),
    ],
)
def test_a_stop_ends_something(text: str, language: str) -> None:
    assert len(stops(text, language)) == 1


@pytest.mark.parametrize(
    ("text", "language"),
    [
        ("30 rgs. = 10 cm", "fr"),
        ("Nr. 4", "de"),
        ("appr. 22 sts", "en"),
        ("4.hat", "en"),
        ("U.K", "en"),
        ("approx.22 sts", "en"),
        ("approx. the same", "en"),
        ("ca. " + " " * 90 + "the same", "en"),
        ('4."x', "en"),
    ],
)
def test_the_dot_of_an_abbreviation_ends_nothing(text: str, language: str) -> None:
    assert stops(text, language) == []


@pytest.mark.parametrize(
    ("text", "names"),
    [
        ("S/M/L", ("S", "M", "L")),
        ("XS/S/M/L/XL", ("XS", "S", "M", "L", "XL")),
        ("1X/2X/3X", ("1X", "2X", "3X")),
    ],
)
def test_sizes_with_slashes_are_a_list_without_values(text: str, names: tuple[str, ...]) -> None:
    (token,) = tokens(text)
    assert token.numbers is not None
    assert (token.numbers.shape, token.numbers.values) == (Shape.LIST, ())
    assert token.numbers.names == names
    assert dict(token.kinds) == {"sizelist": ""}


def test_two_sizes_with_a_slash_are_one_size() -> None:
    (token,) = tokens("S/M")
    assert dict(token.kinds) == {"sizename": "size"}
    assert (token.start, token.end) == (0, 3)


@pytest.mark.parametrize("size", ["2XL", "XXL", "3X", "M"])
def test_a_size_with_a_figure_is_no_number(size: str) -> None:
    (token,) = tokens(size)
    assert token.numbers is None
    assert "sizename" in token.kinds


def test_the_longest_known_words_are_one_token() -> None:
    texts = [token.text for token in tokens("with yarn held double, hand wash only, not stocking")]
    assert texts == ["with yarn held double", ",", "hand wash only", ",", "not", "stocking"]


def test_a_word_in_capitals_of_three_letters_is_read_only_as_written() -> None:
    # 'CO' begins the instructions, 'M' is a size; 'co' and 'm' are neither.
    assert "instructions" in tokens("CO 84")[0].kinds
    assert "instructions" not in tokens("co 84")[0].kinds
    assert "sizename" in tokens("M")[0].kinds
    assert "sizename" not in tokens("m")[0].kinds


@pytest.mark.parametrize(
    ("word", "kinds"),
    [
        ("Herrenweste", {"item": "vest", "wearer": "adult"}),
        ("Zopfpullover", {"item": "pullover", "feature": "cables"}),
        ("Sommerkleid", {"item": "dress"}),
        ("Sommerabend", {"word": "Sommerabend"}),
        ("Abtuch", {"word": "Abtuch"}),
    ],
)
def test_a_german_compound_is_read_by_its_parts(word: str, kinds: dict[str, str]) -> None:
    assert dict(tokens(word, "de")[0].kinds) == kinds


def test_only_a_bare_unit_waits_for_its_number() -> None:
    assert [token.is_unit for token in tokens("22 sts hat")] == [False, True, False]
    # One word may be a number and a unit: 'fil' is a strand, 'un' a number.
    assert [token.is_unit for token in tokens("un fil", "fr")] == [False, True]
