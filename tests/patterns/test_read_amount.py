"""How much yarn, in short texts: balls, lengths and masses, for each size and each colour."""

import pytest

from tests.patterns.short_texts import only, said, told, words_said


@pytest.mark.parametrize(
    ("text", "language", "amount"),
    [
        ("6 balls", "en", "6 balls sure"),
        ("5 (6, 7) balls", "en", "5 6 7 balls sure"),
        ("800 m of DK", "en", "800 m sure"),
        ("800 yds of DK", "en", "800 yd sure"),
        ("440 g worsted", "en", "440 g sure"),
        ("1 kg wool", "en", "1 kg sure"),
        ("16 oz wool", "en", "16 oz sure"),
        ("800 (900, 1000) m", "en", "800 900 1000 m sure"),
        ("1,200 m of DK", "en", "1200 m likely"),
        ("875 yds (800 m)", "en", "800 m sure"),
        ("5-6 balls", "en", "5 balls or 6 balls unclear"),
        ("700-800 m of DK", "en", "700 m or 800 m unclear"),
        ("200 balls", "en", "200 balls sure"),
        ("30000 m", "en", "30000 m sure"),
        ("30000 yds", "en", "30000 yd sure"),
        ("20000 g", "en", "20000 g sure"),
        ("Balls: 2", "en", "2 balls sure"),
        ("Skeins: 5 (6, 7)", "en", "5 6 7 balls sure"),
        ("Yards: 800 (900, 1000)", "en", "800 900 1000 yd sure"),
        ("Grams: 300 (350, 400)", "en", "300 350 400 g sure"),
        ("Skeins: 180 (190, 200)", "en", "180 190 200 balls sure"),
        ("800 m de laine", "fr", "800 m sure"),
    ],
)
def test_an_amount_is_read(text: str, language: str, amount: str) -> None:
    assert told(text, language)["amount main"] == amount


@pytest.mark.parametrize(
    "text",
    [
        "201 balls",
        "30001 m",
        "30001 yds",
        "20001 g",
        "0 balls",
        "5 (0, 7) balls",
        "5/6 balls",
        "Balls: 201",
        "Balls: 0",
        "Skeins: 180 (190, 201)",
        "Yards: 800 (900, 30001)",
        "Grams: 300 (350, 20001)",
        "Skeins: S (M, L)",
    ],
)
def test_what_no_item_takes_is_no_amount(text: str) -> None:
    assert "amount main" not in told(text)


def test_a_gauge_in_french_stitches_is_no_length() -> None:
    assert "amount main" not in told("Échantillon : 22 m. et 30 rgs", "fr")
    assert told("22 m de fil", "fr")["amount main"] == "22 m sure"


@pytest.mark.parametrize(
    ("text", "amount"),
    [
        # 800 yd are 732 m, 8.6 percent less than 800 m.
        ("800 m (800 yds)", "800 m or 800 yd unclear"),
        ("800 yds (800 m)", "800 yd or 800 m unclear"),
    ],
)
def test_of_two_units_that_differ_both_are_offered_as_written(text: str, amount: str) -> None:
    assert told(text)["amount main"] == amount
    assert words_said(text, "units_differ") == [[text]]


def test_of_two_units_that_agree_nothing_is_said() -> None:
    assert "units_differ" not in said("875 yds (800 m)")


@pytest.mark.parametrize(
    ("text", "each"),
    [
        ("1 ball each of six shades", True),
        ("1 ball of each shade", True),
        ("1 ball in a different shade of each", False),
        ("6 balls of wool", False),
        ("each 1 ball", False),
        ("1 ball, and each hat is warm", False),
    ],
)
def test_an_amount_of_each_colour_is_not_the_whole(text: str, each: bool) -> None:
    assert ("amount_each" in said(text)) is each
    assert told(text)["amount main"].endswith("unclear") is each


@pytest.mark.parametrize(
    ("text", "balls", "mass"),
    [
        ("8 balls of 50 g", "8 balls sure", "50 g sure"),
        ("5 x 50 g balls", "5 balls sure", "50 g sure"),
        ("50 g balls x 8", "8 balls sure", "50 g sure"),
        ("9 (10, 11) 50 g balls", "9 10 11 balls sure", "50 g sure"),
        ("200 x 50 g", "200 balls sure", "50 g sure"),
        ("5 x 1.75 oz (50 g)", "5 balls sure", "50 g sure"),
        ("8-9 balls of 50 g", "8 balls or 9 balls unclear", "50 g sure"),
    ],
)
def test_balls_of_a_mass_are_both(text: str, balls: str, mass: str) -> None:
    names = ("amount main", "ball_mass")
    assert only(told(text), names) == {"amount main": balls, "ball_mass": mass}


@pytest.mark.parametrize("text", ["201 x 50 g", "0 x 50 g", "5/6 x 50 g"])
def test_what_no_item_takes_is_no_number_of_balls(text: str) -> None:
    assert "balls" not in told(text).get("amount main", "")


def test_a_ball_has_one_mass() -> None:
    assert "ball_mass" not in told("8 balls of 50-60 g")


def test_balls_of_a_mass_belong_to_their_colour() -> None:
    read = told("MC: 8 balls of 50 g, CC: 2 x 50 g")
    assert (read["amount MC"], read["amount CC"]) == ("8 balls sure", "2 balls sure")


def test_a_row_belongs_to_its_colour() -> None:
    read = told("MC balls: 5 (6, 7)\nCC balls: 1 (2, 2)")
    assert (read["amount MC"], read["amount CC"]) == ("5 6 7 balls sure", "1 2 2 balls sure")


def test_sizes_on_lines_of_their_own_have_their_amounts() -> None:
    read = told("S: 5 balls\nM: 6 balls\nL: 7 balls")
    assert read["sizes"] == "S | M | L sure"
    assert read["amount main"] == "5 6 7 balls sure"


@pytest.mark.parametrize("line", ["L: 7-8 balls", "L: 7 (8, 9) balls", "L: 300 balls"])
def test_a_line_with_several_amounts_is_no_size(line: str) -> None:
    read = told(f"S: 5 balls\nM: 6 balls\n{line}")
    assert read["sizes"] == "S | M sure"
