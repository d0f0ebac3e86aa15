"""What no swatch can be, with room for everything that hands do make."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shopdesk.craft.fabric import metres_per_m2
from shopdesk.craft.swatch import Gauge, WeighedSwatch
from shopdesk.craft.swatch_limits import (
    fits_on,
    grams_by_yarn,
    grams_per_m2,
    mass_can_be,
    mass_can_be_of,
    rows_can_be,
)
from shopdesk.craft.yarn import Craft


@pytest.mark.parametrize(
    ("stitches", "rows", "pattern", "craft"),
    [
        # Munden (1959): 5.5 courses for 4.2 wales, 3.8 for 5.0; labels of the trade 1.27 to 1.45.
        (4.2, 5.5, "stockinette", Craft.KNIT),
        (22, 30, "stockinette", Craft.KNIT),
        (20, 20, "stockinette", Craft.KNIT),
        (22, 44, "stockinette", Craft.KNIT),
        # Garter has about two rows to a stitch; common practice.
        (20, 40, "garter", Craft.KNIT),
        (20, 12, "lace", Craft.KNIT),
        (16, 18, "single crochet", Craft.CROCHET),
        # Tall stitches; US treble of the trade's patterns: 16 stitches and 5 rows to 10 cm.
        (16, 5, "other", Craft.CROCHET),
        (22, None, "stockinette", Craft.KNIT),
    ],
)
def test_what_hands_make_is_taken(
    stitches: float, rows: float | None, pattern: str, craft: Craft
) -> None:
    assert rows_can_be(Gauge(stitches, rows), craft, pattern)


@pytest.mark.parametrize(
    ("rows", "pattern", "craft"),
    [
        (3, "stockinette", Craft.KNIT),
        (21, "stockinette", Craft.KNIT),
        (45, "stockinette", Craft.KNIT),
        (10, "garter", Craft.KNIT),
        (90, "garter", Craft.KNIT),
        (3, "single crochet", Craft.CROCHET),
        (60, "single crochet", Craft.CROCHET),
    ],
)
def test_22_stitches_do_not_stand_on_so_many_rows(rows: float, pattern: str, craft: Craft) -> None:
    assert not rows_can_be(Gauge(22, rows), craft, pattern)


@given(st.floats(4, 40), st.floats(1.27, 1.45))
def test_every_usual_label_is_possible(stitches: float, ratio: float) -> None:
    # facts of labels: rows over stitches 1.27 to 1.45.
    assert rows_can_be(Gauge(stitches, stitches * ratio), Craft.KNIT, "stockinette")


@pytest.mark.parametrize(
    ("over", "side", "fits"), [(10, 15, True), (10, 10, True), (10.3, 10, True), (10.4, 10, False)]
)
def test_nothing_is_counted_over_more_than_there_is(over: float, side: float, fits: bool) -> None:
    # A side is measured to 0.3 cm; judgement.
    assert fits_on(over, side) is fits


@pytest.mark.parametrize(
    ("grams", "possible"), [(0.2, False), (0.3, True), (10, True), (112, True), (113, False),
                            (900, False)]
)  # fmt: skip
def test_15_cm_square_weigh_something_between_lace_and_rope(grams: float, possible: bool) -> None:
    # 225 cm2: 10 g on the square metre are 0.225 g, 5000 g are 112.5 g.
    assert mass_can_be(WeighedSwatch(grams, 15, 15)) is possible


def test_grams_of_a_square_metre() -> None:
    assert grams_per_m2(WeighedSwatch(900, 15, 15)) == pytest.approx(40_000)
    with pytest.raises(ValueError, match="width_cm"):
        grams_per_m2(WeighedSwatch(9, 0, 15))


def test_what_a_swatch_weighs_in_its_yarn() -> None:
    # By definition of tex: metres of a tenth of 15 x 15 cm at 22 x 30, in 400 tex.
    found = grams_by_yarn(WeighedSwatch(1, 15, 15), 400, Gauge(22, 30), "stockinette")
    assert found.value == pytest.approx(metres_per_m2(22, 30) * 0.0225 * 0.4)
    assert found.value == pytest.approx(10.7, abs=0.1)
    with pytest.raises(ValueError, match="tex"):
        grams_by_yarn(WeighedSwatch(1, 15, 15), 0, Gauge(22, 30), "stockinette")


@pytest.mark.parametrize(
    ("grams", "possible"), [(3.3, False), (3.4, True), (10, True), (30, True), (30.1, False)]
)
def test_a_swatch_weighs_a_third_to_three_times_what_its_yarn_does(
    grams: float, possible: bool
) -> None:
    assert mass_can_be_of(WeighedSwatch(grams, 15, 15), 10) is possible
