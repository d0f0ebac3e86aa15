"""Values for several sizes, in the ways that patterns list them."""

import pytest

from shopdesk.patterns.phrases.page import page_of
from shopdesk.patterns.tokens.lists import MOST_ITEMS
from shopdesk.patterns.tokens.tokens import NumberToken, Token
from tests.patterns.short_texts import numbers_in


@pytest.mark.parametrize(
    ("text", "numbers"),
    [
        ("5 (6, 7) balls", ["list 5 6 7 ball"]),
        ("5 (6, 7)", ["list 5 6 7"]),
        ("5 [6, 7]", ["list 5 6 7"]),
        ("5 (6: 7/ 8; 9)", ["list 5 6 7 8 9"]),
        ("5 (6, 7 & 8)", ["list 5 6 7 8"]),
        ("5 (6, 7, & 8)", ["list 5 6 7 8"]),
        ("5 (6,7,8)", ["list 5 6 7 8"]),
        ("5 (6)(7) balls", ["list 5 6 7 ball"]),
        ("5 (6) 7 (8) balls", ["list 5 6 7 8 ball"]),
        ("(86) 92 (98) 106 cm", ["list 86 92 98 106 cm"]),
        ("(86, 92) balls", ["list 86 92 ball"]),
        ("XS (S, M) (L, XL)", ["list XS S M L XL"]),
        ("hat (small, medium)", ["list small medium"]),
        ("S (M)", ["list S M"]),
        ("6 (7) balls", ["list 6 7 ball"]),
        ("6 (6) balls", ["list 6 6 ball"]),
        ("8 (9 - 10) balls", ["list 8 9 10 ball"]),
        ("8 (9-10) balls", ["list 8 9 ball"]),
        ("8 (9-10, 11 - 12) balls", ["list 8 9 11 ball"]),
        ("5\n(6, 7) balls", ["list 5 6 7 ball"]),
        ("S/M (L/XL)", ["list S/M L/XL"]),
        ("5 cm (6 cm, 7 cm)", ["list 5 6 7 cm"]),
        ("newborn (3 months, 6 months)", ["list newborn 3 months 6 months month"]),
        ("5 (6/7/8, 9) balls", ["list 5 6 7 8 9 ball"]),
        ("5 (6/7/8) balls", ["list 5 6 7 8 ball"]),
        ("XS (S/M/L, XL)", ["list XS S M L XL"]),
        ("5 (6, 7 cm)", ["list 5 6 7 cm"]),
        ("5 (6, 7)\n\n(8, 9)", ["list 5 6 7", "list 8 9"]),
        ("5 (6, 7) 8 balls", ["list 5 6 7", "8 ball"]),
        ("5 (6) 7 balls", ["list 5 6 7 ball"]),
    ],
)
def test_brackets_hold_the_further_sizes(text: str, numbers: list[str]) -> None:
    assert numbers_in(text) == numbers


@pytest.mark.parametrize(
    ("text", "numbers"),
    [
        ("5 (about 6, 7)", ["5", "6", "7"]),
        ("5 (6, about 7)", ["5", "6", "7"]),
        ("5 (6 about, 7)", ["5", "6", "7"]),
        ("5 cm (6, 7 cm)", ["5 cm", "6", "7 cm"]),
        ("XS (S. M)", []),
        ("5 (", ["5"]),
        ("5 (6", ["5", "6"]),
        ("5 (6,", ["5", "6"]),
        ("5 (6, 7", ["5", "6", "7"]),
        ("(5) balls", ["5"]),
        ("7 (6) balls", ["7", "6"]),
        ("S (5) balls", ["5"]),
        ("5 (S) balls", ["5"]),
        ("US 6 (7)", ["6", "7"]),
        ("hook 6 (7)", ["6", "7"]),
        ("needles 6 (7)", ["6", "7"]),
        ("G 6 (7)", ["6", "7"]),
        ("5\n\n(6, 7)", ["5", "list 6 7"]),
        ("5 balls (50 g)", ["5 ball", "50 g"]),
        ("(86) (92 g)", ["86", "92 g"]),
    ],
)
def test_a_bracket_with_other_things_is_no_list(text: str, numbers: list[str]) -> None:
    assert numbers_in(text) == numbers


@pytest.mark.parametrize(
    ("text", "language", "numbers"),
    [
        ("9:10:11 balls", "en", ["list 9 10 11 ball"]),
        ("9:10", "en", ["list 9 10"]),
        ("9: 10: 11 balls", "en", ["list 9 10 11 ball"]),
        ("hat 11:10:9 balls", "en", ["list 11 10 9 ball"]),
        ("200 - 250 - 300 m", "en", ["list 200 250 300 m"]),
        ("2, 2, 3 balls", "en", ["list 2 2 3 ball"]),
        ("two, three, four balls", "en", ["list 2 3 4 ball"]),
        ("1 ball, 2 balls, 3 balls", "en", ["list 1 2 3 ball"]),
        ("2, 3, 4 -inch", "en", ["list 2 3 4"]),
        ("2, 3, 4- inch", "en", ["list 2 3 4"]),
        ("2, 3, 4-", "en", ["list 2 3 4"]),
        ("newborn, 3 months and 6 months", "en", ["list newborn 3 months 6 months month"]),
        ("2 / 3 / 4 balls", "en", ["list 2 3 4 ball"]),
        ("36/38 - 40/42 - 44/46", "en", ["list 36 40 44"]),
        ("2, 3 and 4 balls", "en", ["list 2 3 4 ball"]),
        ("2, 3 or 4 balls", "en", ["list 2 3 4 ball"]),
        ("2, 3 & 4 balls", "en", ["list 2 3 4 ball"]),
        ("2, 3 und 4 Knäuel", "de", ["list 2 3 4 ball"]),
        ("2, 3 oder 4 Knäuel", "de", ["list 2 3 4 ball"]),
        ("2, 3 et 4 pelotes", "fr", ["list 2 3 4 ball"]),
        ("2, 3 ou 4 pelotes", "fr", ["list 2 3 4 ball"]),
        ("small, medium, large", "en", ["list small medium large"]),
        ("small, medium", "en", ["list small medium"]),
        ("small / medium", "en", ["list small medium"]),
        ("small - medium - large", "en", ["list small medium large"]),
        ("small, medium and large", "en", ["list small medium large"]),
        ("2,\n3,\n4 balls", "en", ["list 2 3 4 ball"]),
        ("3, 6 and 9 months", "en", ["list 3 6 9 month"]),
        ("3 months & 6 months", "en", ["list 3 6 month"]),
        ("6 months, 1 year, 2 years", "en", ["list 6 1 2 month"]),
    ],
)
def test_one_sign_between_all_values_makes_a_list(
    text: str, language: str, numbers: list[str]
) -> None:
    assert numbers_in(text, language) == numbers


@pytest.mark.parametrize(
    ("text", "numbers"),
    [
        ("9 : 10 : 11", ["9", "10", "11"]),
        ("9:10 balls", ["9", "10 ball"]),
        ("2, 3, 4-inch", ["2", "3", "4 in"]),
        ("2, 3, 4-inch squares", ["2", "3", "4 in"]),
        ("one ball, two balls, three balls", ["1 ball", "2 ball", "3 ball"]),
        ("a single ball, 2 balls, 3 balls", ["1 ball", "2 ball", "3 ball"]),
        ("small, hat", []),
        ("3 months &\n\n6 months", ["3 month", "6 month"]),
        ("2, 3 balls", ["2", "3 ball"]),
        ("2 / 3 balls", ["2", "3 ball"]),
        ("2 and 3 balls", ["2", "3 ball"]),
        ("2 and 3 and 4 balls", ["2", "3", "4 ball"]),
        ("3, 2, 1 balls", ["3", "2", "1 ball"]),
        ("2 and 3, 4 balls", ["2", "3", "4 ball"]),
        ("small and medium and large", []),
        ("small - medium", []),
        ("2, small, 4", ["2", "4"]),
        ("2, 3,\n\n4 balls", ["2", "3", "4 ball"]),
        ("2, 3\n\n, 4 balls", ["2", "3", "4 ball"]),
        ("5 of 6, 7, 8 balls", ["5", "list 6 7 8 ball"]),
        ("22 sts, 30 rows, 40 cm", ["22 st", "30 row", "40 cm"]),
        ("9,", ["9"]),
        ("9, ", ["9"]),
        ("2, 3 and", ["2", "3"]),
        ("2, 3 and small", ["2", "3"]),
        ("8, 4-inch squares", ["8", "4 in"]),
    ],
)
def test_a_sentence_with_numbers_is_no_list(text: str, numbers: list[str]) -> None:
    assert numbers_in(text) == numbers


@pytest.mark.parametrize(
    ("text", "numbers"),
    [
        ("36\t38\t40", ["list 36 38 40"]),
        ("36\t38", ["list 36 38"]),
        ("36 38 40", ["list 36 38 40"]),
        ("36 38\t40", ["list 36 38 40"]),
        ("36\t38 40", ["list 36 38 40"]),
        ("S\tM\tL", ["list S M L"]),
        ("36\n38\n40", ["list 36 38 40"]),
        ("hat\n36\n38", ["list 36 38"]),
        ("hat\n36\n38\n40 cm", ["list 36 38 40 cm"]),
        ("5 balls\t6 balls\t7 balls", ["list 5 6 7 ball"]),
        ("5\t6\t7 balls", ["list 5 6 7 ball"]),
    ],
)
def test_the_cells_of_a_row_are_a_list(text: str, numbers: list[str]) -> None:
    assert numbers_in(text) == numbers


@pytest.mark.parametrize(
    ("text", "numbers"),
    [
        ("36 38", ["36", "38"]),
        ("36\t38\n40\t42", ["list 36 38", "list 40 42"]),
        ("36 38\n40 42", ["36", "38", "40", "42"]),
        ("36\n\n38", ["36", "38"]),
        ("hat 36\n38", ["36", "38"]),
        ("36\nS\n40", ["36", "40"]),
        ("36\tS\t40", ["36", "40"]),
        ("hat\n36 cm\n38 cm", ["36 cm", "38 cm"]),
        ("36\t38\n\n40", ["list 36 38", "40"]),
    ],
)
def test_numbers_beside_and_below_each_other_by_chance_are_none(
    text: str, numbers: list[str]
) -> None:
    assert numbers_in(text) == numbers


@pytest.mark.parametrize(
    ("text", "numbers"),
    [
        ("a) 2 b) 3 c) 4", ["list 2 3 4"]),
        ("A) 2 B) 3", ["list 2 3"]),
        ("a) 2 b) 3 c) 4 d) 5 e) 6 f) 7 g) 8", ["list 2 3 4 5 6 7 8"]),
        ("a) 2 balls b) 3 balls", ["list 2 3 ball"]),
        ("a) 2 g b) 3 g", ["list 2 3 g"]),
        ("a) 2 b) 3 d) 4", ["list 2 3", "4"]),
        ("a) 2", ["2"]),
        ("b) 2 c) 3", ["2", "3"]),
        ("a 2 b 3", ["2", "3"]),
        ("a) hat b) 3", ["3"]),
        ("a) 2 b)", ["2"]),
        ("a)", []),
    ],
)
def test_letters_number_the_sizes_of_a_list(text: str, numbers: list[str]) -> None:
    assert numbers_in(text) == numbers


def listed(text: str) -> tuple[Token, NumberToken]:
    (token,) = [token for token in page_of(text, "en").tokens if token.numbers is not None]
    assert token.numbers is not None
    return token, token.numbers


@pytest.mark.parametrize(
    ("text", "names"),
    [
        ("5 (6½, 7)", ("5", "6½", "7")),
        ("8 (9-10, 11)", ("8", "9-10", "11")),
        ("8 (9 - 10)", ("8", "9", "10")),
        ("36/38 (40/42, 44/46)", ("36/38", "40/42", "44/46")),
        ("3 months (6 months, 1 year)", ("3 months", "6 months", "1 year")),
        ("5 cm (6 cm, 7 cm)", ("5", "6", "7")),
        ("XS (S/M, L)", ("XS", "S/M", "L")),
        ("two, three, four balls", ("two", "three", "four")),
        (
            "newborn to 3 months, 6 months, 1 year",
            ("newborn to 3 months", "6 months", "1 year"),
        ),
    ],
)
def test_the_values_of_a_list_are_named_as_written(text: str, names: tuple[str, ...]) -> None:
    assert listed(text)[1].names == names


def test_a_list_of_names_has_no_values() -> None:
    assert listed("S (M, L)")[1].values == ()
    assert listed("small, medium, large")[1].values == ()


def test_one_doubtful_value_makes_a_list_doubtful() -> None:
    assert listed("950 (1,100, 1200) m")[1].doubtful
    assert not listed("950 (1100, 1200) m")[1].doubtful


def test_a_list_with_units_covers_them_and_says_that_it_is_one() -> None:
    token, _ = listed("hat 5 cm (6 cm, 7 cm) wide")
    assert dict(token.kinds) == {"short": "cm", "listed": ""}
    assert (token.start, token.end) == (4, 21)
    assert token.merged


def many(count: int) -> list[str]:
    return [str(number) for number in range(30, 30 + count)]


@pytest.mark.parametrize("parting", ["\t", ", ", ": "])
def test_a_list_ends_at_as_many_values_as_any_pattern_has_sizes(parting: str) -> None:
    assert MOST_ITEMS == 24
    assert numbers_in(parting.join(many(24))) == ["list " + " ".join(many(24))]
    longer = numbers_in(parting.join(many(26)))
    assert longer[0] == "list " + " ".join(many(24))


def test_a_bracket_with_more_values_than_sizes_is_no_list() -> None:
    assert numbers_in(f"29 ({', '.join(many(24))})") == ["list 29 " + " ".join(many(24))]
    assert numbers_in(f"29 ({', '.join(many(25))})")[0] == "29"


def test_brackets_in_turn_end_at_as_many_sizes() -> None:
    pairs = zip(many(26)[::2], many(26)[1::2], strict=True)
    assert numbers_in(" ".join(f"{one} ({other})" for one, other in pairs))[0] == (
        "list " + " ".join(many(24))
    )


def test_letters_run_to_as_many_sizes_as_there_are() -> None:
    lettered = [f"{chr(ord('a') + at)}) {number}" for at, number in enumerate(many(25))]
    assert numbers_in(" ".join(lettered)) == ["list " + " ".join(many(24)), "54"]
