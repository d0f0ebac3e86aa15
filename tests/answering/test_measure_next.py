"""What to measure next, and what to expect of it if the band is right."""

from typing import Any

import pytest

from shopdesk.answering.label.label_findings import Facet, Gravity, LabelFinding, MeasureKind
from shopdesk.answering.label.measure_next import measure_next
from shopdesk.answering.profile.profile import shelf_profile
from shopdesk.craft.messages import message
from shopdesk.craft.yarn import BandGauge, ShelfYarn, YarnCount
from tests.factories import a_band_gauge, a_label, a_swatch, a_weighing, a_wraps, a_yarn

WEIGH, WRAP, SWATCH, READ = MeasureKind


def finding(*facets: Facet, gravity: Gravity = Gravity.BAND) -> LabelFinding:
    return LabelFinding(message("label_check.no_care"), gravity, frozenset(facets))


def steps(yarn: ShelfYarn, *found: LabelFinding) -> dict[MeasureKind, Any]:
    told = measure_next(yarn, shelf_profile(yarn), found)
    assert len({step.kind for step in told}) == len(told)
    return {step.kind: (step.message.code, dict(step.message.values)) for step in told}


@pytest.mark.parametrize(
    ("facet", "kinds"),
    [
        (Facet.LENGTH, [WEIGH, WRAP]),
        (Facet.NAME, [WRAP, SWATCH]),
        (Facet.GAUGE, [WRAP, SWATCH]),
        (Facet.WRAPS, [WRAP]),
        (Facet.TOOL, [SWATCH]),
        (Facet.FIBRE, [READ]),
        (Facet.CARE, [READ]),
    ],
)
def test_what_settles_a_finding(facet: Facet, kinds: list[MeasureKind]) -> None:
    assert list(steps(a_yarn(), finding(facet))) == kinds
    assert steps(a_yarn()) == {}


def test_what_was_measured_is_not_asked_for_again() -> None:
    every = finding(Facet.LENGTH, Facet.NAME, Facet.GAUGE)
    measured = (a_weighing(10, 4.4), a_swatch(22), a_wraps(11))
    assert steps(a_yarn(measurements=measured), every) == {}
    assert list(steps(a_yarn(measurements=measured[:2]), every)) == [WRAP]
    assert list(steps(a_yarn(measurements=measured[1:]), every)) == [WEIGH]
    assert list(steps(a_yarn(measurements=measured[::2]), every)) == [SWATCH]


@pytest.mark.parametrize(("readings", "again"), [(1, True), (2, True), (3, False), (4, False)])
def test_wraps_in_question_are_read_three_times(readings: int, again: bool) -> None:
    yarn = a_yarn(measurements=(a_wraps(11),) * readings)
    assert (WRAP in steps(yarn, finding(Facet.WRAPS))) is again


def test_a_measured_contradiction_of_one_thing_asks_to_read_the_band_again() -> None:
    read = {READ: ("label_check.read_band", {})}
    yarn = a_yarn(measurements=(a_weighing(10, 4.4), a_swatch(22), a_wraps(11)))
    one = finding(Facet.LENGTH, gravity=Gravity.MEASURED)
    two = finding(Facet.LENGTH, Facet.NAME, gravity=Gravity.MEASURED)
    assert steps(yarn, one) == read
    assert steps(yarn, two) == {}
    assert steps(yarn, finding(Facet.LENGTH)) == {}
    assert steps(yarn, two, one) == read


def test_what_to_expect_of_weighing() -> None:
    length = finding(Facet.LENGTH)
    # 225 m per 100 g: 10 m weigh 4.444 g, less and more 4 %: 4.267 to 4.622.
    expected = {"metres": 10, "low": 4.3, "high": 4.6}
    assert steps(a_yarn(), length)[WEIGH] == ("label_check.weigh", expected)
    # Nm 5: 10 m weigh 2 g.
    coned = a_yarn(label=a_label(None, None, count=YarnCount("5", "Nm")))
    expected = {"metres": 10, "low": 1.9, "high": 2.1}
    assert steps(coned, length)[WEIGH] == ("label_check.weigh", expected)
    bare = a_yarn(label=a_label(None, None))
    assert steps(bare, length)[WEIGH] == ("label_check.weigh_any", {"metres": 10})


def test_what_to_expect_of_wrapping() -> None:
    # 0.79 x root(225) = 11.85 wraps, less and more 15 %, of wool of 1.31 g/cm3: 10.1 to 13.6.
    assert steps(a_yarn(), finding(Facet.WRAPS))[WRAP] == (
        "label_check.wrap",
        {"low": 10, "high": 14},
    )
    # Where the fibre is unknown from acrylic, 1.19, to cotton, 1.52: 9.6 to 14.7.
    unknown = a_yarn(label=a_label(fibres=""))
    assert steps(unknown, finding(Facet.WRAPS))[WRAP] == (
        "label_check.wrap",
        {"low": 10, "high": 15},
    )
    bare = a_yarn(label=a_label(None, None))
    assert steps(bare, finding(Facet.WRAPS))[WRAP] == ("label_check.wrap_any", {})


@pytest.mark.parametrize(
    ("gauge", "expected"),
    [
        (a_band_gauge(22, mm=4.1), ("label_check.swatch_one", {"tool_mm": 4.0, "said_st": 22})),
        (
            BandGauge(20, 22, None, 4.0, 5.0),
            ("label_check.swatch", {"tool_mm": 4.5, "low_st": 20, "high_st": 22}),
        ),
        (a_band_gauge(22, mm=None), ("label_check.swatch_any", {})),
        (None, ("label_check.swatch_any", {})),
    ],
)
def test_what_to_expect_of_a_swatch(gauge: BandGauge | None, expected: Any) -> None:
    yarn = a_yarn(label=a_label(gauge=gauge))
    assert steps(yarn, finding(Facet.TOOL))[SWATCH] == expected
