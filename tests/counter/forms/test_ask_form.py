"""The form says the ask document, and a document fills the form that says it again."""

from typing import Any

import pytest
from flask import Flask
from hypothesis import given
from hypothesis import strategies as st
from werkzeug.datastructures import MultiDict

from shopdesk.answering.ask.ask_reading import check_document
from shopdesk.counter.forms.ask_form import (
    AskForm,
    ask_document_of,
    ask_form_data,
    received,
    show_problems,
)
from shopdesk.craft.errors import Problem
from shopdesk.craft.messages import message

USUAL = {
    "craft": "knit",
    "item": {"kind": "other"},
    "wearer": "unknown",
    "washing": "unknown",
    "drying": "unknown",
}
UNKNOWN_AMOUNT = [{"amount": {"kind": "unknown"}}]


@pytest.fixture(autouse=True)
def _a_request(app: Flask) -> Any:
    with app.test_request_context("/"):
        yield


def a_form(**typed: Any) -> AskForm:
    data: MultiDict[str, str] = MultiDict()
    for name, value in typed.items():
        for one in value if isinstance(value, list) else [value]:
            data.add(name.replace("__", "-"), one)
    return AskForm(formdata=data)


def said(**typed: Any) -> dict[str, Any]:
    document, problems = ask_document_of(a_form(**typed))
    assert problems == []
    return document


def test_an_untouched_form_says_only_its_defaults() -> None:
    assert said() == {**USUAL, "parts": UNKNOWN_AMOUNT}


def test_a_gauge_goes_with_the_length_it_is_counted_over() -> None:
    assert said(stitches="22", rows="30")["gauge"] == {
        "stitches": "22",
        "rows": "30",
        "over": {"value": "10", "unit": "cm"},
        "stitch_pattern": "stockinette",
    }


def test_balls_take_the_designers_put_up_when_the_part_has_none() -> None:
    document = said(
        designer__ball_mass="50",
        designer__ball_length="137",
        designer__ball_length_unit="yd",
        parts__0__count="9",
        parts__0__counted_in="balls",
    )
    put_up = {"mass": {"value": "50", "unit": "g"}, "length": {"value": "137", "unit": "yd"}}
    assert document["designer_yarn"] == {"put_up": put_up}
    assert document["parts"] == [{"amount": {"kind": "balls", "values": ["9"], "put_up": put_up}}]


def test_several_sizes_are_read_as_patterns_print_them() -> None:
    document = said(
        sizes="S (M, L, XL)",
        chosen_size="L",
        chests="91 (96,5; 101, 106)",
        parts__0__count="5 (6, 7,5, 9)",
        parts__0__counted_in="m",
    )
    assert document["sizes"] == {
        "names": ["S", "M", "L", "XL"],
        "chosen": "L",
        "chest": {"values": ["91", "96,5", "101", "106"], "unit": "cm"},
    }
    assert document["parts"][0]["amount"]["values"] == ["5", "6", "7,5", "9"]


def test_empty_fibre_lines_leave_no_gap() -> None:
    document = said(
        designer__fibres__0__percent="",
        designer__fibres__1__percent="75",
        designer__fibres__1__fibre="wool",
        designer__fibres__3__percent="25",
        designer__fibres__3__fibre="nylon",
    )
    assert document["designer_yarn"]["fibres"] == [
        {"percent": "75", "fibre": "wool"},
        {"percent": "25", "fibre": "nylon"},
    ]


def test_a_number_that_counts_nothing_is_asked_about() -> None:
    form = a_form(parts__0__count="5")
    _, problems = ask_document_of(form)
    assert show_problems(form, problems) == []
    assert "Nothing says what this number counts" in form.parts[0].form.counted_in.errors[0]


@pytest.mark.parametrize(
    ("path", "box"),
    [
        (("gauge", "stitches"), "stitches"),
        (("gauge", "over", "value"), "over"),
        (("gauge",), "stitches"),
        (("designer_yarn", "fibres"), "designer-weight"),
        (("sizes", "names", 2), "sizes"),
        (("sizes", "chest", "values"), "chests"),
        (("parts", 0, "amount", "values", 3), "parts-0-count"),
        (("parts", 0, "amount", "put_up"), "parts-0-ball_mass"),
        (("parts", 0, "own"), "parts-0-own_length"),
        (("wishes", "avoid_fibres", 0), "avoid"),
        (("hand", "percent"), "hand"),
    ],
)
def test_a_problem_is_shown_at_the_box_it_is_about(path: tuple[Any, ...], box: str) -> None:
    form = a_form(parts__0__count="5")
    assert show_problems(form, [Problem(path, message("problem_ask.missing"))]) == []
    wrong = [name for name, field in form.boxes().items() if field.errors]
    assert wrong == [box]


def test_a_problem_of_the_whole_ask_belongs_to_no_box() -> None:
    problem = Problem((), message("problem_pattern.no_text"), message("problem_reading.write_22"))
    assert show_problems(a_form(), [problem]) == [
        "There is no text here; write a number such as 22."
    ]


def test_names_that_no_box_can_have_are_dropped() -> None:
    sent = MultiDict([("parts-²-name", "x"), ("parts-" + "9" * 5000 + "-name", "x"), ("rows", "3")])
    assert list(received(sent)) == ["rows"]


NUMBERS = st.sampled_from(["22", "22.5", "3,5", "1 1/2", "¾", "137"])
WORDS = st.sampled_from(["DK", "wool", "main colour", "naïve", "<b>"])


def _quantities(*units: str) -> st.SearchStrategy[dict[str, Any]]:
    return st.fixed_dictionaries({"value": NUMBERS, "unit": st.sampled_from(units)})


PUT_UPS = st.fixed_dictionaries({"mass": _quantities("g", "oz"), "length": _quantities("m", "yd")})
AMOUNTS = st.one_of(
    st.just({"kind": "unknown"}),
    st.fixed_dictionaries(
        {"kind": st.just("length"), "values": st.just(["5", "6,5"]), "unit": st.just("yd")}
    ),
    st.fixed_dictionaries(
        {"kind": st.just("balls"), "values": st.just(["1 1/2"]), "put_up": PUT_UPS}
    ),
    st.fixed_dictionaries(
        {
            "kind": st.just("mass"),
            "values": st.just(["400"]),
            "unit": st.sampled_from(["g", "oz", "lb", "kg"]),
            "put_up": PUT_UPS,
        }
    ),
)
PARTS = st.fixed_dictionaries(
    {"name": WORDS, "amount": AMOUNTS},
    optional={
        "own": st.one_of(
            st.fixed_dictionaries({"length": _quantities("m", "yd")}),
            st.fixed_dictionaries({"mass": _quantities("g"), "put_up": PUT_UPS}),
        )
    },
)
GAUGES = st.fixed_dictionaries(
    {"stitches": NUMBERS, "over": _quantities("cm", "in"), "stitch_pattern": st.just("lace")},
    optional={"rows": NUMBERS, "after_washing": st.booleans()},
)
YARNS = st.fixed_dictionaries(
    {"weight": st.lists(WORDS, min_size=1, max_size=2, unique=True)},
    optional={
        "put_up": PUT_UPS,
        "strands": st.sampled_from(["2", "3"]),
        "wraps_per_inch": NUMBERS,
        "fibres": st.lists(
            st.fixed_dictionaries({"fibre": WORDS, "percent": st.sampled_from(["75", "12,5"])}),
            min_size=1,
            max_size=4,
        ),
        "construction": st.sampled_from(["plied", "brushed"]),
        "gauge": st.fixed_dictionaries(
            {"stitches": NUMBERS, "over": _quantities("cm")},
            optional={
                "tool": st.fixed_dictionaries({"size": st.just("7"), "system": st.just("US")})
            },
        ),
    },
)
ASKS = st.fixed_dictionaries(
    {
        "craft": st.sampled_from(["knit", "crochet"]),
        "wearer": st.sampled_from(["adult", "baby under 12 months"]),
        "washing": st.just("machine 40"),
        "drying": st.just("tumble"),
        "parts": st.lists(PARTS, min_size=1, max_size=3),
        "item": st.fixed_dictionaries(
            {"kind": st.sampled_from(["hat", "toy"])},
            optional={
                "features": st.just(["ribs", "for sleep"]),
                "measurements": st.fixed_dictionaries({"chest": _quantities("cm", "in")}),
            },
        ),
    },
    optional={
        "title": WORDS,
        "gauge": GAUGES,
        "designer_yarn": YARNS,
        "tool": st.fixed_dictionaries({"size": st.just("10½"), "system": st.just("US")}),
        "sizes": st.sampled_from(
            [
                {"names": ["S", "M"], "chosen": "M"},
                {
                    "names": ["S", "M"],
                    "chosen": "M",
                    "chest": {"values": ["3,5", "40 1/2"], "unit": "in"},
                },
            ]
        ),
        "hand": st.fixed_dictionaries(
            {
                "percent": st.sampled_from(["4", "2,5", "25"]),
                "way": st.sampled_from(["tighter", "looser"]),
            }
        ),
        "wishes": st.fixed_dictionaries(
            {"avoid_fibres": st.just(["mohair", "wool"])},
            optional={
                "avoid_animal_hair": st.just(True),
                "avoid_silk": st.just(True),
                "one_lot_only": st.just(True),
                "price_limit": NUMBERS,
            },
        ),
    },
)


@given(ASKS)
def test_a_document_comes_back_from_the_form_it_fills(document: dict[str, Any]) -> None:
    again, problems = ask_document_of(AskForm(formdata=ask_form_data(document)))
    assert problems == []
    assert again == document
    assert check_document(again) == check_document(document)
