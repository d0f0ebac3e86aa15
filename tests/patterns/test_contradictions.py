"""What does not fit together in a short text, or is not said, is said with its words."""

import pytest

from tests.patterns.short_texts import said, told, values_said, words_said

ALL = "Hat, DK\n22 sts and 30 rows = 10 cm\n4 balls, 50 g = 115 m"
SIZES = "Sizes: S (M, L)\n"


def test_of_a_whole_header_nothing_is_said() -> None:
    assert said(ALL) == set()


@pytest.mark.parametrize(
    ("left_out", "code"),
    [
        ("22 sts and 30 rows = 10 cm", "gauge_missing"),
        (" and 30 rows", "rows_missing"),
        (", 50 g = 115 m", "put_up_missing"),
        ("4 balls, 50 g = 115 m", "amount_missing"),
    ],
)
def test_what_is_left_out_is_said(left_out: str, code: str) -> None:
    assert said(ALL.replace(left_out, "")) == {code}


@pytest.mark.parametrize(
    ("amount", "missing"),
    [
        ("4 balls", True),
        ("200 g wool", True),
        ("1 lb wool", True),
        ("500 m of wool", False),
        ("500 yds of wool", False),
    ],
)
def test_only_balls_and_masses_need_a_put_up(amount: str, missing: bool) -> None:
    assert ("put_up_missing" in said(amount)) is missing


def test_gaps_point_to_the_words_that_leave_them() -> None:
    assert words_said("22 sts = 10 cm", "rows_missing") == [["22 sts"]]
    assert words_said("MC: 4 balls, CC: 2 balls", "put_up_missing") == [
        ["4 balls"],
        ["2 balls"],
    ]
    assert words_said("hat", "gauge_missing") == [[]]


@pytest.mark.parametrize(
    ("text", "values"),
    [
        (f"{SIZES}5 (6, 7) balls", []),
        (f"{SIZES}5 balls", []),
        (f"{SIZES}5 (6, 7, 8) balls", [{"values": "4", "sizes": "3"}]),
        (f"{SIZES}5 (6) balls", [{"values": "2", "sizes": "3"}]),
        ("5 (6, 7) balls", []),
        ("5 (6) balls", []),
        (
            "Width 50 (55, 60, 65) cm\n5 (6, 7) balls",
            [{"values": "4", "sizes": "?"}, {"values": "3", "sizes": "?"}],
        ),
        ("Width 50 (55, 60) cm\n5 (6, 7) balls", []),
        ("Width 50 cm\n5 (6, 7) balls", []),
    ],
)
def test_a_list_has_a_value_for_each_size(text: str, values: list[dict[str, object]]) -> None:
    assert values_said(text, "list_length") == values
    read = told(text)["amount main"]
    unclear = any(each["values"] == str(read.count(" ") - 1) for each in values)
    assert read.endswith("unclear") is unclear


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("5 (6, 7) balls", [["5 (6, 7) balls"]]),
        ("5 (6) balls", [["5 (6) balls"]]),
        ("Width 50 (55, 60) cm\n5 (6, 7) balls", [["Width 50 (55, 60) cm"]]),
        ("5 balls", []),
        (f"{SIZES}5 (6, 7) balls", []),
    ],
)
def test_values_for_sizes_without_names_are_said_once(text: str, words: list[list[str]]) -> None:
    assert words_said(text, "sizes_unnamed") == words


def test_an_unclear_list_keeps_what_was_read() -> None:
    assert told(f"{SIZES}5 (6) balls, 200 (220) m")["amount main"] == (
        "200 220 m or 5 6 balls unclear"
    )
    assert words_said(f"{SIZES}5 (6) balls", "list_length") == [["5 (6) balls"]]


@pytest.mark.parametrize(
    ("text", "fits"),
    [
        # Of the standard DK is knitted at 21 to 24 stitches, and the next, worsted, at 16 to 20:
        # what lies between may be either. A gauge may miss by 3 percent:
        # 24.74 x 0.97 = 23.998, 24.8 x 0.97 = 24.06; 19.42 x 1.03 = 20.003, 19.4 x 1.03 = 19.98.
        ("DK, 22 sts = 10 cm", True),
        ("DK, 24.74 sts = 10 cm", True),
        ("DK, 24.8 sts = 10 cm", False),
        ("DK, 19.42 sts = 10 cm", True),
        ("DK, 19.4 sts = 10 cm", False),
        # 5.5 to the inch are 21.7 to 10 cm, 7 are 27.6.
        ("DK, 5.5 sts per inch", True),
        ("DK, 7 sts per inch", False),
        ("DK, 22 sts = 4 in", True),
        ("DK, 44 sts = 20 cm", True),
        ("DK, 28 sts = 10 cm in stockinette", False),
        ("Yarn: DK or fingering. Gauge: 28 sts = 10 cm", True),
        # Only a plain knitted fabric of one strand tells of the yarn.
        ("DK, 28 sts = 10 cm in rib", True),
        ("DK, 28 sts = 10 cm, held double", True),
        ("DK, 28 sts = 10 cm, 4 mm hook", True),
        ("7-ply, 28 sts = 10 cm", True),
        ("28 sts = 10 cm", True),
    ],
)
def test_a_gauge_that_no_yarn_of_the_weight_has_is_said(text: str, fits: bool) -> None:
    assert ("gauge_not_weight" not in said(text)) is fits


def test_a_gauge_that_does_not_fit_is_said_to_10_cm_with_both_words() -> None:
    # 7 stitches to 1 in of 2.54 cm are 27.56 to 10 cm.
    (values,) = values_said("DK hat, 7 sts per inch", "gauge_not_weight")
    assert values == {"weight": "DK", "pattern_st": pytest.approx(27.559, abs=0.001)}
    assert words_said("DK hat, 7 sts per inch", "gauge_not_weight") == [["DK", "7 sts"]]


@pytest.mark.parametrize(
    ("text", "fits"),
    [
        # DK has 200 to 260 m to 100 g, and may miss by 3 percent:
        # 268 x 0.97 = 259.96, 268.5 x 0.97 = 260.4; 194.5 x 1.03 = 200.3, 194 x 1.03 = 199.8.
        ("DK, 100 g = 268 m", True),
        ("DK, 100 g = 268.5 m", False),
        ("DK, 100 g = 194.5 m", True),
        ("DK, 100 g = 194 m", False),
        ("DK, 50 g = 115 m", True),
        ("DK, 50 g = 200 m", False),
        # 285 yd are 260.6 m, 215 yd 196.6 m; 4 oz are 113.4 g: 228.6 m to that are 202 m to 100 g.
        ("DK, 100 g = 285 yd", True),
        ("DK, 100 g = 215 yd", True),
        ("DK, 4 oz = 250 yd", True),
        ("DK, 4 oz balls = 400 yd", False),
        ("DK, 1 kg = 2400 m", True),
        ("DK or fingering, 50 g = 200 m", True),
        ("50 g = 200 m", True),
        ("DK", True),
    ],
)
def test_a_put_up_that_no_yarn_of_the_weight_has_is_said(text: str, fits: bool) -> None:
    assert ("put_up_not_weight" not in said(text)) is fits


def test_a_put_up_that_does_not_fit_is_said_for_100_g_with_both_words() -> None:
    # 200 yd are 182.88 m.
    text = "DK hat, 50 g = 200 yd"
    (values,) = values_said(text, "put_up_not_weight")
    assert values == {"weight": "DK", "per_100g_m": pytest.approx(365.76)}
    assert words_said(text, "put_up_not_weight") == [["DK", "50 g = 200 yd"]]


def test_a_weight_that_is_not_known_is_said() -> None:
    assert values_said("hat in 7-ply", "weight_unknown") == [{"weight": "7-ply"}]
    assert words_said("hat in 7-ply", "weight_unknown") == [["7-ply"]]
    assert values_said("hat in 8-ply", "weight_unknown") == []


@pytest.mark.parametrize(
    ("length", "fits"),
    [
        # Of 125 m a ball, 8 balls hold 1000 m; the last may be hardly begun (1 ball less and a
        # little), or 0.1 of one too little: 875.1 m, 1012.5 m; 750 m are 6 balls.
        ("1000 m", True),
        ("760 m", True),
        ("750 m", False),
        ("500 m", False),
        ("1012.5 m", True),
        ("1013.5 m", False),
        ("2000 m", False),
    ],
)
def test_a_length_that_the_balls_do_not_hold_is_said(length: str, fits: bool) -> None:
    text = f"{length}, 8 balls, 50 g = 125 m"
    assert ("amount_differs" not in said(text)) is fits
    if not fits:
        assert values_said(text, "amount_differs") == [{"length": length, "balls": "8 balls"}]


@pytest.mark.parametrize(
    ("text", "fits"),
    [
        # 973 yd are 7.1 balls of 137 yd; 1000 m are 1094 yd, 8.0 balls.
        ("973 yds, 8 balls, 50 g = 137 yd", True),
        ("1000 m, 8 balls, 50 g = 137 yd", True),
        ("1000 m, 10 balls, 50 g = 137 yd", False),
        ("1000 (1100, 1200) m, 8 (9, 10) balls, 50 g = 125 m", True),
        ("1000 (1100, 1500) m, 8 (9, 10) balls, 50 g = 125 m", False),
        ("1000 (1100, 1500) m, 8 balls, 50 g = 125 m", True),
        ("2000 m, 8 balls", True),
        ("2000 m, 50 g = 125 m", True),
        ("MC 1000 m, MC 8 balls\nCC 2000 m, CC 8 balls\n50 g = 125 m", False),
    ],
)
def test_each_size_and_colour_is_compared(text: str, fits: bool) -> None:
    assert ("amount_differs" not in said(text)) is fits


def test_an_amount_that_differs_is_pointed_to() -> None:
    text = "hat, 50 g = 125 m, 2000 m, 8 balls"
    assert words_said(text, "amount_differs") == [["2000 m", "8 balls"]]
