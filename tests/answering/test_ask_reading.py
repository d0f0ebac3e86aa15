"""An ask document becomes an Ask in fixed units, or every problem in it is named."""

from typing import Any

import pytest

from shopdesk.answering.ask.ask_reading import read_ask
from shopdesk.answering.ask.document import AskRefused
from shopdesk.answering.model.ask import AmountKind
from shopdesk.wording.translate import english
from tests.ask_documents import (
    a_designer_yarn,
    a_gauge,
    a_length,
    a_part,
    a_put_up,
    an_ask,
    an_ask_document,
)


def problems_of(**fields: Any) -> dict[str, str]:
    with pytest.raises(AskRefused) as refusal:
        read_ask(an_ask_document(**fields))
    return {problem.place: english(problem.wrong) for problem in refusal.value.problems}


def test_gauge_over_four_inches_is_kept_per_10_cm() -> None:
    ask = an_ask(gauge={"stitches": "22", "over": a_length(4, "in")})
    assert ask.gauge is not None
    assert ask.gauge.stitches == pytest.approx(22 / 10.16 * 10)


def test_numbers_may_be_written_as_people_do() -> None:
    ask = an_ask(gauge=a_gauge("5 1/2", None) | {"over": a_length("2,5")})
    assert ask.gauge is not None
    assert ask.gauge.stitches == pytest.approx(22)


def test_amount_of_the_chosen_size_is_taken() -> None:
    amount = {"kind": "balls", "values": [5, 6, 7], "put_up": a_put_up()}
    ask = an_ask(sizes={"names": ["S", "M", "L"], "chosen": "M"}, parts=[{"amount": amount}])
    assert ask.parts[0].amount.kind is AmountKind.BALLS
    assert ask.parts[0].amount.balls == 6


def test_yards_become_metres_by_the_exact_yard() -> None:
    amount = {"kind": "length", "values": [1000], "unit": "yd"}
    assert an_ask(parts=[{"amount": amount}]).parts[0].amount.length_m == pytest.approx(914.4)


def test_a_needle_number_is_read_in_its_own_system() -> None:
    assert an_ask(tool={"size": "6", "system": "US"}).tool.mm == 4.0  # type: ignore[union-attr]
    assert an_ask(tool={"size": "6", "system": "UK"}).tool.mm == 5.0  # type: ignore[union-attr]


def test_an_avoided_fibre_is_known_by_its_common_name() -> None:
    assert an_ask(wishes={"avoid_fibres": ["nylon"]}).wishes.avoid_fibres == {"polyamide"}


@pytest.mark.parametrize("amount", [None, "unknown"])
def test_gauge_or_designer_yarn_must_be_there(amount: str | None) -> None:
    with pytest.raises(AskRefused, match="neither the pattern's gauge nor"):
        read_ask({"parts": [{"amount": {"kind": "unknown"}}]})


@pytest.mark.parametrize(
    ("fields", "place", "wrong"),
    [
        ({"gauge": a_gauge("abc")}, "gauge.stitches", "'abc' is not a number"),
        ({"gauge": a_gauge("1e9")}, "gauge.stitches", "exponent"),
        ({"gauge": a_gauge("NaN")}, "gauge.stitches", "'NaN' is not a number"),
        ({"gauge": a_gauge(float("nan"))}, "gauge.stitches", "finite"),
        ({"gauge": a_gauge(True)}, "gauge.stitches", "this is not a number"),
        ({"gauge": a_gauge("")}, "gauge.stitches", "nothing is written"),
        ({"gauge": a_gauge(0)}, "gauge.stitches", "greater than 0"),
        ({"gauge": a_gauge(-22)}, "gauge.stitches", "greater than 0"),
        ({"gauge": a_gauge("٢٢")}, "gauge.stitches", "another script"),
        ({"gauge": a_gauge(999)}, "gauge.stitches", "no hand-made fabric"),
        ({"gauge": a_gauge(22, 1000)}, "gauge.rows", "no hand-made fabric"),
        ({"parts": []}, "parts", "at least 1"),
        ({"parts": [a_part(name="A"), a_part(name="A")]}, "parts[1].name", "two parts"),
        ({"parts": [a_part() | {"colour": 1}]}, "parts[0].colour", "not known"),
        ({"tool": {"size": "99", "system": "US"}}, "tool.size", ""),
        ({"wishes": {"avoid_fibres": ["granite"]}}, "wishes.avoid_fibres[0]", "not known"),
        ({"designer_yarn": {"weight": ["feather"]}}, "designer_yarn.weight[0]", "not a weight"),
        (
            {"designer_yarn": {"fibres": [{"fibre": "wool", "percent": 99}]}},
            "designer_yarn.fibres",
            "",
        ),
        (
            {"designer_yarn": {"count": {"written": "2/28", "system": "ask"}}},
            "designer_yarn.count.system",
            "",
        ),
        (
            {"designer_yarn": {"gauge": a_gauge(24) | {"stitches_high": 22}}},
            "designer_yarn.gauge",
            "reversed",
        ),
        (
            {"gauge": a_gauge(stitch_pattern="single crochet")},
            "gauge.stitch_pattern",
            "craft is knit",
        ),
        (
            {"item": {"measurements": {"chest": a_length(50, "m")}}},
            "item.measurements.chest",
            "not a plausible",
        ),
    ],
)
def test_each_problem_is_named_at_its_place(fields: dict[str, Any], place: str, wrong: str) -> None:
    problems = problems_of(**fields)
    assert wrong in problems[place]


def test_all_problems_come_at_once() -> None:
    fields = {"gauge": a_gauge(0, "x"), "washing": "boil", "parts": [a_part(-1)]}
    assert set(problems_of(**fields)) == {
        "gauge.stitches",
        "gauge.rows",
        "washing",
        "parts[0].amount.length.values[0]".replace(".length.", "."),
    }


def test_crochet_without_a_stitch_named_is_not_taken_for_stockinette() -> None:
    ask = an_ask(craft="crochet")
    assert ask.gauge is not None
    assert ask.gauge.stitch_pattern.value == "other"
    crochet = {"craft": "crochet", "gauge": a_gauge(stitch_pattern="garter")}
    assert "knitted stitch" in problems_of(**crochet)["gauge.stitch_pattern"]


def test_sizes_and_values_must_agree() -> None:
    amount = {"kind": "length", "values": [1, 2], "unit": "m"}
    assert "no sizes" in problems_of(parts=[{"amount": amount}])["parts[0].amount.values"]
    sizes = {"names": ["S", "M", "L"], "chosen": "M"}
    problems = problems_of(parts=[{"amount": amount}], sizes=sizes)
    assert "2 values for 3 sizes" in problems["parts[0].amount.values"]


@pytest.mark.parametrize("document", [None, [], "ask", 3])
def test_what_is_not_an_object_is_refused(document: object) -> None:
    with pytest.raises(AskRefused, match="not a JSON object"):
        read_ask(document)


def test_designer_yarn_is_read_whole() -> None:
    yarn = an_ask(designer_yarn=a_designer_yarn(fibre="cotton")).designer_yarn
    assert yarn is not None
    assert yarn.put_up is not None
    assert yarn.put_up.metres == 120
    assert [share.fibre for share in yarn.fibres] == ["cotton"]


def sizes_with_chests(*values: Any, unit: str = "in") -> dict[str, Any]:
    return {
        "names": ["S", "M", "L"],
        "chosen": "M",
        "chest": {"values": list(values), "unit": unit},
    }


def test_the_chests_of_all_sizes_are_read_in_cm_and_give_the_chosen_one() -> None:
    # 1 in = 2.54 cm exactly (international yard and pound agreement, 1959).
    ask = read_ask(an_ask_document(sizes=sizes_with_chests(36, "40 1/2", 44)))
    assert ask.size_chests_cm == pytest.approx((91.44, 102.87, 111.76))
    assert ask.measurements.chest_cm == pytest.approx(102.87)


def test_a_chest_or_width_that_is_given_stays() -> None:
    for measure in ("chest", "width"):
        item = {"kind": "pullover", "measurements": {measure: a_length(90)}}
        ask = read_ask(an_ask_document(item=item, sizes=sizes_with_chests(36, 40, 44)))
        assert getattr(ask.measurements, f"{measure}_cm") == 90
        assert ask.measurements.chest_cm == (90 if measure == "chest" else None)


@pytest.mark.parametrize("values", [(36, 40), (36, 40, 44, 48), (36, 40, 4000)])
def test_chests_that_do_not_fit_the_sizes_are_refused(values: tuple[int, ...]) -> None:
    with pytest.raises(AskRefused) as refused:
        read_ask(an_ask_document(sizes=sizes_with_chests(*values)))
    assert [problem.place for problem in refused.value.problems] == ["sizes.chest.values"]
