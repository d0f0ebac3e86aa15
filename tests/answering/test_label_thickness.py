"""How far a band's thickness is contradicted: gaps on the log scale, both sides of every limit."""

from math import inf, log
from typing import Any

import pytest

from shopdesk.answering.label.label_findings import Facet, Gravity, LabelFinding
from shopdesk.answering.label.label_thickness import (
    gap,
    knit_range,
    length_range,
    weight_findings,
)
from shopdesk.answering.profile.profile import shelf_profile
from shopdesk.craft.yarn import BandGauge, ShelfYarn, YarnCount
from tests.factories import a_band_gauge, a_label, a_swatch, a_weighing, a_wraps, a_yarn


def findings(yarn: ShelfYarn) -> dict[str, LabelFinding]:
    found = weight_findings(yarn, shelf_profile(yarn))
    return {one.message.code.rpartition(".")[2]: one for one in found}


def labelled(*named: Any, measured: tuple[Any, ...] = (), **facts: Any) -> dict[str, LabelFinding]:
    return findings(a_yarn(label=a_label(*named, **facts), measurements=measured))


@pytest.mark.parametrize(
    ("found", "allowed", "apart"),
    [
        ((10, 20), [(15, 30)], 0),
        ((10, 20), [(20, 30)], 0),
        ((10, 20), [(5, 10)], 0),
        ((10, 20), [(25, 30)], log(1.25)),
        ((10, 20), [(5, 8)], log(1.25)),
        # The nearest of several counts.
        ((10, 20), [(1, 2), (30, 40), (22, 25)], log(1.1)),
        ((10, 20), [], 0),
        ((10, inf), [(1, 5)], log(2)),
    ],
)
def test_a_gap_is_the_log_of_the_nearest_ends(
    found: tuple[float, float], allowed: list[tuple[float, float]], apart: float
) -> None:
    assert gap(found, allowed) == pytest.approx(apart)


def test_ranges_of_categories_are_closed_at_one_and_infinity() -> None:
    # Standard Yarn Weight System: 3 is 21 to 24 stitches, 7 up to 6; lengths are common practice.
    assert (knit_range(3), knit_range(7)) == ((21, 24), (1.0, 6))
    assert (length_range(3), length_range(7), length_range(0)) == (
        (200, 260),
        (1.0, 50),
        (480, inf),
    )


@pytest.mark.parametrize(
    ("grams", "metres", "apart"),
    [
        # 225 m per 100 g by the band, weighed 10 m; 4 % and 2.5 % are the doubt of both.
        (4.75, 210.526, True),
        (4.7, 212.766, False),
        (4.2, 238.095, False),
        (4.15, 240.964, True),
    ],
)
def test_a_weighed_length_beyond_the_doubt_of_both(
    grams: float, metres: float, apart: bool
) -> None:
    found = labelled(measured=(a_weighing(10, grams),)).get("weighed_against_band")
    assert (found is not None) is apart
    if found is not None:
        values = found.message.values
        assert (values["measured_m"], values["said_m"]) == pytest.approx((metres, 225), abs=1e-3)
        off = abs(metres / 225 - 1) * 100
        assert values["off_percent"] == pytest.approx(off, abs=1e-3)
        # Thickness goes with the root of length per mass.
        assert found.apart == pytest.approx(abs(log(metres / 225)) / 2, abs=1e-4)
        assert (found.gravity, found.facets) == (Gravity.MEASURED, {Facet.LENGTH})


def test_a_weighed_length_is_held_against_a_count_too() -> None:
    # Nm 5 is 5 m per g by definition: 500 m per 100 g; 10 m of 2.5 g are 400 m.
    found = labelled(None, None, count=YarnCount("5", "Nm"), measured=(a_weighing(10, 2.5),))
    assert found["weighed_against_band"].message.values["said_m"] == pytest.approx(500)


@pytest.mark.parametrize(
    ("gauge", "code", "values", "most"),
    [
        # A band's one figure may be 4.5 % more, 22.99.
        (a_band_gauge(22), "swatched_against_one", {"said_st": 22}, 22.99),
        (a_band_gauge(20, to=22), "swatched_against_band", {"low_st": 20, "high_st": 22}, 22),
    ],
)
def test_swatches_beyond_the_bands_gauge(
    gauge: BandGauge, code: str, values: dict[str, float], most: float
) -> None:
    swatches = tuple(a_swatch(30, hand=hand) for hand in ("MB", "RO", "AK"))
    found = labelled(gauge=gauge, measured=swatches)[code]
    said = dict(found.message.values)
    assert said.pop("measured_st") == pytest.approx(30, abs=0.01)
    assert said == values
    assert (found.gravity, found.facets) == (Gravity.MEASURED, {Facet.GAUGE})
    # Three swatches are surer than 10 % of their 30.
    assert log(27 / most) < found.apart < log(30 / most)


def test_swatches_that_meet_the_bands_range_are_no_finding() -> None:
    swatches = tuple(a_swatch(24, hand=hand) for hand in ("MB", "RO", "AK"))
    assert "swatched_against_band" not in labelled(gauge=a_band_gauge(20, to=24), measured=swatches)
    no_band = labelled(gauge=None, measured=swatches)
    assert not {"swatched_against_band", "swatched_against_one"} & set(no_band)


def test_name_against_gauge_and_length_and_each_other() -> None:
    # DK is 21 to 24 stitches and 200 to 260 m; 28 within 4.5 % are 26.74 to 29.26 stitches.
    found = labelled("DK", 225, gauge=a_band_gauge(28, mm=3.0))
    by_gauge = found["name_against_gauge"]
    assert by_gauge.apart == pytest.approx(log(28 * 0.955 / 24))
    assert (by_gauge.gravity, by_gauge.facets) == (Gravity.BAND, {Facet.NAME, Facet.GAUGE})
    both = found["gauge_against_length"]
    assert both.apart == pytest.approx(log(28 * 0.955 / 24))
    assert (both.gravity, both.facets) == (Gravity.BAND, {Facet.GAUGE, Facet.LENGTH})
    # 400 m within 4 % of the tex are 384.6 m and more; share of thickness is half of it.
    by_length = labelled("DK", 400)["name_against_length"]
    assert by_length.apart == pytest.approx(log(400 / 1.04 / 260) / 2)
    assert by_length.facets == {Facet.NAME, Facet.LENGTH}


def test_name_and_length_against_wraps() -> None:
    found = labelled("DK", 225, measured=(a_wraps(18),))
    # 11 wraps are usual of DK, and 0.79 x root(225) = 11.85 are to be expected of the length;
    # the message rounds to tenths: 11.8 or 11.9.
    by_name = found["name_against_wraps"]
    assert by_name.apart == pytest.approx(log(18 / 11))
    assert (by_name.gravity, by_name.facets) == (Gravity.MEASURED, {Facet.NAME, Facet.WRAPS})
    by_length = found["wraps_thinner_than_length"]
    assert by_length.apart == pytest.approx(log(18 / 11.85), abs=0.006)
    assert by_length.facets == {Facet.WRAPS, Facet.LENGTH}
    assert by_length.gravity is Gravity.MEASURED
    thicker = labelled("DK", 225, measured=(a_wraps(8),))["wraps_thicker_than_length"]
    assert thicker.apart == pytest.approx(log(11.85 / 8), abs=0.006)


def test_what_was_measured_makes_a_contradiction_one_of_measuring() -> None:
    swatches = tuple(a_swatch(28, hand=hand) for hand in ("MB", "RO", "AK"))
    found = labelled("DK", 225, gauge=a_band_gauge(28, mm=3.0), measured=swatches)
    assert found["name_against_gauge"].gravity is Gravity.MEASURED
    weighed = labelled("DK", 400, measured=(a_weighing(10, 2.5),))
    assert weighed["name_against_length"].gravity is Gravity.MEASURED


@pytest.mark.parametrize(
    ("name", "metres", "stitches", "said"),
    [
        # Lace by name and length: its gauge is the pattern's. Otherwise it speaks against it.
        ("lace", 800, 20, False),
        ("lace", 300, 20, True),
        ("fingering", 800, 20, True),
        (None, 800, 20, True),
    ],
)
def test_the_gauge_of_lace_contradicts_nothing(
    name: str | None, metres: float, stitches: float, said: bool
) -> None:
    found = labelled(name, metres, gauge=a_band_gauge(stitches))
    assert (
        any(Facet.GAUGE in one.facets and one.gravity is Gravity.BAND for one in found.values())
        is said
    )


@pytest.mark.parametrize(
    ("metres", "apart"), [(539, True), (532, False), (470, False), (462, True)]
)
def test_a_count_beside_a_put_up(metres: float, apart: bool) -> None:
    # Nm 5 is 500 m per 100 g by definition; 4 % and 3 % are the doubt of both, 466.2 to 536.3.
    found = labelled(None, metres, count=YarnCount("5", "Nm")).get("count_against_put_up")
    assert (found is not None) is apart
    if found is not None:
        assert found.apart == pytest.approx(abs(log(metres / 500)) / 2)
        assert found.message.values == {
            "written": "5",
            "by_count_m": pytest.approx(500),
            "by_put_up_m": pytest.approx(metres),
        }
        assert (found.gravity, found.facets) == (Gravity.BAND, {Facet.LENGTH})


@pytest.mark.parametrize(
    ("gauge", "apart"),
    [
        # 22 stitches, category 3, go with 3.75 to 4.5 mm; 10 % on the log scale is worth a look.
        (a_band_gauge(22, mm=3.4), 0),
        (a_band_gauge(22, mm=3.38), log(3.75 / 3.38)),
        (a_band_gauge(22, mm=4.97), 0),
        (a_band_gauge(22, mm=5.0), log(5 / 4.5)),
        # Of a range of tools the nearer end counts, and of a range of gauges both categories.
        (BandGauge(22, 22, None, 5.0, 6.0), log(5 / 4.5)),
        (BandGauge(22, 22, None, 2.5, 3.0), log(3.75 / 3)),
        (BandGauge(20, 22, None, 5.5, 5.5), 0),
        (BandGauge(20, 22, None, 6.5, None), log(6.5 / 5.5)),
    ],
)
def test_a_tool_beside_its_gauge(gauge: BandGauge, apart: float) -> None:
    found = labelled(gauge=gauge).get("tool_against_gauge")
    assert (found is not None) is (apart > 0)
    if found is not None:
        assert found.apart == pytest.approx(apart)
        assert (found.gravity, found.facets) == (Gravity.UNUSUAL, {Facet.TOOL, Facet.GAUGE})


def test_a_tool_beside_its_gauge_is_said_with_both() -> None:
    ranged = BandGauge(22, 22, None, 6.0, 7.0)
    assert labelled(gauge=ranged)["tool_against_gauge"].message.values == {
        "stitches_st": 22,
        "tool_mm": 6.5,
        "from_mm": 3.75,
        "to_mm": 4.5,
    }
    # Standard Yarn Weight System: 6 stitches and fewer want 12.75 mm and more.
    jumbo = labelled("jumbo", 45, gauge=a_band_gauge(5, mm=8.0))["tool_under_gauge"]
    assert jumbo.message.values == {"stitches_st": 5, "tool_mm": 8.0, "from_mm": 12.75}
    assert "tool_under_gauge" not in labelled("jumbo", 45, gauge=a_band_gauge(5, mm=25.0))


def test_what_the_band_leaves_out() -> None:
    assert labelled(gauge=None, metres_per_100g=None).keys() >= {"no_length", "no_gauge"}
    found = labelled(gauge=a_band_gauge(22), metres_per_100g=None)
    assert found["no_length"].facets == {Facet.LENGTH}
    assert "no_gauge" not in found
    by_count = labelled(None, None, count=YarnCount("5", "Nm"))
    assert "no_length" not in by_count
    assert by_count["no_gauge"].facets == {Facet.GAUGE}
    hooked = labelled(gauge=None, crochet_gauge=a_band_gauge(14))
    assert "no_gauge" not in hooked
