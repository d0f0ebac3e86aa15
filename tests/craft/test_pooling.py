from math import exp, log, sqrt

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shopdesk.craft.figures import Basis, Figure
from shopdesk.craft.pooling import stitches_on
from shopdesk.craft.swatch import pooled_stitches
from shopdesk.craft.yarn import Craft, Measurement
from shopdesk.reference.tables import constant
from tests.factories import a_swatch, a_wraps

LABEL = Figure(22, 21, 23, Basis.LABEL)
gauges = st.floats(8, 36)


def pooled(stitches: list[float], prior: Figure | None = None) -> Figure:
    found = pooled_stitches([a_swatch(count) for count in stitches], prior)
    assert found is not None
    return found


def width(figure: Figure) -> float:
    return figure.high - figure.low


def test_one_swatch_is_a_draw_of_students_t() -> None:
    # Student's t with 4 degrees of freedom, 95th percentile 2.132: any table of the distribution.
    one_hand = sqrt(
        constant("swatch_models", "between_hands").value ** 2
        + constant("gauge_models", "gauge_reading").value ** 2
    )
    found = pooled([22])
    assert found.value == pytest.approx(22)
    assert log(found.high / 22) / one_hand == pytest.approx(2.132, rel=0.01)
    assert log(22 / found.low) / one_hand == pytest.approx(2.132, rel=0.01)


def a_band(centre: float) -> Figure:
    return Figure(centre, centre * 0.95, centre * 1.04, Basis.LABEL)


@given(
    centre=gauges,
    shares=st.lists(st.floats(-0.04, 0.04), max_size=8),
    inside=st.floats(0, 1),
    with_band=st.booleans(),
)
def test_evidence_that_agrees_never_widens_the_interval(
    centre: float, shares: list[float], inside: float, with_band: bool
) -> None:
    band = a_band(centre) if with_band else None
    counts = [centre] + [centre * (1 + share) for share in shares]
    before = pooled(counts, band)
    again = before.low + inside * (before.high - before.low)
    assert width(pooled([*counts, again], band)) <= width(before) * 1.0001


@given(centre=gauges, shares=st.lists(st.floats(-0.35, 0.5), max_size=8), with_band=st.booleans())
def test_a_swatch_that_confirms_the_value_never_widens_even_a_quarrel(
    centre: float, shares: list[float], with_band: bool
) -> None:
    band = a_band(centre) if with_band else None
    counts = [centre] + [centre * (1 + share) for share in shares]
    before = pooled(counts, band)
    assert width(pooled([*counts, before.value], band)) <= width(before) * 1.0001


@given(centre=gauges, half=st.floats(0.055, 0.2), inside=st.floats(-1, 1))
def test_a_swatch_within_the_bands_interval_narrows_it(
    centre: float, half: float, inside: float
) -> None:
    # A band is granted no less than the spread of its table value, about 5 % with one swatch.
    band = Figure(centre, centre * (1 - half), centre * (1 + half), Basis.LABEL)
    assert width(pooled([centre * (1 + inside * half)], band)) < width(band)


def test_more_swatches_narrow_as_the_root_of_their_number() -> None:
    # Sixteen times the evidence halves the standard error twice.
    assert width(pooled([22.0] * 32)) == pytest.approx(width(pooled([22.0] * 2)) / 4, rel=0.15)


@pytest.mark.parametrize("stray", [30, 12, 44])
def test_an_outlier_hardly_moves_it_and_is_named(stray: float) -> None:
    agreeing = [22, 22.3, 21.8, 22.1, 22, 21.9]
    without, with_stray = pooled(agreeing), pooled([*agreeing, stray])
    assert with_stray.value == pytest.approx(without.value, abs=0.15)
    assert width(with_stray) < 1.25 * width(without)
    assert [note.code for note in with_stray.notes] == ["swatch.pooled", "swatch.outlier"]
    assert with_stray.notes[1].values["got_st"] == pytest.approx(stray)
    assert [note.code for note in without.notes] == ["swatch.pooled"]


def test_the_shops_swatches_outrank_the_band() -> None:
    assert pooled([24], LABEL).value > 23
    assert pooled([24, 24, 24], LABEL).value > 23.5
    assert pooled([24], LABEL).basis is Basis.SHOP


@given(st.lists(gauges, min_size=1, max_size=6), st.randoms())
def test_the_order_of_swatches_makes_no_difference(counts: list[float], order: object) -> None:
    shuffled = list(counts)
    order.shuffle(shuffled)  # type: ignore[attr-defined]
    one, other = pooled(counts), pooled(shuffled)
    assert (one.low, one.value, one.high) == (other.low, other.value, other.high)


def test_one_hand_counts_once() -> None:
    one_hand = [a_swatch(22, by="first counter") for _ in range(5)]
    five_hands = [a_swatch(22, by=f"counter {number}") for number in range(5)]
    alone, together = pooled_stitches(one_hand), pooled_stitches(five_hands)
    assert alone is not None
    assert together is not None
    assert width(together) < 0.6 * width(alone)
    assert width(alone) < width(pooled([22]))


def test_customers_are_different_hands_whoever_wrote_it_down() -> None:
    noted = [a_swatch(22, by="counter", from_customer=True) for _ in range(4)]
    found = pooled_stitches(noted)
    assert found is not None
    assert width(found) == pytest.approx(width(pooled([22] * 4)))


def test_another_tool_is_allowed_for() -> None:
    moved = pooled_stitches([a_swatch(20, mm=5.0)], at_tool_mm=4.0)
    same = pooled_stitches([a_swatch(20, mm=4.0)], at_tool_mm=4.0)
    assert moved is not None
    assert same is not None
    assert moved.value > 20
    assert same.value == pytest.approx(20)
    assert width(moved) / moved.value > width(same) / same.value


def test_an_unwashed_swatch_counts_for_less() -> None:
    unwashed = pooled_stitches([a_swatch(22, washed=False)])
    assert unwashed is not None
    assert width(unwashed) > width(pooled([22]))


@pytest.mark.parametrize(
    "useless",
    [
        a_wraps(),
        a_swatch(22, stitch_pattern="garter"),
        a_swatch(14, craft=Craft.CROCHET),
    ],
)
def test_what_is_no_stockinette_swatch_changes_nothing(useless: Measurement) -> None:
    assert pooled_stitches([useless], LABEL) is LABEL
    assert pooled_stitches([useless]) is None


def test_crochet_swatches_are_pooled_by_themselves() -> None:
    swatches = [a_swatch(14, craft=Craft.CROCHET, stitch_pattern="single crochet"), a_swatch(22)]
    found = pooled_stitches(swatches, craft=Craft.CROCHET)
    assert found is not None
    assert found.value == pytest.approx(14)


def test_absurd_counts_still_give_an_interval() -> None:
    found = pooled([1, 2000, 22, 22])
    assert found.low < 22 < found.high
    assert found.value == pytest.approx(22, rel=0.02)


def test_swatches_of_one_slip_are_one_hand_unless_knitters_are_named() -> None:
    tries = [a_swatch(22, from_customer=True, slip_number=7) for _ in range(4)]
    named = [a_swatch(22, from_customer=True, slip_number=7, hand=who) for who in "abcd"]
    one, four = pooled_stitches(tries), pooled_stitches(named)
    assert one is not None
    assert four is not None
    assert width(one) > 1.5 * width(four)
    assert width(four) == pytest.approx(width(pooled([22] * 4)))


# The 95th percentile of Student's t with 4 degrees of freedom is 2.1318 (any table of it). The
# spreads are of swatch_models.csv: 2.5 % between hands, 2 % for one reading, 3 % unwashed. The
# faint ends of the tails are left off, so that ends lie 0.3 % nearer.
T95 = 2.1318


def above(found: Figure | None) -> float:
    """How far the upper end is off on the log scale, in percentiles of t."""
    assert found is not None
    return log(found.high / found.value) / T95


def test_one_hand_is_as_sure_as_its_spreads_are() -> None:
    # As squares: 6.25 + 4 = 10.25, and 9 more if it was not washed.
    assert above(pooled([22])) == pytest.approx(0.0320156, rel=5e-3)
    unwashed = pooled_stitches([a_swatch(22, washed=False)])
    assert above(unwashed) == pytest.approx(0.0438748, rel=5e-3)
    washed = pooled_stitches([a_swatch(22, washed=True)])
    assert above(washed) == pytest.approx(0.0320156, rel=5e-3)


def test_a_swatch_on_another_tool_is_moved_and_less_sure() -> None:
    # Stitches go with mm to the power -0.5, and the power is known from 0.33 to 0.80, a quarter
    # of which is one standard deviation: 0.1175 x log(5/4) = 2.622 %.
    found = pooled_stitches([a_swatch(20, mm=5.0)], at_tool_mm=4.0)
    assert found is not None
    assert found.value == pytest.approx(20 * 1.25**0.5, rel=1e-4)
    assert above(found) == pytest.approx((6.25e-4 + 4e-4 + 0.0262192**2) ** 0.5, rel=5e-3)
    smaller = pooled_stitches([a_swatch(20, mm=4.0)], at_tool_mm=5.0)
    assert smaller is not None
    assert smaller.value == pytest.approx(20 / 1.25**0.5, rel=1e-4)
    assert above(smaller) == pytest.approx(above(found), rel=1e-3)


def test_two_readings_of_one_hand_are_averaged_before_hands_are() -> None:
    # 2.5 % of the hand, and of two readings 2 % over the root of two: 6.25 + 2.
    found = pooled_stitches([a_swatch(22, by="one"), a_swatch(22, by="one")])
    assert above(found) == pytest.approx(8.25e-4**0.5, rel=5e-3)


def a_prior(spread: float) -> Figure:
    """An interval that is 5 to 95 % of a spread of so many percent."""
    return Figure(22, 22 * exp(-spread * T95), 22 * exp(spread * T95), Basis.LABEL)


def test_what_a_band_says_is_granted_no_less_than_4_5_percent() -> None:
    exact, granted = pooled([22], Figure(22, 22, 22, Basis.LABEL)), pooled([22], a_prior(0.045))
    assert width(granted) == pytest.approx(width(exact), rel=1e-4)
    assert width(pooled([22], a_prior(0.0455))) > width(exact) * 1.0005
    # Below and above apart: what may be far lower draws the lower end only.
    skewed = pooled([22], Figure(22, 22 * exp(-0.2 * T95), 22, Basis.LABEL))
    assert skewed.low < exact.low * 0.999
    assert skewed.high == pytest.approx(exact.high, rel=5e-3)
    other = pooled([22], Figure(22, 22, 22 * exp(0.2 * T95), Basis.LABEL))
    assert other.high > exact.high * 1.001


@pytest.mark.parametrize(("stray", "named"), [(24.0, 1), (24.5, 2), (20.1, 1), (19.7, 2)])
def test_a_swatch_is_far_off_from_three_standard_deviations(stray: float, named: int) -> None:
    # Of 22: 3 x 3.2 % on the log scale is 24.2 and 20.0.
    found = pooled([22.0] * 40 + [stray])
    assert len(found.notes) == named
    assert found.notes[0].values == {"count": 41}


unasked_shares = st.lists(st.floats(-0.15, 0.15), min_size=1, max_size=6)


@given(centre=gauges, shares=unasked_shares)
def test_swatches_that_came_back_unasked_never_narrow_the_interval(
    centre: float, shares: list[float]
) -> None:
    """They are mostly those that were off: the share either way stays that of the band."""
    band = a_band(centre)
    unasked = [a_swatch(centre * (1 + share), from_customer=True) for share in shares]
    found = pooled_stitches(unasked, band)
    assert found is not None
    # A band is granted no less than the spread of its table value.
    finest = exp(constant("swatch_models", "prior_at_best").value * 2.1318)
    assert found.high / found.low == pytest.approx(finest**2, rel=0.01)
    assert found.low < found.value < found.high


@given(centre=gauges, shares=unasked_shares)
def test_those_asked_for_narrow_it_as_the_shops_own_do(centre: float, shares: list[float]) -> None:
    band = a_band(centre)
    counts = [centre * (1 + share) for share in shares]
    asked = [a_swatch(count, from_customer=True, asked_for=True) for count in counts]
    assert pooled_stitches(asked, band) == pooled(counts, band)


def test_unasked_ones_move_the_value_and_are_named() -> None:
    found = pooled_stitches([a_swatch(24, from_customer=True) for _ in range(3)], LABEL)
    assert found is not None
    assert found.value == pytest.approx(pooled([24] * 3, LABEL).value)
    assert [note.code for note in found.notes][:2] == ["swatch.pooled", "swatch.unasked"]
    assert found.notes[1].values["count"] == 3


def test_beside_others_unasked_ones_leave_the_others_width() -> None:
    ours = [a_swatch(22, by=f"counter {number}") for number in range(4)]
    unasked = [a_swatch(22.3, from_customer=True) for _ in range(5)]
    alone, beside = pooled_stitches(ours), pooled_stitches([*ours, *unasked])
    assert alone is not None
    assert beside is not None
    assert beside.high / beside.low == pytest.approx(alone.high / alone.low)


def test_stitches_on_another_tool_and_without_one() -> None:
    swatch = a_swatch(20, mm=5.0)
    assert stitches_on(swatch, 5.0) == pytest.approx(20)
    assert stitches_on(swatch, None) == pytest.approx(20)
    assert stitches_on(swatch, 4.0) > 20
    with pytest.raises(ValueError, match="no stitches"):
        stitches_on(a_wraps(), 4.0)
