"""Swatches beside what was stated: counted, averaged, and their spread."""

import statistics
from math import hypot

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shopdesk.craft.deviations import Calibration, Deviation, calibration_of, reckoned_spread
from shopdesk.craft.figures import Basis, Figure
from shopdesk.reference.tables import constant

STATED = Figure(20, 19, 22, Basis.LABEL)


def deviations(*stitches: float) -> list[Deviation]:
    return [Deviation(count, STATED, True) for count in stitches]


@pytest.mark.parametrize(
    ("stitches", "share", "inside"),
    [(20, 0, True), (19, -0.05, True), (22, 0.1, True), (18.9, -0.055, False), (23, 0.15, False)],
)
def test_a_swatch_lies_in_the_stated_range_or_beside_it(
    stitches: float, share: float, inside: bool
) -> None:
    [one] = deviations(stitches)
    assert (one.share, one.inside) == (pytest.approx(share), inside)


def test_no_swatch_says_nothing_and_one_has_no_spread() -> None:
    assert calibration_of([]) is None
    assert calibration_of(deviations(21)) == Calibration(1, 1, pytest.approx(0.05), None)


@given(st.lists(st.floats(10, 40), min_size=2, max_size=30))
def test_mean_and_spread_are_those_of_a_sample(stitches: list[float]) -> None:
    """Against the standard library's own mean and sample standard deviation."""
    found = calibration_of(deviations(*stitches))
    shares = [count / 20 - 1 for count in stitches]
    assert found is not None
    assert found.count == len(stitches)
    assert found.inside == sum(19 <= count <= 22 for count in stitches)
    assert found.mean_share == pytest.approx(statistics.mean(shares), abs=1e-9)
    assert found.spread_share == pytest.approx(statistics.stdev(shares), abs=1e-9)


def test_the_shop_reckons_with_one_hand_and_one_reading() -> None:
    one_hand = constant("swatch_models", "between_hands").value
    assert reckoned_spread() == hypot(one_hand, constant("gauge_models", "gauge_reading").value)
