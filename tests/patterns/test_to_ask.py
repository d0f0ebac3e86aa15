"""From what was read to an ask: only what is sure or likely, for the chosen size."""

from decimal import Decimal
from typing import Any

import pytest

from shopdesk.answering.model.ask import MEASURES
from shopdesk.patterns.fields.deciding import FieldReading
from shopdesk.patterns.phrases.mentions import (
    BallPutUp,
    Measure,
    Share,
    Sureness,
    Tool,
    Value,
    WordList,
)
from shopdesk.patterns.reading import PatternReading
from shopdesk.patterns.to_ask import (
    SizeRefused,
    as_json,
    ask_document,
    one_size,
    path_of,
    size_names,
)

SURE, LIKELY, UNCLEAR = Sureness
UNKNOWN = [{"name": "main", "amount": {"kind": "unknown"}}]
BALL = BallPutUp(Decimal(50), "g", Decimal("125.5"), "m")
BALL_JSON = {"mass": {"value": 50, "unit": "g"}, "length": {"value": 125.5, "unit": "m"}}


def reading(values: dict[str, Value], sure: Sureness = SURE) -> PatternReading:
    made = tuple(FieldReading(name, value, sure, (), "") for name, value in values.items())
    return PatternReading("", "en", made, (), (), None)


def of(unit: str, *values: float) -> Measure:
    return Measure(tuple(Decimal(str(value)) for value in values), unit)


def names(*items: str) -> WordList:
    return WordList(items)


def ask(values: dict[str, Value], size: str | None = None) -> dict[str, Any]:
    return ask_document(reading(values), size)


def test_of_nothing_that_was_read_there_is_only_a_part() -> None:
    assert ask({}) == {"title": "pattern", "parts": UNKNOWN}


@pytest.mark.parametrize(("sure", "filled"), [(SURE, True), (LIKELY, True), (UNCLEAR, False)])
def test_what_is_unclear_is_left_out(sure: Sureness, filled: bool) -> None:
    document = ask_document(reading({"item": "hat", "craft": "knit"}, sure))
    assert (document.get("craft") == "knit") is filled
    assert document["title"] == ("hat" if filled else "pattern")


@pytest.mark.parametrize(
    ("values", "title"),
    [
        ({"item": "hat"}, "hat"),
        ({"item": "hat", "wearer": "baby under 12 months"}, "baby hat"),
        ({"item": "hat", "wearer": "child"}, "child's hat"),
        ({"item": "hat", "wearer": "adult"}, "hat"),
        ({"wearer": "child"}, "child's pattern"),
    ],
)
def test_the_title_says_what_it_is_and_for_whom(values: dict[str, Value], title: str) -> None:
    assert ask(values)["title"] == title
    assert ask(values).get("wearer") == values.get("wearer")


@pytest.mark.parametrize(
    ("values", "sizes"),
    [
        ({"sizes": names("S", "M")}, ("S", "M")),
        ({"sizes": names("S", "M"), "amount main": of("balls", 5, 6, 7)}, ("S", "M")),
        ({"amount main": of("balls", 5, 6, 7)}, ("1", "2", "3")),
        ({"amount main": of("balls", 5, 6)}, ("1", "2")),
        ({"amount main": of("balls", 5, 6), "chest": of("cm", 80, 90)}, ("1", "2")),
        ({"amount main": of("balls", 5, 6), "chest": of("cm", 80, 90, 95)}, ()),
        ({"amount main": of("balls", 5, 6), "over": of("cm", 10)}, ("1", "2")),
        ({"amount main": of("balls", 5)}, ()),
        ({"item": "hat"}, ()),
    ],
)
def test_sizes_are_named_or_else_numbered(values: dict[str, Value], sizes: tuple[str, ...]) -> None:
    assert size_names(reading(values)) == sizes


def test_sizes_that_are_unclear_are_none() -> None:
    assert size_names(reading({"sizes": names("S", "M")}, UNCLEAR)) == ()


THREE: dict[str, Value] = {
    "sizes": names("S", "M", "L"),
    "chest": of("cm", 80, 90, 100.5),
    "length": of("cm", 55),
    "amount main": of("m", 800, 900, 1000),
}


def test_without_a_size_its_names_are_given_and_none_is_chosen() -> None:
    document = ask(THREE)
    assert document["sizes"] == {
        "names": ["S", "M", "L"],
        "chest": {"values": [80, 90, 100.5], "unit": "cm"},
    }
    assert document["item"] == {"measurements": {"length": {"value": 55, "unit": "cm"}}}


@pytest.mark.parametrize(("size", "chest"), [("S", 80), (" m ", 90), ("L", 100.5)])
def test_the_measures_of_the_chosen_size_are_filled_in(size: str, chest: float) -> None:
    document = ask(THREE, size)
    assert document["sizes"]["chosen"] == size.strip().upper()
    assert document["item"]["measurements"] == {
        "chest": {"value": chest, "unit": "cm"},
        "length": {"value": 55, "unit": "cm"},
    }
    assert document["parts"] == [
        {"name": "main", "amount": {"kind": "length", "values": [800, 900, 1000], "unit": "m"}}
    ]


@pytest.mark.parametrize(
    ("measures", "chest"),
    [
        ({"chest": of("cm", 80, 90)}, {"values": [80, 90], "unit": "cm"}),
        ({"width": of("in", 30, 40)}, {"values": [30, 40], "unit": "in"}),
        (
            {"width": of("in", 30, 40), "chest": of("cm", 80, 90)},
            {"values": [80, 90], "unit": "cm"},
        ),
        ({"chest": of("cm", 80)}, None),
        ({"chest": of("cm", 80, 90, 100)}, None),
        ({"length": of("cm", 80, 90)}, None),
        ({"chest": of("cm", 80), "width": of("cm", 40, 45)}, {"values": [40, 45], "unit": "cm"}),
    ],
)
def test_a_chest_or_width_of_each_size_stands_with_the_sizes(
    measures: dict[str, Value], chest: dict[str, Any] | None
) -> None:
    assert ask({"sizes": names("S", "M"), **measures})["sizes"].get("chest") == chest


def test_one_size_alone_has_its_chest_with_the_item() -> None:
    document = ask({"sizes": names("S"), "chest": of("cm", 80)}, "S")
    assert document["sizes"] == {"names": ["S"], "chosen": "S"}
    assert document["item"]["measurements"]["chest"] == {"value": 80, "unit": "cm"}


def test_a_list_too_short_for_the_chosen_size_gives_no_measure() -> None:
    values = {"sizes": names("S", "M", "L"), "chest": of("cm", 80, 90)}
    assert "item" not in ask(values, "L")
    assert ask(values, "M")["item"]["measurements"]["chest"]["value"] == 90


@pytest.mark.parametrize(
    ("values", "size", "wrong", "right"),
    [
        ({"sizes": names("S", "M")}, "XL", "no size 'XL'", "name one of S, M"),
        ({"sizes": names("S", "M")}, "", "no size ''", "name one of S, M"),
        ({}, "S", "no size 'S'", "without --size"),
    ],
)
def test_a_size_that_the_pattern_has_not_is_refused(
    values: dict[str, Value], size: str, wrong: str, right: str
) -> None:
    with pytest.raises(SizeRefused) as refusal:
        ask(values, size)
    assert wrong in refusal.value.wrong.replace("‘", "'").replace("’", "'")
    assert refusal.value.right
    if values:
        assert right in refusal.value.right


def test_of_a_size_that_is_refused_forty_signs_are_said() -> None:
    with pytest.raises(SizeRefused) as refusal:
        ask({"sizes": names("S", "M")}, f" {'x' * 50} ")
    (problem,) = refusal.value.problems
    assert problem.wrong.values == {"size": "x" * 40}


def test_a_pattern_of_several_sizes_needs_one_named() -> None:
    two = reading({"sizes": names("S", "M")})
    with pytest.raises(SizeRefused, match="2 sizes"):
        one_size(two, None)
    assert one_size(two, "M")["sizes"]["chosen"] == "M"
    assert one_size(reading({"sizes": names("S")}), None)["sizes"]["chosen"] == "S"
    assert one_size(reading({"item": "hat"}), None)["title"] == "hat"


GAUGE: dict[str, Value] = {"stitches": Decimal(22), "over": of("cm", 10)}


@pytest.mark.parametrize(
    ("values", "gauge"),
    [
        (GAUGE, {"stitches": 22, "over": {"value": 10, "unit": "cm"}}),
        (
            {**GAUGE, "rows": Decimal("30.5"), "pattern": "garter", "washed": True},
            {
                "stitches": 22,
                "rows": 30.5,
                "over": {"value": 10, "unit": "cm"},
                "stitch_pattern": "garter",
                "after_washing": True,
            },
        ),
        (
            {**GAUGE, "washed": False},
            {"stitches": 22, "over": {"value": 10, "unit": "cm"}, "after_washing": False},
        ),
        (
            {**GAUGE, "craft": "crochet"},
            {"stitches": 22, "over": {"value": 10, "unit": "cm"}, "stitch_pattern": "other"},
        ),
        (
            {**GAUGE, "craft": "crochet", "pattern": "single crochet"},
            {
                "stitches": 22,
                "over": {"value": 10, "unit": "cm"},
                "stitch_pattern": "single crochet",
            },
        ),
        ({**GAUGE, "craft": "knit"}, {"stitches": 22, "over": {"value": 10, "unit": "cm"}}),
        ({"stitches": Decimal(22)}, None),
        ({"over": of("cm", 10)}, None),
        ({"rows": Decimal(30), "over": of("cm", 10)}, None),
        ({}, None),
    ],
)
def test_a_gauge_needs_stitches_and_their_length(
    values: dict[str, Value], gauge: dict[str, Any] | None
) -> None:
    assert ask(values).get("gauge") == gauge


def test_a_tool_is_given_as_written() -> None:
    assert ask({"tool": Tool("10½", "US")})["tool"] == {"size": "10½", "system": "US"}
    assert "tool" not in ask({})


def test_features_are_listed() -> None:
    assert ask({"features": names("buttons", "cables")})["item"] == {
        "features": ["buttons", "cables"]
    }


YARN: dict[str, Value] = {
    "weight": names("DK", "7-ply", "worsted"),
    "attributes": names("superwash"),
    "put_up": BALL,
    "fibres": WordList((Share("wool", Decimal(75)), Share("silk", Decimal("24.5")))),
    "strands": Decimal(2),
    "wraps": Decimal("10.5"),
    "count": "2/28 Nm",
    "care.wash_c": Decimal(30),
    "care.natural_drying": "flat",
}


def test_a_whole_yarn_is_filled_in() -> None:
    assert ask(YARN)["designer_yarn"] == {
        "weight": ["DK", "worsted"],
        "attributes": ["superwash"],
        "put_up": BALL_JSON,
        "fibres": [{"fibre": "wool", "percent": 75}, {"fibre": "silk", "percent": 24.5}],
        "strands": 2,
        "wraps_per_inch": 10.5,
        "count": {"written": "2/28", "system": "Nm"},
        "care": {"wash_c": 30, "natural_drying": "flat"},
    }


@pytest.mark.parametrize("values", [{}, {"weight": names("7-ply")}, {"item": "hat"}])
def test_a_yarn_of_which_nothing_is_known_is_left_out(values: dict[str, Value]) -> None:
    assert "designer_yarn" not in ask(values)


def test_care_that_does_not_fit_is_left_out_and_the_rest_stays() -> None:
    values: dict[str, Value] = {"care.wash_c": Decimal(45), "care.tumble": "low"}
    assert ask(values)["designer_yarn"]["care"] == {"tumble": "low"}


@pytest.mark.parametrize(
    ("values", "amount"),
    [
        ({"amount main": of("m", 800)}, {"kind": "length", "values": [800], "unit": "m"}),
        ({"amount main": of("yd", 800.5)}, {"kind": "length", "values": [800.5], "unit": "yd"}),
        ({"amount main": of("balls", 8)}, {"kind": "balls", "values": [8]}),
        ({"amount main": of("g", 400)}, {"kind": "mass", "values": [400], "unit": "g"}),
        (
            {"amount main": of("balls", 8), "put_up": BALL},
            {"kind": "balls", "values": [8], "put_up": BALL_JSON},
        ),
        (
            {"amount main": of("g", 400), "put_up": BALL},
            {"kind": "mass", "values": [400], "unit": "g", "put_up": BALL_JSON},
        ),
    ],
)
def test_balls_and_masses_take_their_put_up_along(
    values: dict[str, Value], amount: dict[str, Any]
) -> None:
    assert ask(values)["parts"] == [{"name": "main", "amount": amount}]


def test_each_colour_is_a_part() -> None:
    parts = ask({"amount MC": of("m", 800), "amount CC": of("m", 100), "chest": of("cm", 90)})
    assert [(part["name"], part["amount"]["values"]) for part in parts["parts"]] == [
        ("MC", [800]),
        ("CC", [100]),
    ]


def test_every_field_has_its_path() -> None:
    assert path_of("stitches") == "gauge.stitches"
    assert path_of("amount MC") == "parts.MC.amount"
    assert path_of("care.wash_c") == "designer_yarn.care.wash_c"
    assert [path_of(name) for name in MEASURES] == [f"item.measurements.{m}" for m in MEASURES]


@pytest.mark.parametrize(
    ("value", "plain"),
    [
        (Decimal("5.50"), 5.5),
        (Decimal("5.0"), 5),
        (of("cm", 80, 90.5), {"values": [80, 90.5], "unit": "cm"}),
        (Tool("8", "US"), {"size": "8", "system": "US"}),
        (BALL, "50 g = 125.5 m"),
        (Share("wool", Decimal(75)), "75 wool"),
        (names("S", "M"), ["S", "M"]),
        (WordList((Share("wool", Decimal(100)),)), ["100 wool"]),
        ("hat", "hat"),
        (True, True),
    ],
)
def test_a_value_becomes_plain_json(value: Value, plain: object) -> None:
    assert as_json(value) == plain
    assert type(as_json(value)) is type(plain)
