import pytest
from hypothesis import given
from hypothesis import strategies as st

from shopdesk.craft.figures import Basis, Figure, spread
from shopdesk.craft.strands import (
    combined_stitches,
    combined_tex,
    combined_value,
    partner_value,
)

COTTON_COUNT_TEX = 590.5412


def a_gauge(stitches: float) -> Figure:
    return spread(stitches, 0.05, Basis.LABEL)


def exactly(stitches: float) -> Figure:
    return Figure(stitches, stitches, stitches, Basis.LABEL)


strands = st.lists(st.floats(6, 40).map(a_gauge), min_size=1, max_size=4)


def test_taylor_60s_and_40s_folded_are_24s() -> None:
    # J. T. Taylor, Cotton Weaving and Designing: 60s and 40s cotton folded together -> 24s.
    tex = combined_tex([COTTON_COUNT_TEX / 60, COTTON_COUNT_TEX / 40])
    assert COTTON_COUNT_TEX / tex == pytest.approx(24)


def test_two_equal_strands_by_theory_and_by_practice() -> None:
    # Theory: root of one half. Guild practice: 0.72 to 0.73.
    two = combined_stitches([exactly(100), exactly(100)])
    assert two.value == pytest.approx(100 / 2**0.5)
    assert two.low == pytest.approx(67)
    assert two.high == pytest.approx(73)


def test_two_strands_of_fingering_make_about_dk_to_worsted() -> None:
    # Common practice, no source: two strands of fingering (28) work up near 20 stitches.
    two = combined_stitches([exactly(28), exactly(28)])
    assert two.low <= 20 <= two.high


def test_adding_diameters_would_be_wrong() -> None:
    assert combined_stitches([a_gauge(28), a_gauge(28)]).low > 28 / 2


@given(strands)
def test_the_order_of_strands_makes_no_difference(figures: list[Figure]) -> None:
    there, back = combined_stitches(figures), combined_stitches(figures[::-1])
    assert (there.low, there.value, there.high) == (back.low, back.value, back.high)


@given(strands, st.floats(6, 40).map(a_gauge))
def test_another_strand_always_lowers_the_gauge(figures: list[Figure], another: Figure) -> None:
    assert combined_stitches([*figures, another]).value < combined_stitches(figures).value


def test_a_lace_strand_beside_a_thick_one_changes_little() -> None:
    alone, carried = a_gauge(16), combined_stitches([a_gauge(16), a_gauge(36)])
    assert 0.88 * alone.value < carried.value < alone.value


def test_one_strand_is_itself_and_none_is_refused() -> None:
    figure = a_gauge(22)
    assert combined_stitches([figure]) is figure
    with pytest.raises(ValueError, match="strand"):
        combined_tex([])
    with pytest.raises(ValueError, match="strand"):
        combined_tex([100, 0])


@given(strands)
def test_the_value_alone_is_that_of_the_figure(figures: list[Figure]) -> None:
    assert combined_value([one.value for one in figures]) == combined_stitches(figures).value


@given(st.floats(6, 40), st.floats(6, 40))
def test_the_partner_of_a_strand_is_found_back(one: float, other: float) -> None:
    together = combined_value([one, other])
    assert partner_value(together, one) == pytest.approx(other)


@given(st.floats(6, 40), st.floats(0, 10))
def test_no_partner_makes_a_strand_finer(one: float, more: float) -> None:
    assert partner_value(one + more, one) is None
