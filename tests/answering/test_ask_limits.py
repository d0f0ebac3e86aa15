"""What a document may hold at most and at least: both sides of every limit of the models."""

from typing import Any

import pytest

from shopdesk.answering.ask.ask_reading import read_ask
from shopdesk.answering.ask.ask_sizes import SizeUnknown, for_size
from shopdesk.answering.ask.document import AskRefused
from shopdesk.craft.messages import Message, message
from shopdesk.craft.yarn import CareLabel
from tests.ask_documents import (
    a_designer_yarn,
    a_gauge,
    a_length,
    a_part,
    a_put_up,
    an_ask,
    an_ask_document,
)

Told = dict[str, Message]


def refused(**fields: Any) -> Told:
    with pytest.raises(AskRefused) as refusal:
        read_ask(an_ask_document(**fields))
    return {problem.place: problem.wrong for problem in refusal.value.problems}


def codes(told: Told) -> dict[str, str]:
    return {place: wrong.code.removeprefix("problem_ask.") for place, wrong in told.items()}


def wishing(**fields: Any) -> dict[str, Any]:
    return {"wishes": fields}


def designed(**fields: Any) -> dict[str, Any]:
    return {"designer_yarn": a_designer_yarn() | fields}


@pytest.mark.parametrize(
    ("hand", "percent"),
    [
        ({"percent": 4}, 4.0),
        ({"percent": "2,5", "way": "looser"}, -2.5),
        ({"percent": 25, "way": "tighter"}, 25.0),
    ],
)
def test_a_knitters_hand_is_read_tighter_above_nought(hand: Any, percent: float) -> None:
    assert an_ask(hand=hand).hand_percent == percent
    assert an_ask().hand_percent == 0


@pytest.mark.parametrize("percent", [0, -4, 25.1, "tight"])
def test_a_hand_is_off_by_25_percent_at_most(percent: Any) -> None:
    assert list(refused(hand={"percent": percent})) == ["hand.percent"]


def sized(names: int, **more: Any) -> dict[str, Any]:
    listed = [f"size {n}" for n in range(names)]
    return {"sizes": {"names": listed, "chosen": "size 0", **more}}


FIBRES = [
    "wool",
    "alpaca",
    "mohair",
    "cashmere",
    "camel",
    "angora",
    "silk",
    "cotton",
    "linen",
    "hemp",
    "ramie",
    "viscose",
]
SHARES = [{"fibre": fibre, "percent": 8} for fibre in FIBRES[:11]] + [
    {"fibre": FIBRES[11], "percent": 12}
]
ONE_EACH = {"kind": "length", "unit": "m"}


@pytest.mark.parametrize(
    "fields",
    [
        {"title": "x" * 80},
        {"parts": [a_part(name=f"p{n}") for n in range(12)]},
        {"parts": [a_part(100_000)]},
        {"parts": [a_part("0.001")]},
        {"item": {"features": ["ribs"] * 20}},
        {"item": {"measurements": {"chest": a_length(1)}}},
        {"item": {"measurements": {"chest": a_length(1000)}}},
        {"gauge": {"stitches": 2000, "over": a_length(20, "m")}},
        {"gauge": a_gauge(1, 1)},
        {"gauge": a_gauge(120, 120)},
        wishing(price_limit=0),
        wishing(price_limit=1_000_000),
        wishing(avoid_fibres=["wool"] * 20),
        designed(strands=4),
        designed(strands=1),
        designed(weight=["DK", "sport", "worsted", "lace"]),
        designed(fibres=SHARES),
        designed(attributes=["merino"] * 12),
        {**sized(30), "parts": [{"amount": ONE_EACH | {"values": [100] * 30}}]},
        sized(1),
    ],
)
def test_up_to_its_limit_a_document_is_read(fields: dict[str, Any]) -> None:
    assert read_ask(an_ask_document(**fields)) is not None


@pytest.mark.parametrize(
    ("fields", "place", "code"),
    [
        ({"title": "x" * 81}, "title", "string_too_long"),
        ({"parts": [a_part(name=f"p{n}") for n in range(13)]}, "parts", "too_long"),
        ({"parts": [a_part(100_001)]}, "parts[0].amount.values[0]", "less_than_equal"),
        ({"parts": [a_part("0.0009")]}, "parts[0].amount.values[0]", "too_small"),
        ({"item": {"features": ["ribs"] * 21}}, "item.features", "too_long"),
        (
            {"item": {"measurements": {"chest": a_length("0.99")}}},
            "item.measurements.chest",
            "no_measurement",
        ),
        (
            {"item": {"measurements": {"chest": a_length("1000.1")}}},
            "item.measurements.chest",
            "no_measurement",
        ),
        ({"gauge": {"stitches": 2001, "over": a_length(20, "m")}}, "gauge.stitches",
         "less_than_equal"),
        ({"gauge": a_gauge("0.99")}, "gauge.stitches", "no_fabric"),
        ({"gauge": a_gauge("120.1")}, "gauge.stitches", "no_fabric"),
        ({"gauge": a_gauge(22, "0.99")}, "gauge.rows", "no_fabric"),
        ({"gauge": a_gauge(22, "120.1")}, "gauge.rows", "no_fabric"),
        (wishing(price_limit="-0.01"), "wishes.price_limit", "greater_than_equal"),
        (wishing(price_limit=1_000_001), "wishes.price_limit", "less_than_equal"),
        (wishing(avoid_fibres=["wool"] * 21), "wishes.avoid_fibres", "too_long"),
        (designed(strands=5), "designer_yarn.strands", "less_than_equal"),
        (designed(strands=0), "designer_yarn.strands", "greater_than_equal"),
        (designed(weight=["DK"] * 5), "designer_yarn.weight", "too_long"),
        (designed(fibres=[*SHARES, {"fibre": "modal", "percent": 1}]), "designer_yarn.fibres",
         "too_long"),
        (designed(fibres=[{"fibre": "wool", "percent": "100.1"}]),
         "designer_yarn.fibres[0].percent", "less_than_equal"),
        (designed(attributes=["merino"] * 13), "designer_yarn.attributes", "too_long"),
        (designed(wraps_per_inch=0), "designer_yarn.wraps_per_inch", "greater_than"),
        (sized(31), "sizes.names", "too_long"),
        (sized(0), "sizes.names", "too_short"),
        ({"parts": [{"amount": ONE_EACH | {"values": [100] * 31}}]}, "parts[0].amount.values",
         "too_long"),
        ({"parts": [{"amount": ONE_EACH | {"values": []}}]}, "parts[0].amount.values",
         "too_short"),
    ],
)  # fmt: skip
def test_beyond_its_limit_a_document_is_refused_at_its_place(
    fields: dict[str, Any], place: str, code: str
) -> None:
    assert codes(refused(**fields)) == {place: code}


def test_what_is_no_measurement_or_fabric_is_told_to_four_figures() -> None:
    told = refused(item={"measurements": {"chest": a_length("1234.567")}}, gauge=a_gauge("123.456"))
    measured, counted = told["item.measurements.chest"], told["gauge.stitches"]
    assert str(measured.values["size_exact"]) in ("1235", "1.235E+3")
    assert str(counted.values["count_exact"]) == "123.5"


@pytest.mark.parametrize(
    ("own", "read"),
    [
        ({}, False),
        ({"mass": {"value": 50, "unit": "g"}}, False),
        ({"put_up": a_put_up()}, False),
        ({"sku": "H-1"}, False),
        ({"mass": {"value": 50, "unit": "g"}, "sku": "H-1"}, True),
        ({"length": a_length(20, "m")}, True),
        ({"mass": {"value": 50, "unit": "g"}, "put_up": a_put_up()}, True),
        ({"length": a_length(20, "m"), "mass": {"value": 50, "unit": "g"}}, True),
    ],
)
def test_own_yarn_is_by_length_or_by_mass_and_put_up(own: dict[str, Any], read: bool) -> None:
    parts = [a_part(own=own)]
    if read:
        assert an_ask(parts=parts).parts[0].own is not None
    else:
        assert codes(refused(parts=parts)) == {"parts[0].own": "length_or_mass"}


def test_own_yarn_keeps_what_was_given_in_fixed_units() -> None:
    own = an_ask(parts=[a_part(own={"length": a_length(100, "yd")})]).parts[0].own
    assert own is not None
    # 1 yd is 0.9144 m exactly.
    assert (own.length_m, own.mass_g, own.put_up) == (pytest.approx(91.44), None, None)
    weighed = {"mass": {"value": 1, "unit": "oz"}, "put_up": a_put_up(50, 110)}
    own = an_ask(parts=[a_part(own=weighed)]).parts[0].own
    assert own is not None
    assert (own.length_m, own.mass_g) == (None, pytest.approx(28.349523125))
    assert own.put_up is not None
    assert (own.put_up.grams, own.put_up.metres) == (50, 110)
    # Of an ask kept before these were asked, it is the pattern's yarn, held as in the pattern.
    assert (own.sku, own.strands, own.fibres, own.care) == (None, None, (), None)


def test_own_yarn_may_say_what_it_is() -> None:
    said = {
        "length": a_length(20, "m"),
        "sku": "H-1",
        "strands": 2,
        "fibres": [{"fibre": "wool", "percent": 100}],
        "care": {"wash_action": "hand"},
    }
    own = an_ask(parts=[a_part(own=said)]).parts[0].own
    assert own is not None
    assert (own.sku, own.strands) == ("H-1", 2)
    assert [(one.fibre, one.percent) for one in own.fibres] == [("wool", 100)]
    assert own.care == CareLabel(wash_action="hand")


def test_what_own_yarn_cannot_be_is_told_at_its_place() -> None:
    said = {
        "length": a_length(20, "m"),
        "fibres": [{"fibre": "wool", "percent": 60}],
        "attributes": ["magic"],
        "care": {"wash_action": "boil"},
    }
    found = refused(parts=[a_part(own=said)])
    places = {"parts[0].own.fibres", "parts[0].own.attributes[0]", "parts[0].own.care.wash_action"}
    assert set(codes(found)) == places


def test_own_yarn_is_held_in_one_to_four_strands() -> None:
    for strands in (0, 5):
        said = {"length": a_length(20, "m"), "strands": strands}
        assert set(codes(refused(parts=[a_part(own=said)]))) == {"parts[0].own.strands"}


@pytest.mark.parametrize(
    ("sizes", "code"),
    [
        ({"names": ["S", "M"], "chosen": "L"}, "chosen_not_named"),
        ({"names": ["S", "M", "S"], "chosen": "M"}, "sizes_alike"),
    ],
)
def test_sizes_are_told_apart_and_one_is_chosen(sizes: dict[str, Any], code: str) -> None:
    assert codes(refused(sizes=sizes)) == {"sizes": code}


@pytest.mark.parametrize(
    ("amount", "metres"), [([100], 100), ([100, 200, 300], 200), ([100, 200], None)]
)
def test_one_value_is_for_every_size_and_several_are_one_each(
    amount: list[int], metres: float | None
) -> None:
    fields: dict[str, Any] = {
        "sizes": {"names": ["S", "M", "L"], "chosen": "M"},
        "parts": [{"amount": ONE_EACH | {"values": amount}}],
    }
    if metres is None:
        told = refused(**fields)["parts[0].amount.values"]
        assert told == message("problem_ask.values_for_sizes", values=2, sizes=3)
    else:
        assert an_ask(**fields).parts[0].amount.length_m == metres


def test_values_for_sizes_that_are_not_named_are_counted() -> None:
    told = refused(parts=[{"amount": ONE_EACH | {"values": [100, 200]}}])
    assert told["parts[0].amount.values"] == message("problem_ask.values_no_sizes", count=2)


def test_chests_for_other_sizes_are_counted() -> None:
    chest = {"values": [90, 100], "unit": "cm"}
    told = refused(sizes={"names": ["S", "M", "L"], "chosen": "M", "chest": chest})
    assert told["sizes.chest.values"] == message("problem_ask.chests_for_sizes", chests=2, sizes=3)


@pytest.mark.parametrize(("high", "read"), [(21, False), (22, True), (24, True)])
def test_a_bands_range_runs_upward(high: float, read: bool) -> None:
    fields = designed(gauge=a_gauge(22, stitches_high=high))
    if not read:
        told = refused(**fields)["designer_yarn.gauge"]
        assert told == message("problem_ask.range_reversed", low="22", high="21")
        return
    gauge = an_ask(**fields).designer_yarn.gauge  # type: ignore[union-attr]
    assert gauge is not None
    assert (gauge.stitches_low, gauge.stitches_high, gauge.rows) == (22, high, 30)


def test_a_band_is_counted_over_its_own_length_with_its_tool() -> None:
    band = {"stitches": 11, "rows": 15, "over": a_length(5), "tool": {"size": "6", "system": "US"}}
    gauge = an_ask(**designed(gauge=band)).designer_yarn.gauge  # type: ignore[union-attr]
    assert gauge is not None
    assert (gauge.stitches_low, gauge.stitches_high, gauge.rows) == (22, 22, 30)
    # US 6 is 4 mm in the charts of the trade.
    assert (gauge.tool_mm_low, gauge.tool_mm_high) == (4, 4)


@pytest.mark.parametrize(
    "yarn",
    [
        {"weight": ["DK"]},
        {"put_up": a_put_up()},
        {"gauge": a_gauge()},
        {"count": {"written": "2/28", "system": "Nm"}},
    ],
)
def test_any_thickness_of_the_designers_yarn_does_for_a_gauge(yarn: dict[str, Any]) -> None:
    assert an_ask(gauge=None, designer_yarn=yarn).gauge is None


@pytest.mark.parametrize("yarn", [None, {}, {"fibres": [{"fibre": "wool", "percent": 100}]}])
def test_without_gauge_and_thickness_nothing_can_be_told(yarn: Any) -> None:
    told = refused(gauge=None, designer_yarn=yarn)
    assert codes(told) == {"gauge": "no_gauge"}


def test_three_parts_alike_are_named_each_at_its_place() -> None:
    told = refused(parts=[a_part(name="A"), a_part(name="B"), a_part(name="A"), a_part(name="A")])
    assert codes(told) == {"parts[2].name": "parts_alike", "parts[3].name": "parts_alike"}


def test_a_chest_of_the_chosen_size_is_taken_where_none_is_given() -> None:
    chest = {"values": [90, 100], "unit": "cm"}
    for chosen, cm in (("S", 90), ("M", 100)):
        ask = an_ask(sizes={"names": ["S", "M"], "chosen": chosen, "chest": chest})
        assert ask.measurements.chest_cm == cm
        assert ask.size_chests_cm == (90, 100)
    bare = an_ask(sizes={"names": ["S", "M"], "chosen": "M"})
    assert (bare.measurements.chest_cm, bare.size_chests_cm) == (None, ())


def right_of(**fields: Any) -> dict[str, Message | None]:
    with pytest.raises(AskRefused) as refusal:
        read_ask(an_ask_document(**fields))
    return {problem.place: problem.right for problem in refusal.value.problems}


def test_of_a_field_that_is_not_known_those_beside_it_are_named() -> None:
    told = right_of(gauge=a_gauge() | {"colour": 1}, parts=[a_part() | {"colour": 1}])
    assert told == {
        "gauge.colour": message(
            "problem_ask.known_fields", fields="after_washing, over, rows, stitch_pattern, stitches"
        ),
        "parts[0].colour": message("problem_ask.known_fields", fields="amount, name, own"),
    }


def test_what_is_right_is_said_of_the_innermost_field() -> None:
    told = right_of(
        parts=[{"amount": ONE_EACH | {"values": [1, "x"]}}],
        designer_yarn={"fibres": [{"fibre": "wool", "percent": 0}]},
    )
    fields = {
        "parts[0].amount.values[1]": "LengthAmountDoc.values",
        "designer_yarn.fibres[0].percent": "FibreDoc.percent",
    }
    assert told == {
        place: message("problem_ask.give", what=Message(f"problem_ask_field.{field}"))
        for place, field in fields.items()
    }


def test_a_number_that_may_be_two_is_offered_both() -> None:
    assert refused(gauge=a_gauge("abc"))["gauge.stitches"].code == "problem_reading.no_number"
    two = refused(gauge=a_gauge("1,200"))["gauge.stitches"]
    assert two.code == "problem_ask.with_offer"
    assert two.values["right"] == message("problem_reading.write_either", one="1200", other="1.2")


def test_a_fault_of_the_models_without_a_text_is_told_in_their_words(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setattr("shopdesk.answering.ask.ask_reading.OF_MODELS", frozenset())
    assert refused(title=5) == {
        "title": message("problem_ask.by_models", text="input should be a valid string")
    }


def test_a_size_that_is_not_there_is_told_those_there_are() -> None:
    for fields, right in (
        ({}, message("problem_ask.name_none")),
        (sized(2), message("problem_ask.name_one", sizes="size 0, size 1")),
    ):
        with pytest.raises(SizeUnknown) as refusal:
            for_size(an_ask_document(**fields), "XXL")
        assert refusal.value.problem.right == right
