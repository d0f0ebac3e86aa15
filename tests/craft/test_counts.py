"""Yarn counts against ASTM D2260 values, handweaving texts, and pint's textile units."""

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st
from pint import UnitRegistry

from shopdesk.craft.counts import (
    CountAmbiguous,
    CountRefused,
    count_systems,
    count_tex,
    metres_per_100g,
    put_up_tex,
    sold_put_up,
)
from shopdesk.craft.errors import Problem
from shopdesk.craft.messages import message
from shopdesk.craft.yarn import LabelFacts, PutUp, YarnCount

UNITS: "UnitRegistry[float]" = UnitRegistry(cache_folder=None)
PINT_NAMES = {"tex": "tex", "dtex": "dtex", "denier": "denier", "jute": "jute"}
YD_PER_LB_BY_COUNT = {
    "cotton": 840, "worsted": 560, "woollen_run": 1600, "linen_lea": 300, "yorkshire_skein": 256,
    "galashiels_cut": 200, "west_of_england": 320,
}  # fmt: skip


def tex(written: str, system: str) -> float:
    return count_tex(YarnCount(written, system))


def yards_per_pound(tex_value: float) -> float:
    return metres_per_100g(tex_value) / 0.2015907


def test_astm_d2260_worked_values() -> None:
    """ASTM D2260: cotton 10 is worsted 15; 30 tex is cotton 19.7."""
    assert tex("10", "cotton") == pytest.approx(tex("15", "worsted"), rel=1e-12)
    assert tex("19.7", "cotton") == pytest.approx(30, abs=0.05)


def test_handweaving_values() -> None:
    """Yards per pound as handweaving texts give them; common practice, no source."""
    assert yards_per_pound(tex("2/28", "worsted")) == pytest.approx(7840, abs=0.5)
    assert yards_per_pound(tex("16/2", "cotton")) == pytest.approx(6720, abs=0.5)


@pytest.mark.parametrize("system", sorted(PINT_NAMES))
def test_direct_systems_agree_with_pint(system: str) -> None:
    expected = UNITS.Quantity(30, PINT_NAMES[system]).to("gram / kilometer").magnitude
    assert tex("30", system) == pytest.approx(expected, rel=1e-9)


@pytest.mark.parametrize(
    ("system", "length", "unit"), [("nm", 1, "km/kg"), ("cotton", 840, "yd/lb")]
)
def test_metric_and_cotton_counts_agree_with_pint(system: str, length: int, unit: str) -> None:
    """They are lengths per mass: inverted before they can be tex. Not every pint knows Nm."""
    expected = (1 / UNITS.Quantity(28 * length, unit)).to("tex").magnitude
    assert tex("28", system) == pytest.approx(expected, rel=1e-9)


@pytest.mark.parametrize("system", sorted(YD_PER_LB_BY_COUNT))
def test_english_counts_agree_with_pints_yard_and_pound(system: str) -> None:
    length_per_mass = UNITS.Quantity(12 * YD_PER_LB_BY_COUNT[system], "yard / pound")
    assert tex("12", system) == pytest.approx((1 / length_per_mass).to("tex").magnitude, rel=1e-9)


def test_dewsbury_counts_yards_per_ounce_with_pint() -> None:
    expected = (1 / UNITS.Quantity(9, "yard / ounce")).to("tex").magnitude
    assert tex("9", "dewsbury") == pytest.approx(expected, rel=1e-9)


def test_every_system_is_checked_against_pint() -> None:
    checked = {*PINT_NAMES, "nm", "cotton", *YD_PER_LB_BY_COUNT, "dewsbury"}
    assert {system.key for system in count_systems()} == checked


def test_plies_come_first_in_worsted_last_in_cotton_and_either_way_in_metric() -> None:
    assert tex("2/28", "worsted") == pytest.approx(tex("14", "worsted"))
    assert tex("30/2", "Ne") == pytest.approx(tex("15", "cotton"))
    assert tex("2/28", "Nm") == tex("28/2", "nm") == pytest.approx(1000 / 14)
    assert metres_per_100g(tex("2/28", "nm")) == pytest.approx(1400)
    assert metres_per_100g(tex("2/28", "worsted")) == pytest.approx(1580, abs=1)


def test_plies_as_a_product_and_a_resultant() -> None:
    """Notation of ISO 1139, from memory."""
    assert tex("37 tex x 2", "tex") == 74
    assert tex("R 74 tex/2", "tex") == 74


@pytest.mark.parametrize(
    ("written", "expected"),
    [
        ("2/28", {"metric (Nm)": 1400, "worsted (NeW)": 1580}),
        ("28/2", {"metric (Nm)": 1400, "cotton (Ne)": 2371, "linen lea": 847}),
    ],
)
def test_a_count_without_its_system_is_asked_back(written: str, expected: dict[str, int]) -> None:
    for unsaid in ("ask", "", "unknown", "ASK"):
        with pytest.raises(CountAmbiguous) as asked:
            tex(written, unsaid)
        readings = ", ".join(f"{name} {metres} m/100 g" for name, metres in expected.items())
        assert str(asked.value).startswith(f"'{written}' depends on the count's system: {readings}")


@pytest.mark.parametrize("written", ["Nm 2/28", "2/28 Nm", "2/28 NM", "nm 28/2", "2/28 metric"])
def test_a_system_in_the_text_needs_no_asking(written: str) -> None:
    assert tex(written, "ask") == pytest.approx(1000 / 14)


@pytest.mark.parametrize("written", ["2/28 NeW", "NeW 2/28", "28/2 Nek"])
def test_the_english_worsted_count_is_the_worsted_count(written: str) -> None:
    # Handweaving texts: worsted 2/28 is 7840 yd/lb; NeW writes the plies first as worsted does.
    if written.startswith("28/2"):
        assert refused(written, "ask").wrong.code == "problem_yarn.plies_first"
    else:
        assert yards_per_pound(tex(written, "ask")) == pytest.approx(7840, abs=0.5)


@pytest.mark.parametrize(
    ("written", "system", "wrong", "right"),
    [
        ("2/28 Nm", "worsted", "says metric", "agree"),
        ("28/2", "worsted", "plies first", "2/28"),
        ("2/30", "cotton", "plies last", "30/2"),
        ("150/48", "denier", "slash", "without a slash"),
        ("2/10", "woollen_run", "no custom", "whole yarn"),
        ("3/4", "nm", "two ways", "1.33 or 0.75"),
        ("2/28", "troy", "not a known system", "metric"),
        ("", "nm", "nothing", "2/28"),
        ("NaN", "nm", "not a number", "2/28"),
        ("1e3", "tex", "exponent", "2/28"),
        ("٣٠", "tex", "another script", "2/28"),
        ("0", "nm", "above zero", "2/28"),
        ("-2", "nm", "above zero", "2/28"),
        ("2/0", "nm", "above zero", "2/28"),
        ("0.001", "nm", "no yarn", "2/28"),
        ("99/200", "worsted", "number of plies", "2/28"),
        ("1,200", "nm", "two ways", "1200"),
        ("<b>2/28</b>", "nm", "not a number", "2/28"),
        ("2/28" * 30, "nm", "too long", "2/28"),
        ("2/28/2", "nm", "not a number", "2/28"),
        ("x", "ask", "not a yarn count", "2/28"),
    ],
)
def test_what_cannot_be_read_is_refused(written: str, system: str, wrong: str, right: str) -> None:
    with pytest.raises(CountRefused) as refusal:
        tex(written, system)
    assert wrong in refusal.value.wrong
    assert right in refusal.value.right


def test_put_up_in_tex() -> None:
    """50 g of 125 m is 400 tex by the definition of tex, 250 m per 100 g."""
    assert put_up_tex(PutUp(50, 125)) == pytest.approx(400)
    assert metres_per_100g(400) == pytest.approx(250)
    with pytest.raises(ValueError, match="above zero"):
        put_up_tex(PutUp(50, 0))


@given(st.integers(2, 9), st.integers(18, 80))
def test_metric_notation_does_not_mind_its_order(plies: int, single: int) -> None:
    assert tex(f"{plies}/{single}", "nm") == tex(f"{single}/{plies}", "nm")


@given(st.sampled_from([s.key for s in count_systems()]), st.integers(2, 60))
def test_a_higher_count_is_finer_only_where_it_counts_length(system: str, count: int) -> None:
    direct = next(s.direct for s in count_systems() if s.key == system)
    one, more = f"{count * 10} {system}", f"{count * 10 + 10}"
    try:
        first, second = tex(one.split()[0], system), tex(more, system)
    except CountRefused:
        return
    assert (second > first) is direct


@given(st.text(max_size=25), st.sampled_from(["ask", "nm", "cotton", "worsted", "tex", "denier"]))
def test_any_text_is_a_count_or_a_refusal(written: str, system: str) -> None:
    try:
        value = tex(written, system)
    except (CountRefused, CountAmbiguous):
        return
    assert value > 0


def refused(written: str, system: str) -> Problem:
    with pytest.raises(CountRefused) as refusal:
        tex(written, system)
    return refusal.value.problem


def test_a_yarn_has_half_a_tex_to_50_kilotex() -> None:
    assert tex("0.5", "tex") == 0.5
    assert tex("50000", "tex") == 50000
    for written, told in (("0.49", "0.49"), ("50001", "50000"), ("61256", "61300")):
        problem = refused(written, "tex")
        assert problem.wrong.code == "problem_yarn.no_such_count"
        assert problem.wrong.values["tex_exact"] == Decimal(told)
        assert problem.wrong.values["text"] == written


def test_a_yarn_has_32_plies_at_most() -> None:
    assert tex("32/32", "nm") == pytest.approx(1000)
    assert tex("2 x 32", "tex") == 64
    problem = refused("2 x 33", "tex")
    assert problem.wrong.code == "problem_yarn.no_plies"
    assert problem.wrong.values["plies_exact"] == 33
    assert refused("2.5/28", "worsted").wrong.values["plies_exact"] == Decimal("2.5")
    assert str(refused("2.1234567/28", "worsted").wrong.values["plies_exact"]) == "2.12346"


def test_60_letters_may_be_a_count_and_30_of_a_system_are_told_back() -> None:
    assert tex("28".zfill(40).rjust(60), "nm") == pytest.approx(1000 / 28)
    # Blanks around it do not count; figures that long are no number either.
    assert refused("2" * 60, "nm").wrong.code != "problem_yarn.count_long"
    assert refused("2" * 61, "nm").wrong == message("problem_yarn.count_long", count=61)
    assert refused("28", "x" * 40).wrong.values == {"text": "x" * 30}


@pytest.mark.parametrize(
    ("written", "single"), [("2/28", 14), ("1/28", 28), ("2/2", 1), ("28/28", 1), ("2/4", 2)]
)
def test_plies_first_up_to_as_many_as_the_single_counts(written: str, single: float) -> None:
    assert tex(written, "worsted") == pytest.approx(tex(f"{single}", "worsted"))


@pytest.mark.parametrize(
    ("written", "single"), [("1/1.5", 1.5), ("3/6", 2), ("2/4", 2), ("3/3", 1), ("1.5/1", 1.5)]
)
def test_metric_plies_are_the_smaller_figure(written: str, single: float) -> None:
    assert tex(written, "nm") == pytest.approx(1000 / single)


@pytest.mark.parametrize(
    ("written", "one", "other"),
    [("3/4", "1.33", "0.75"), ("7/4", "1.75", "0.571"), ("2/3", "1.5", "0.667")],
)
def test_figures_too_near_each_other_may_be_read_either_way(
    written: str, one: str, other: str
) -> None:
    problem = refused(written, "nm")
    assert problem.wrong == message("problem_reading.two_ways", text=written)
    assert problem.right is not None
    assert {name: str(value) for name, value in problem.right.values.items()} == {
        "one_exact": one,
        "other_exact": other,
    }


def test_what_was_turned_round_is_told_to_six_figures() -> None:
    problem = refused("28.1234567/2.7654321", "worsted")
    assert problem.wrong.code == "problem_yarn.plies_first"
    assert (
        str(problem.wrong.values["plies_exact"]),
        str(problem.wrong.values["single_exact"]),
    ) == (
        "28.1235",
        "2.76543",
    )
    assert problem.right is not None
    assert problem.right.values["text"] == "2.7654321/28.1234567"
    last = refused("2/30", "cotton")
    assert (last.wrong.values["plies_exact"], last.wrong.values["single_exact"]) == (30, 2)


def test_the_first_refusal_is_why_no_system_reads_a_count() -> None:
    problem = refused("x", "ask")
    assert problem.wrong == message("problem_yarn.no_count", text="x")


@pytest.mark.parametrize(("grams", "metres"), [(0, 125), (-1, 125), (50, 0), (50, -1)])
def test_a_put_up_of_nothing_is_refused(grams: float, metres: float) -> None:
    with pytest.raises(ValueError, match="above zero"):
        put_up_tex(PutUp(grams, metres))


def test_a_put_up_may_be_small() -> None:
    assert put_up_tex(PutUp(0.5, 0.5)) == 1000


def test_a_cone_holds_what_mass_and_count_make() -> None:
    # 2/28 Nm is 14 m per g: 200 g hold 2800 m.
    count = YarnCount("2/28", "Nm")
    assert sold_put_up(LabelFacts(count=count, net_grams=200)) == PutUp(200, pytest.approx(2800))
    ball = PutUp(50, 125)
    assert sold_put_up(LabelFacts(put_up=ball, count=count, net_grams=200)) == ball
    assert sold_put_up(LabelFacts(count=count)) is None
    assert sold_put_up(LabelFacts(net_grams=200)) is None
    assert sold_put_up(LabelFacts(put_up=ball)) == ball
