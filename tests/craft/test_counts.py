"""Yarn counts against ASTM D2260 values, handweaving texts, and pint's textile units."""

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
)
from shopdesk.craft.yarn import PutUp, YarnCount

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


@pytest.mark.parametrize(("system", "unit"), [("nm", "Nm"), ("cotton", "Ne")])
def test_metric_and_cotton_counts_agree_with_pint(system: str, unit: str) -> None:
    """pint's Nm and Ne are lengths per mass: inverted before they can be tex."""
    expected = (1 / UNITS.Quantity(28, unit)).to("tex").magnitude
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
        ("2/28", {"metric (Nm)": 1400, "worsted": 1580}),
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
