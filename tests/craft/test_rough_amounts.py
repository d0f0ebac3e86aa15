"""Rough guides by the usual put-up and gauge of a weight: both ends are kept."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shopdesk.craft.figures import Basis, Figure, spread
from shopdesk.craft.rough_amounts import (
    agreed,
    rough_by_gauge,
    rough_from_balls,
    rough_from_mass,
    usual_put_up,
)
from shopdesk.craft.weights import categories
from shopdesk.craft.yarn import Craft

WEIGHTS = [found.number for found in categories()]


# Common practice: 200 to 260 m in 100 g of DK, 130 to 220 of worsted and aran, balls of 50 and
# 100 g; lace 480 m and more, jumbo 50 m and fewer.
def test_usual_put_ups_are_those_of_the_weight() -> None:
    dk = usual_put_up(3)
    assert (dk.grams_low, dk.grams_high) == (50, 100)
    assert (dk.metres_per_100g_low, dk.metres_per_100g_high) == (200, 260)
    assert usual_put_up(0).metres_per_100g_low == 480
    assert usual_put_up(7).metres_per_100g_high == 50
    for number in WEIGHTS:
        found = usual_put_up(number)
        assert 0 < found.grams_low < found.grams_high
        assert 0 < found.metres_per_100g_low < found.metres_per_100g_high
    with pytest.raises(KeyError):
        usual_put_up(8)


@pytest.mark.parametrize(
    ("balls", "weights", "low", "high"),
    [
        (8, [3], 7 * 100, 8 * 260),
        (2.5, [3], 2 * 100, 2.5 * 260),
        # One ball may be hardly begun: at least half of the smallest.
        (1, [3], 50, 260),
        # Of two weights the ends of both: from 50 g of worsted to 100 g of DK.
        (8, [3, 4], 7 * 65, 8 * 260),
    ],
)
def test_balls_of_unknown_size(balls: float, weights: list[int], low: float, high: float) -> None:
    found = rough_from_balls(balls, weights)
    assert found is not None
    assert (found.low, found.high) == pytest.approx((low, high))
    assert found.value / found.low == pytest.approx(found.high / found.value)
    assert found.basis is Basis.ESTIMATE
    [said] = found.notes
    assert said.code == "amount.usual_ball"


@given(balls=st.integers(2, 30), weight=st.sampled_from(WEIGHTS))
def test_a_usual_ball_of_any_size_lies_in_the_guide(balls: int, weight: int) -> None:
    found, usual = rough_from_balls(balls, [weight]), usual_put_up(weight)
    assert found is not None
    for grams in (usual.grams_low, usual.grams_high):
        for metres in (usual.metres_per_100g_low, usual.metres_per_100g_high):
            assert found.low <= balls * grams * metres / 100 <= found.high * (1 + 1e-9)


def test_grams_of_unknown_length() -> None:
    found = rough_from_mass(400, [3])
    assert found is not None
    assert (found.low, found.high) == pytest.approx((800, 1040))
    assert [note.code for note in found.notes] == ["amount.usual_length_of"]


def test_no_weight_no_guide() -> None:
    assert rough_from_balls(8, []) is None
    assert rough_from_mass(400, []) is None
    assert (
        rough_by_gauge([], Craft.KNIT, lambda stitches: spread(stitches, 0.1, Basis.SHOP)) is None
    )


@pytest.mark.parametrize("nothing", [0, -1])
def test_nothing_is_no_amount(nothing: float) -> None:
    with pytest.raises(ValueError, match="balls"):
        rough_from_balls(nothing, [3])
    with pytest.raises(ValueError, match="grams"):
        rough_from_mass(nothing, [3])


# Craft Yarn Council: DK 21 to 24 stitches or 12 to 17 single crochet; jumbo 6 and fewer.
@pytest.mark.parametrize(
    ("weight", "craft", "fewest", "most"),
    [(3, Craft.KNIT, 21, 24), (3, Craft.CROCHET, 12, 17), (7, Craft.KNIT, 6, 6)],
)
def test_the_usual_gauge_of_a_weight(weight: int, craft: Craft, fewest: float, most: float) -> None:
    found = rough_by_gauge([weight], craft, lambda stitches: spread(stitches, 0.0, Basis.SHOP))
    assert found is not None
    assert (found.low, found.high) == pytest.approx((fewest, most))
    assert found.value == pytest.approx((fewest + most) / 2)
    assert found.basis is Basis.ESTIMATE
    [said] = found.notes
    assert (said.values["low_st"], said.values["high_st"]) == (fewest, most)


def test_what_cannot_be_told_at_a_gauge_stays_unknown() -> None:
    assert rough_by_gauge([3], Craft.KNIT, lambda _: None) is None


def figure(low: float, value: float, high: float) -> Figure:
    return Figure(value, low, high, Basis.ESTIMATE)


@pytest.mark.parametrize(
    ("guide", "item", "kept"),
    [
        ((700, 1200, 2080), (840, 1120, 1400), (840, 1120, 1400)),
        ((700, 1200, 2080), (500, 600, 800), (700, 700, 800)),
        ((700, 1200, 2080), (2000, 2500, 3000), (2000, 2080, 2080)),
        # What does not meet cannot both be right: the pattern's balls are kept.
        ((700, 1200, 2080), (100, 200, 300), (700, 1200, 2080)),
    ],
)
def test_guide_and_item_keep_what_both_allow(
    guide: tuple[float, float, float],
    item: tuple[float, float, float],
    kept: tuple[float, float, float],
) -> None:
    found = agreed(figure(*guide), figure(*item))
    assert (found.low, found.value, found.high) == kept
    assert agreed(figure(*guide), None) == figure(*guide)
