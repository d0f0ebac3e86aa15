"""The designer's yarn in short texts: put-up, blend, weight names, strands, wraps, count."""

import pytest

from tests.patterns.short_texts import only, said, told, words_said

BALL_FIELDS = ("put_up", "ball_mass", "ball_length")


@pytest.mark.parametrize(
    ("text", "put_up"),
    [
        ("50 g = 125 m", "50 g = 125 m"),
        ("125 m = 50 g", "50 g = 125 m"),
        ("0.1 kg = 200 m", "0.1 kg = 200 m"),
        ("3 oz, 150 yds", "3 oz = 150 yd"),
        ("1.75 oz (50 g), 131 yds (120 m)", "50 g = 120 m"),
        ("50 g / 1.75 oz = 120 m / 131 yd", "50 g = 120 m"),
        ("49.6 g, 125 m", "49.6 g = 125 m"),
        # From 10 m to 3000 m to 100 g there are yarns.
        ("50 g = 5 m", "50 g = 5 m"),
        ("50 g = 1500 m", "50 g = 1500 m"),
        ("50 g = 1600 yd", "50 g = 1600 yd"),
        # A mass that no ball has needs a word for the ball, or a sign that says they are one.
        ("37 g balls, 90 m", "37 g = 90 m"),
        ("37 g per 90 m", "37 g = 90 m"),
        ("37 g = 90 m", "37 g = 90 m"),
        ("37 g approx 90 m", "37 g = 90 m"),
    ],
)
def test_a_mass_with_a_length_is_a_ball(text: str, put_up: str) -> None:
    assert only(told(text), BALL_FIELDS) == {"put_up": f"{put_up} sure"}


@pytest.mark.parametrize(
    "grams", [20, 25, 40, 50, 75, 80, 100, 110, 113, 115, 120, 125, 150, 200, 250]
)
def test_a_usual_mass_is_a_ball_without_a_word_for_it(grams: int) -> None:
    assert told(f"{grams} g, {2 * grams} m")["put_up"] == f"{grams} g = {2 * grams} m sure"


@pytest.mark.parametrize(
    "text",
    [
        "37 g, 90 m",
        "450 g, 900 m",
        "50 g = 4 m",
        "50 g = 1501 m",
        "50 g = 1600 m",
        "50 (60, 70) g = 125 m",
        "50 g = 125 (130, 135) m",
        "50-60 g = 125 m",
        "0 g = 125 m",
    ],
)
def test_what_no_ball_can_be_is_no_put_up(text: str) -> None:
    assert "put_up" not in told(text)


@pytest.mark.parametrize(
    "text",
    [
        # 3 oz are 85 g; 150 yd are 137 m.
        "100 g (3 oz) = 250 m",
        "50 g = 120 m (150 yd)",
    ],
)
def test_a_ball_whose_units_differ_is_unclear(text: str) -> None:
    assert told(text)["put_up"].endswith(" unclear")
    assert "units_differ" in said(text)


def test_a_ball_whose_units_agree_is_sure() -> None:
    assert told("100 g (3.5 oz) = 200 m (219 yd)")["put_up"] == "100 g = 200 m sure"
    assert "units_differ" not in said("100 g (3.5 oz) = 200 m (219 yd)")


@pytest.mark.parametrize(
    ("text", "read"),
    [
        ("3 balls, 200 yd each", {"ball_length": "200 yd sure"}),
        ("3 balls 200 yd each", {"ball_length": "200 yd sure"}),
        ("3 balls of wool, each 200 yd (183 m)", {"ball_length": "183 m sure"}),
        ("98 m to the ball", {"ball_length": "98 m sure"}),
        ("98-100 m to the ball", {}),
        ("in 50 g balls", {"ball_mass": "50 g sure"}),
        ("in 50-60 g balls", {}),
        ("8 balls of 50 g", {"ball_mass": "50 g sure"}),
        ("2 colours, 300 yds each", {}),
        ("2 colours, 300 (350, 400) yds each", {}),
    ],
)
def test_what_one_ball_holds(text: str, read: dict[str, str]) -> None:
    assert only(told(text), BALL_FIELDS) == read


def test_a_length_of_each_colour_is_an_unclear_amount() -> None:
    assert told("2 colours, 300 yds each")["amount main"] == "300 yd unclear"
    assert "amount_each" in said("2 colours, 300 yds each")
    assert words_said("2 colours, 300 yds each", "amount_each") == [["300 yds each"]]


@pytest.mark.parametrize(("words", "of_a_ball"), [(13, True), (14, False)])
def test_balls_are_looked_for_a_line_before(words: int, of_a_ball: bool) -> None:
    text = f"3 balls {'so ' * words}200 yd each"
    assert ("ball_length" in told(text)) is of_a_ball


@pytest.mark.parametrize(
    ("text", "amounts"),
    [
        ("MC: 6 balls, CC: 1 ball", {"MC": 6, "CC": 1}),
        ("MC 6 balls, CC 1 ball", {"MC": 6, "CC": 1}),
        ("6 balls MC, 1 ball CC", {"MC": 6, "CC": 1}),
        ("6 balls of MC", {"MC": 6}),
        ("6 balls (MC)", {"MC": 6}),
        ("6 balls of the (MC)", {"MC": 6}),
        ("MC: 6 balls, CC1", {"MC": 6}),
        ("6 balls\nMC", {"main": 6}),
        ("MC\n6 balls", {"main": 6}),
        ("yarn A: 2 balls\nyarn B: 3 balls", {"A": 2, "B": 3}),
        ("colour A 2 balls\ncolour B 3 balls", {"A": 2, "B": 3}),
        ("A 1 ball, B 2 balls", {"A": 1, "B": 2}),
        ("A, 1 ball, B, 2 balls", {"A": 1, "B": 2}),
        ("A 1 ball, B 2 balls C", {"A": 1, "B": 2}),
        ("A: 200 m, B: 300 m", {"A": 200, "B": 300}),
        ("A 1 ball", {"main": 1}),
        ("A hat, 1 ball", {"main": 1}),
        ("Yarn:\nA: 2 balls\nB: 3 balls", {"A": 2, "B": 3}),
        ("Yarn:\nA = 2 balls\nB = 3 balls", {"A": 2, "B": 3}),
        ("Needles:\nA: 2 balls", {"main": 2}),
        ("A: 2 balls", {"main": 2}),
    ],
)
def test_an_amount_belongs_to_the_colour_beside_it(text: str, amounts: dict[str, int]) -> None:
    read = told(text)
    found = {name.removeprefix("amount "): value for name, value in read.items()
             if name.startswith("amount ")}  # fmt: skip
    assert {name: int(value.split()[0]) for name, value in found.items()} == amounts


def test_letters_without_an_amount_behind_them_name_no_colours() -> None:
    assert not {"amount A", "amount B"} & told("1 ball A top, 2 balls B top").keys()


@pytest.mark.parametrize(("words", "part"), [(29, "MC"), (30, "main")])
def test_a_colour_reaches_a_line(words: int, part: str) -> None:
    assert f"amount {part}" in told(f"MC {'so ' * words}6 balls")


@pytest.mark.parametrize(
    ("text", "fibres"),
    [
        ("100% wool", "100 wool sure"),
        ("100% merino", "100 wool sure"),
        ("wool 100%", "100 wool sure"),
        ("60% wool 40% alpaca", "60 wool | 40 alpaca sure"),
        ("60% wool, 40% alpaca", "60 wool | 40 alpaca sure"),
        ("60% wool / 40% alpaca", "60 wool | 40 alpaca sure"),
        ("60% superwash wool & 40% soft alpaca", "60 wool | 40 alpaca sure"),
        ("wool 60% alpaca 40%", "60 wool | 40 alpaca sure"),
        ("wool 60%, alpaca 40%", "60 wool | 40 alpaca sure"),
        ("hat. 60% wool 40% alpaca", "60 wool | 40 alpaca sure"),
        ("wool hat. alpaca 40% wool 60%", "40 alpaca | 60 wool sure"),
        ("wool hat: 40% alpaca 60% cotton", "40 alpaca | 60 cotton sure"),
        ("0.5% wool", "0.5 wool unclear"),
        ("99.5% wool 0.5% nylon", "99.5 wool | 0.5 polyamide sure"),
    ],
)
def test_each_share_belongs_to_its_fibre(text: str, fibres: str) -> None:
    assert told(text)["fibres"] == fibres


@pytest.mark.parametrize("words", [0, 21, 24])
def test_a_blend_far_off_says_nothing_about_another(words: int) -> None:
    assert "40 alpaca" in told(f"wool 60% {'so ' * words}alpaca 40%")["fibres"]


@pytest.mark.parametrize("text", ["0% wool", "101% wool", "50-60% wool", "100% fun", "100% off"])
def test_what_is_no_share_is_not_read(text: str) -> None:
    assert "fibres" not in told(text)


@pytest.mark.parametrize(
    ("text", "weight"),
    [
        ("Yarn: worsted", "worsted sure"),
        ("450 g worsted", "worsted sure"),
        ("worsted", "worsted likely"),
        ("a hat in sport", "sport likely"),
        ("a hat in DK", "DK sure"),
        ("a hat in worsted weight", "worsted sure"),
        ("a hat in double knitting", "DK sure"),
        ("Yarn: double knit", "DK sure"),
        ("Yarn: double-knit", "DK likely"),
        ("Yarn: baby yarn", "baby likely"),
        ("Yarn: lace", "lace sure"),
        ("a hat in laceweight", "lace sure"),
        ("worsted, 3 balls", "worsted sure"),
        ("worsted\n3 balls", "worsted likely"),
        ("3 balls\nworsted", "worsted likely"),
    ],
)
def test_a_weight_name_is_sure_where_yarn_is_spoken_of(text: str, weight: str) -> None:
    assert told(text)["weight"] == weight


@pytest.mark.parametrize(
    "text", ["a hat in lace", "Yarn: 22 sts in lace", "Yarn: 22 sts lace", "lace hat"]
)
def test_lace_is_a_stitch_pattern_where_no_yarn_is_spoken_of(text: str) -> None:
    assert "weight" not in told(text)


@pytest.mark.parametrize(("words", "weight"), [(11, "sure"), (12, "likely")])
def test_yarn_is_spoken_of_near_a_weight_name(words: int, weight: str) -> None:
    assert told(f"worsted {'so ' * words}3 balls")["weight"] == f"worsted {weight}"
    assert told(f"3 balls {'so ' * words}worsted")["weight"] == f"worsted {weight}"


@pytest.mark.parametrize(("words", "read"), [(11, False), (12, True)])
def test_lace_far_behind_stitches_is_a_yarn_again(words: int, read: bool) -> None:
    assert ("weight" in told(f"Yarn: 22 sts {'so ' * words}lace")) is read


@pytest.mark.parametrize(
    ("text", "weight"),
    [
        ("8 ply wool", "8-ply sure"),
        ("1 ply wool", "1-ply sure"),
        ("16 ply wool", "16-ply sure"),
        ("eight ply wool", "8-ply sure"),
        ("4-fädig, 50 g", "4-ply sure"),
        ("weight category 3", "3 sure"),
        ("weight category 0", "0 sure"),
        ("weight category 7", "7 sure"),
        ("#4 medium", "4 sure"),
        ("Yarn: medium (4)", "4 sure"),
        ("Yarn: super fine (1)", "1 sure"),
    ],
)
def test_a_ply_or_a_number_of_the_standard_is_a_weight_name(text: str, weight: str) -> None:
    assert told(text, "de" if "fädig" in text else "en")["weight"] == weight


@pytest.mark.parametrize(
    "text",
    [
        "0 ply wool",
        "17 ply wool",
        "2.5 ply wool",
        "2-4 ply wool",
        "weight category 8",
        "weight category 3.5",
        "weight category 2-3",
        "#4 fine",
        "Yarn: medium (3)",
    ],
)
def test_what_no_standard_has_is_not_read(text: str) -> None:
    assert "weight" not in told(text)


@pytest.mark.parametrize(
    ("text", "strands"),
    [
        ("two strands held together", "2 sure"),
        ("4 strands held together", "4 sure"),
        ("Hold 3 strands of DK", "3 likely"),
        ("worsted held double", "2 sure"),
        ("one strand of DK and one strand of mohair held together", "2 sure"),
        ("two strands of DK and one strand of mohair held together", "3 sure"),
    ],
)
def test_strands_are_counted_together(text: str, strands: str) -> None:
    assert told(text)["strands"] == strands


@pytest.mark.parametrize(
    "text",
    [
        "5 strands held together",
        "one strand",
        "2.5 strands held together",
        "2-3 strands held together",
    ],
)
def test_more_strands_than_anybody_holds_or_one_are_not_read(text: str) -> None:
    assert "strands" not in told(text)


def test_five_strands_of_two_yarns_are_counted_apart() -> None:
    text = "three strands of DK and two strands of mohair held together"
    assert told(text)["strands"] == "3 or 2 unclear"


@pytest.mark.parametrize(
    ("text", "wraps"),
    [
        ("11 wpi", "11 sure"),
        ("10.5 wraps per inch", "10.5 sure"),
        ("11-12 wpi", "11 or 12 unclear"),
    ],
)
def test_of_a_range_of_wraps_both_ends_are_offered(text: str, wraps: str) -> None:
    assert told(text)["wraps"] == wraps


def test_wraps_for_several_sizes_are_none() -> None:
    assert "wraps" not in told("11 (12, 13) wpi")


@pytest.mark.parametrize("text", ["yarn 2/28 NeW", "yarn NeW 2/28"])
def test_the_english_worsted_count_is_read(text: str) -> None:
    assert told(text)["count"] == "2/28 NeW sure"
    assert "count" not in told("a new 3/4 sleeve, wool")


@pytest.mark.parametrize("text", ["yarn 2/28 Nm", "yarn Nm 2/28"])
def test_a_yarn_count_is_kept_as_written(text: str) -> None:
    assert told(text)["count"] == "2/28 Nm sure"
