"""What a swatch changes, for any gauge: properties that no published table is needed for."""

from decimal import Decimal

from hypothesis import given
from hypothesis import strategies as st

from shopdesk.answering.judging.companions import held_alone
from shopdesk.answering.model.ask import StitchPattern
from shopdesk.answering.profile.profile import shelf_profile
from shopdesk.answering.swatch.swatch_effects import SwatchCase, swatch_result
from shopdesk.answering.swatch.swatch_reading import MeasuredSwatch
from shopdesk.answering.swatch.swatch_result import OwnGauge, SwatchResult, TakenLine
from shopdesk.craft.figures import Basis
from shopdesk.craft.items import Measurements
from shopdesk.craft.swatch import Fit, Gauge
from shopdesk.craft.yarn import PutUp
from tests.factories import a_yarn, an_ask

gauges = st.floats(8, 40)
changes = st.floats(1.03, 1.5)
HELD = held_alone(shelf_profile(a_yarn()))


def result(
    stitches: float, rows: float, got: tuple[float, float | None], skeins: int = 11
) -> SwatchResult:
    """Returns what a swatch says of a pullover of 100 cm that takes 1000 m in balls of 112.5 m."""
    ask = an_ask(
        stitches,
        rows,
        measurements=Measurements(chest_cm=100),
        size_names=("S", "M", "L"),
        chosen_size="M",
        size_chests_cm=(90.0, 100.0, 110.0),
    )
    line = TakenLine("main", "T-1", skeins, PutUp(50, 112.5))
    case = SwatchCase(ask, (line,), HELD, Decimal(10), OwnGauge(None, None))
    swatch = MeasuredSwatch(Gauge(*got), 10.0, StitchPattern.STOCKINETTE, True, 4.0)
    return swatch_result(case, swatch)


@given(gauges, gauges)
def test_a_swatch_equal_to_the_pattern_changes_nothing(stitches: float, rows: float) -> None:
    same = result(stitches, rows, (stitches, rows))
    assert same.fit is Fit.RIGHT
    assert same.measure is not None
    assert abs(same.measure.finished_cm - 100) < 1e-9
    assert same.tool is not None
    assert same.tool.made_mm == 4.0
    assert (same.other_size, same.rows, same.trust) == (None, (), ())
    # 1000 m and 10 % are 1100 m: ten balls of 112.5 m.
    assert same.parts[0].skeins_needed == 10
    assert same.parts[0].said.code == "swatch.still_enough"


@given(gauges, gauges, changes)
def test_tighter_is_smaller_and_takes_more_yarn_looser_the_reverse(
    stitches: float, rows: float, change: float
) -> None:
    tight = result(stitches, rows, (stitches * change, rows * change))
    loose = result(stitches, rows, (stitches / change, rows / change))
    assert (tight.fit, loose.fit) == (Fit.TIGHT, Fit.LOOSE)
    assert tight.measure is not None
    assert loose.measure is not None
    assert tight.measure.finished_cm < 100 < loose.measure.finished_cm
    tight_m, loose_m = tight.parts[0].plan_m, loose.parts[0].plan_m
    assert tight_m is not None
    assert loose_m is not None
    assert loose_m < 1037.5 < tight_m


@given(gauges, gauges, changes)
def test_firmness_is_never_surer_than_the_yarns_thickness(
    stitches: float, rows: float, change: float
) -> None:
    found = result(stitches, rows, (stitches * change, None)).firmness
    assert found is not None
    assert found.now.low < found.now.value < found.now.high
    assert found.now.basis is not Basis.SHOP


@given(gauges, gauges, changes)
def test_one_skein_short_is_one_skein_more(stitches: float, rows: float, change: float) -> None:
    needed = result(stitches, rows, (stitches * change, rows)).parts[0].skeins_needed
    assert needed is not None
    short = result(stitches, rows, (stitches * change, rows), skeins=needed - 1).parts[0]
    assert short.said.code == "swatch.more_skeins"
    assert short.said.values["count"] == 1
