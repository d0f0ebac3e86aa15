import pytest
from hypothesis import given
from hypothesis import strategies as st

from shopdesk.craft.figures import Basis, Figure, exactly, product, spread
from shopdesk.craft.messages import message

shares = st.floats(0, 0.9)


def test_a_value_outside_its_interval_is_refused() -> None:
    with pytest.raises(ValueError, match="outside"):
        Figure(3, 1, 2, Basis.LABEL)


def test_errors_of_a_product_add_as_squares() -> None:
    # Two independent errors of 3 % and 4 % make 5 %: the 3-4-5 triangle.
    found = product(Basis.ESTIMATE, spread(10, 0.03, Basis.LABEL), spread(2, 0.04, Basis.LABEL))
    assert (found.low, found.value, found.high) == pytest.approx((19, 20, 21))


@given(one=shares, two=shares)
def test_a_product_is_less_sure_than_any_factor(one: float, two: float) -> None:
    first, second = spread(5, one, Basis.LABEL), spread(3, two, Basis.LABEL)
    found = product(Basis.ESTIMATE, first, second)
    assert 0 <= found.low <= 15 * (1 - max(one, two)) + 1e-9
    assert found.high >= 15 * (1 + max(one, two)) - 1e-9


def test_an_exact_factor_only_scales() -> None:
    found = product(Basis.LABEL, spread(10, 0.1, Basis.LABEL), exactly(3))
    assert (found.low, found.value, found.high) == pytest.approx((27, 30, 33))


def test_notes_are_kept_once() -> None:
    note = message("amount.density_unknown")
    figure = Figure(1, 1, 1, Basis.LABEL, (note,))
    assert product(Basis.ESTIMATE, figure, figure).notes == (note,)


@pytest.mark.parametrize(
    ("low", "high", "meets"),
    [(1, 2, True), (0, 1, True), (3, 4, True), (0, 9, True), (3.1, 4, False), (0, 0.9, False)],
)
def test_intervals_that_share_a_value_overlap(low: float, high: float, meets: bool) -> None:
    one, other = Figure(2, 1, 3, Basis.LABEL), Figure(low, low, high, Basis.LABEL)
    assert one.overlaps(other) is meets
    assert other.overlaps(one) is meets


def test_a_product_of_what_may_be_nothing_may_be_nothing() -> None:
    found = product(Basis.LABEL, Figure(1, 0, 2, Basis.LABEL), Figure(1, 0, 2, Basis.LABEL))
    assert (found.low, found.value) == (0, 1)
    assert found.high == pytest.approx(1 + 2**0.5)


def test_a_scaled_figure_keeps_its_basis_and_notes() -> None:
    note = message("amount.density_unknown")
    found = Figure(2, 1, 4, Basis.PATTERN, (note,)).scaled(3)
    assert found == Figure(6, 3, 12, Basis.PATTERN, (note,))
    assert exactly(3) == Figure(3, 3, 3, Basis.ESTIMATE)
    wide = spread(100, 0.25, Basis.LABEL, note)
    assert wide == Figure(100, 75, 125, Basis.LABEL, (note,))
