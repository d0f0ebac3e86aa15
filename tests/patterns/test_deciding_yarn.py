"""What is decided of a yarn from several findings: put-up, blend, weight, amounts."""

import pytest

from tests.patterns.short_texts import only, said, sources, told, values_said, words_said

BALL = ("put_up", "ball_mass", "ball_length")


def ball(text: str) -> dict[str, str]:
    return only(told(text), BALL)


def amounts(text: str, language: str = "en") -> dict[str, str]:
    return {
        name.removeprefix("amount "): value
        for name, value in told(text, language).items()
        if name.startswith("amount ")
    }


@pytest.mark.parametrize(
    ("text", "put_up"),
    [
        ("50 g = 125 m", "50 g = 125 m sure"),
        ("50 g = 125 m\n50 g = 125 m", "50 g = 125 m sure"),
        ("50 g = 125 m\n100 g = 200 m", "50 g = 125 m or 100 g = 200 m unclear"),
        ("MC 50 g = 125 m\nCC 100 g = 200 m", "50 g = 125 m or 100 g = 200 m likely"),
        ("MC 50 g = 125 m\nMC 100 g = 200 m", "50 g = 125 m or 100 g = 200 m unclear"),
        ("MC 50 g = 125 m\n100 g = 200 m", "50 g = 125 m or 100 g = 200 m likely"),
        # 150 yd are 137 m: the first is unclear, and is still the first.
        ("50 g = 120 m (150 yd)\n100 g = 200 m", "50 g = 120 m or 100 g = 200 m unclear"),
    ],
)
def test_of_several_yarns_the_first_is_taken(text: str, put_up: str) -> None:
    assert ball(text) == {"put_up": put_up}
    assert ("second_yarn" in said(text)) is (" or " in put_up)


def test_a_second_yarn_is_pointed_to() -> None:
    text = "hat\n50 g = 125 m\n100 g = 200 m"
    assert words_said(text, "second_yarn") == [["50 g = 125 m", "100 g = 200 m"]]
    assert sources(text)["put_up"] == ["50 g = 125 m", "100 g = 200 m"]


@pytest.mark.parametrize(
    ("text", "read"),
    [
        ("8 balls of 50 g, 98 m to the ball", {"put_up": "50 g = 98 m sure"}),
        ("8 balls of 50 g", {"ball_mass": "50 g sure"}),
        ("8 balls, 98 m to the ball", {"ball_length": "98 m sure"}),
        # The one length beside balls of a stated mass is likely theirs.
        ("8 balls of 50 g, so 98 m", {"put_up": "50 g = 98 m likely"}),
        ("8 balls of 50 g, so 98 yds", {"put_up": "50 g = 98 yd likely"}),
        ("MC 8 balls of 50 g, CC 2 balls of 50 g, so 98 m", {"put_up": "50 g = 98 m likely"}),
        ("8 balls of 50 g, so 98 m, so 800 m", {"ball_mass": "50 g sure"}),
        ("8 balls of 50 g, so 98 (100, 102) m", {"ball_mass": "50 g sure"}),
        ("in 50 g balls, so 98 m", {"ball_mass": "50 g sure"}),
        ("8 balls of 50 g. S: 5 balls, so 98 m", {"put_up": "50 g = 98 m likely"}),
    ],
)
def test_a_balls_mass_and_length_make_a_put_up(text: str, read: dict[str, str]) -> None:
    assert ball(text) == read


def test_a_put_up_of_two_findings_points_to_both() -> None:
    text = "hat, 8 balls of 50 g, so 98 m"
    assert sources(text)["put_up"] == ["8 balls of 50 g", "98 m"]
    assert amounts(text) == {"main": "8 balls sure"}


@pytest.mark.parametrize(
    ("text", "fibres"),
    [
        ("75% wool 25% nylon", "75 wool | 25 polyamide sure"),
        ("75% wool\n25% nylon", "75 wool | 25 polyamide sure"),
        ("50% merino, 50% wool", "100 wool sure"),
        ("99% wool 1% nylon", "99 wool | 1 polyamide sure"),
        ("60% wool 30% nylon", "60 wool | 30 polyamide unclear"),
        ("60% wool 60% nylon", "60 wool | 60 polyamide unclear"),
        ("100% wool\n100% silk", "100 wool or 100 silk likely"),
        ("100% wool\n100% wool", "100 wool sure"),
        (
            "75% wool 25% nylon\n60% silk 40% cotton",
            "75 wool | 25 polyamide or 60 silk | 40 cotton likely",
        ),
        ("60% wool 30% nylon\n100% silk", "60 wool | 30 polyamide or 100 silk unclear"),
    ],
)
def test_shares_that_stand_together_are_a_blend(text: str, fibres: str) -> None:
    if text.startswith("60% wool 30% nylon\n"):
        text = text.replace("\n", "\n" + "so " * 10)
    assert told(text)["fibres"] == fibres
    assert ("second_yarn" in said(text)) is (" or " in fibres)


@pytest.mark.parametrize(("words", "blend"), [(7, True), (8, False)])
def test_shares_further_apart_are_another_blend(words: int, blend: bool) -> None:
    text = f"60% wool {'so ' * words}40% silk"
    assert ("| 40 silk" in told(text)["fibres"]) is blend


@pytest.mark.parametrize(
    ("text", "totals"),
    [
        ("75% wool 25% nylon", []),
        ("60% wool 30% nylon", ["90"]),
        ("60.5% wool", ["60.5"]),
        ("60% wool 60% nylon", ["120"]),
    ],
)
def test_shares_that_are_not_100_are_said(text: str, totals: list[str]) -> None:
    assert values_said(text, "blend_sum") == [{"total": total} for total in totals]


def test_a_blend_is_pointed_to() -> None:
    text = "hat, 60% wool 30% nylon"
    assert words_said(text, "blend_sum") == [["60% wool", "30% nylon"]]
    text = "hat, 100% wool\n100% silk"
    assert words_said(text, "second_yarn") == [["100% wool", "100% silk"]]
    assert sources(text)["fibres"] == ["100% wool"]


@pytest.mark.parametrize(
    ("text", "weight"),
    [
        ("Yarn: DK", "DK sure"),
        ("worsted", "worsted likely"),
        ("Yarn: DK\n\nworsted hat", "DK sure"),
        ("Yarn: DK or worsted", "DK | worsted sure"),
        ("Yarn: DK, DK", "DK sure"),
        ("Yarn: MC DK, CC worsted", "DK or worsted likely"),
        ("yarn A: DK, yarn B: worsted", "DK or worsted likely"),
        ("Yarn: CC worsted, MC DK", "worsted or DK likely"),
        ("Yarn: MC DK, CC DK", "DK sure"),
        (
            "Yarn: lace, fingering, sport, DK",
            "lace | fingering | sport | DK sure",
        ),
        (
            "Yarn: lace, fingering, sport, DK, worsted",
            "lace | fingering | sport | DK unclear",
        ),
    ],
)
def test_the_weight_names_of_the_first_yarn_are_taken(text: str, weight: str) -> None:
    assert told(text)["weight"] == weight
    assert ("second_yarn" in said(text)) is (" or " in weight)


def test_a_second_weight_is_pointed_to() -> None:
    text = "Yarn: MC DK, CC worsted"
    assert words_said(text, "second_yarn") == [["DK", "worsted"]]
    assert sources(text)["weight"] == ["DK", "worsted"]


@pytest.mark.parametrize(
    ("text", "read"),
    [
        ("8 balls", {"main": "8 balls sure"}),
        ("800 m of wool", {"main": "800 m sure"}),
        # Length stands before balls, balls before mass.
        ("8 balls; 400 g wool", {"main": "8 balls or 400 g sure"}),
        ("8 balls, 1000 m, 400 g\n50 g = 125 m", {"main": "1000 m or 8 balls or 400 g sure"}),
        ("1000 yds, 8 balls\n50 g = 125 m", {"main": "1000 yd or 8 balls sure"}),
        ("1 kg wool, 8 balls", {"main": "8 balls or 1 kg sure"}),
        ("16 oz wool, 8 balls", {"main": "8 balls or 16 oz sure"}),
        ("2 lb wool, 8 balls", {"main": "8 balls or 2 lb sure"}),
        ("8 balls\n9 balls", {"main": "8 balls or 9 balls unclear"}),
        # A single amount twice is likely two colours of one amount.
        ("8 balls\n8 balls", {"main": "8 balls likely"}),
        ("5 (6, 7) balls\n5 (6, 7) balls", {"main": "5 6 7 balls sure"}),
        # A list for all sizes outranks a single value.
        ("8 balls\n5 (6, 7) balls", {"main": "5 6 7 balls or 8 balls likely"}),
        ("8 balls\n5 (6) balls", {"main": "5 6 balls or 8 balls likely"}),
        ("5 (6, 7) balls\n8 balls", {"main": "5 6 7 balls or 8 balls likely"}),
        (
            "8 balls\n5 (6, 7) balls\n6 (7, 8) balls",
            {"main": "5 6 7 balls or 6 7 8 balls or 8 balls unclear"},
        ),
        ("MC 8 balls\nCC 2 balls", {"MC": "8 balls sure", "CC": "2 balls sure"}),
        ("MC 8 balls\n2 balls", {"MC": "8 balls sure"}),
        ("MC 8 balls, MC 400 g\nCC 2 balls", {"MC": "8 balls or 400 g sure", "CC": "2 balls sure"}),
    ],
)
def test_amounts_of_a_colour_are_decided_by_length_then_balls_then_mass(
    text: str, read: dict[str, str]
) -> None:
    assert amounts(text) == read


@pytest.mark.parametrize(
    ("text", "amount", "asked"),
    [
        ("3 balls (200 m)", "200 m or 3 balls unclear", True),
        ("2 balls, 200 m", "200 m or 2 balls unclear", True),
        ("200 m of wool; 400 g wool", "200 m or 400 g sure", False),
        ("3 balls, 200 yds", "200 yd or 3 balls unclear", True),
        ("1 ball (200 m)", "200 m or 1 balls sure", False),
        ("1 (2, 3) balls, 200 m", "200 m or 1 2 3 balls unclear", True),
        ("3 balls, 200 (220, 240) m", "200 220 240 m or 3 balls sure", False),
        ("in 50 g balls, so 200 m", "200 m unclear", True),
        ("3 balls; 150 g wool", "3 balls or 150 g sure", False),
        ("3 balls, 200 m\n50 g = 125 m", "200 m or 3 balls sure", False),
        ("3 balls, 98 m to the ball, so 200 m", "200 m or 3 balls sure", False),
        ("200 m of wool", "200 m sure", False),
    ],
)
def test_a_length_beside_balls_may_be_of_one_or_of_all(text: str, amount: str, asked: bool) -> None:
    assert amounts(text) == {"main": amount}
    assert ("total_or_each" in said(text)) is asked


def test_a_length_of_one_or_of_all_is_pointed_to() -> None:
    assert words_said("hat, 3 balls (200 m)", "total_or_each") == [["200 m", "3 balls"]]
    assert sources("hat, 3 balls (200 m)")["amount main"] == ["200 m", "3 balls"]


@pytest.mark.parametrize(
    ("text", "amount"),
    [
        ("hat, 50 g = 125 m", "125 m unclear"),
        ("hat, 50 g = 137 yd", "137 yd unclear"),
    ],
)
def test_a_ball_alone_is_no_amount_but_is_offered(text: str, amount: str) -> None:
    assert amounts(text) == {"main": amount}
    assert "amount_missing" in said(text)
    assert sources(text)["amount main"] == [text.removeprefix("hat, ")]


@pytest.mark.parametrize(
    ("text", "read"),
    [
        ("S: 5 balls\nM: 6 balls", {"main": "5 6 balls sure"}),
        ("S: 5 balls\nM: 6 balls\nL: 7 balls", {"main": "5 6 7 balls sure"}),
        ("S: 500 m\nM: 600 m", {"main": "500 600 m sure"}),
        ("S: 5 balls\nM: 600 m", {}),
        ("S: 5 balls", {}),
    ],
)
def test_sizes_on_lines_of_their_own_are_one_amount(text: str, read: dict[str, str]) -> None:
    assert amounts(text) == read
    if read:
        assert sources(text)["amount main"] == [text]


def test_what_an_amount_says_is_said_with_its_words() -> None:
    assert words_said("hat, 800 m (800 yds)", "units_differ") == [["800 m (800 yds)"]]
    assert words_said("hat, 50 g = 120 m (150 yd)", "units_differ") == [["50 g = 120 m (150 yd)"]]
