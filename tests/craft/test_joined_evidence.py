"""Several pieces of evidence taken as one figure."""

from math import exp, log

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shopdesk.craft.figures import Basis, Figure
from shopdesk.craft.joined_evidence import joined
from shopdesk.craft.messages import message

NORMAL_95TH = 1.6449
"""The standard normal's 95th percentile, from tables."""
TENTH = 0.1
"""One scale, on the log scale, of a piece that is `about` a value."""


def about(value: float, scale: float = TENTH, *, basis: Basis = Basis.ESTIMATE) -> Figure:
    """Returns a piece whose 5th and 95th percentile lie 1.6449 scales off."""
    share = exp(NORMAL_95TH * scale)
    return Figure(value, value / share, value * share, basis)


def half_width(figure: Figure) -> float:
    """Returns half of the interval in scales of `TENTH`, on the log scale."""
    return log(figure.high / figure.low) / 2 / NORMAL_95TH / TENTH


def likeliest(pieces: list[Figure]) -> float:
    """Returns the value with the highest product of Student's t of 4 degrees, to a 20,000th."""
    low, high = (log(end(one.value for one in pieces)) for end in (min, max))
    grid = [low + (high - low) * step / 20_000 for step in range(20_001)]

    def log_density(x: float) -> float:
        offs = [
            (x - log(one.value)) / (log(one.high / one.low) / 2 / NORMAL_95TH) for one in pieces
        ]
        return -2.5 * sum(log(1 + off * off / 4) for off in offs)

    return exp(max(grid, key=log_density))


pieces_of_evidence = st.builds(about, st.floats(8, 40), st.floats(0.02, 0.3))
several = st.lists(pieces_of_evidence, min_size=1, max_size=6)


def test_no_evidence_is_no_figure() -> None:
    with pytest.raises(ValueError, match="no evidence"):
        joined([], Basis.ESTIMATE)


def test_one_piece_is_left_as_it_is() -> None:
    skewed = Figure(22, 21, 27, Basis.LABEL, (message("amount.gauge_from_length"),))
    found = joined([skewed], Basis.PATTERN, message("profile.weighed_length"))
    assert (found.low, found.value, found.high, found.basis) == (21, 22, 27, Basis.PATTERN)
    assert [note.code for note in found.notes] == [
        "profile.weighed_length",
        "amount.gauge_from_length",
    ]


def test_what_is_said_of_the_pieces_is_kept_once() -> None:
    length, name = message("amount.gauge_from_length"), message("profile.gauge_from_name")
    pieces = [Figure(20, 18, 22, Basis.ESTIMATE, (note,)) for note in (length, name, length)]
    found = joined(pieces, Basis.PATTERN, message("profile.weighed_length"))
    assert [note.code for note in found.notes] == [
        "profile.weighed_length",
        "amount.gauge_from_length",
        "profile.gauge_from_name",
    ]
    assert found.basis is Basis.PATTERN


@pytest.mark.parametrize(
    ("pieces", "width"),
    [
        # Of n pieces that agree each weighs 5/4 of one over its scale squared, so that together
        # they are as sure as the root of 4/5n of one.
        (2, (4 / 10) ** 0.5),
        (3, (4 / 15) ** 0.5),
        (5, (4 / 25) ** 0.5),
    ],
)
def test_pieces_that_agree_are_surer_together(pieces: int, width: float) -> None:
    found = joined([about(20)] * pieces, Basis.ESTIMATE)
    assert found.value == pytest.approx(20)
    assert half_width(found) == pytest.approx(width)


def test_pieces_that_disagree_meet_in_the_middle_and_are_less_sure() -> None:
    # One scale off the middle each weighs 5/(4 + 1), one: the two are as sure as the root of 1/2,
    # and their being apart adds 1/2: as sure as one of them alone.
    found = joined([about(20 * exp(TENTH)), about(20 / exp(TENTH))], Basis.ESTIMATE)
    assert found.value == pytest.approx(20)
    assert half_width(found) == pytest.approx(1)
    # A scale and a half off each weighs 5/(4 + 2.25), 0.8: 1/1.6, and 2.25/2 for being apart.
    found = joined([about(20 * exp(0.15)), about(20 / exp(0.15))], Basis.ESTIMATE)
    assert found.value == pytest.approx(20, rel=1e-3)
    assert half_width(found) == pytest.approx((1 / 1.6 + 2.25 / 2) ** 0.5, rel=1e-3)


def test_the_surer_piece_draws_more() -> None:
    # Close together, pieces count by one over their scale squared, nearly: 4 to 1.
    found = joined([about(20, 0.1), about(21, 0.2)], Basis.ESTIMATE)
    assert log(found.value / 20) / log(21 / 20) == pytest.approx(1 / 5, abs=0.005)


def test_a_mistyped_piece_moves_little() -> None:
    # 44 in place of 22, 7 scales off: its weight is 5/(4 + 48) where the others' is 5/4 each.
    agreeing = [about(22)] * 3
    found = joined([*agreeing, about(44)], Basis.ESTIMATE)
    assert 22 < found.value < 22.7
    assert half_width(found) > half_width(joined(agreeing, Basis.ESTIMATE))


@given(several)
def test_the_joint_value_lies_between_the_pieces_and_in_its_interval(pieces: list[Figure]) -> None:
    found = joined(pieces, Basis.ESTIMATE)
    values = [piece.value for piece in pieces]
    assert min(values) * (1 - 1e-9) <= found.value <= max(values) * (1 + 1e-9)
    assert 0 < found.low < found.value < found.high


@given(several, st.randoms())
def test_the_order_of_pieces_makes_no_difference(pieces: list[Figure], random: object) -> None:
    found = joined(pieces, Basis.ESTIMATE)
    shuffled = list(pieces)
    random.shuffle(shuffled)  # type: ignore[attr-defined]
    other = joined(shuffled, Basis.ESTIMATE)
    assert (other.low, other.value, other.high) == pytest.approx(
        (found.low, found.value, found.high)
    )


@given(several, st.floats(0.1, 10))
def test_the_unit_makes_no_difference(pieces: list[Figure], factor: float) -> None:
    found = joined(pieces, Basis.ESTIMATE).scaled(factor)
    other = joined([piece.scaled(factor) for piece in pieces], Basis.ESTIMATE)
    assert (other.low, other.value, other.high) == pytest.approx(
        (found.low, found.value, found.high), rel=1e-6
    )


@given(
    centres=st.lists(st.floats(20, 22), min_size=3, max_size=6),
    scale=st.floats(0.05, 0.2),
    far=st.floats(3, 100) | st.floats(0.01, 0.3),
)
def test_one_piece_far_off_moves_the_others_by_less_than_half_a_scale(
    centres: list[float], scale: float, far: float
) -> None:
    # A piece 5 scales off or more pulls by 5 x 5/(4 + 25), 0.86, at most; each of three and more
    # that agree pulls back by up to 5/4 for each scale.
    agreeing = [about(centre, scale) for centre in centres]
    before, after = (
        joined(agreeing, Basis.ESTIMATE),
        joined([*agreeing, about(21 * far, scale)], Basis.ESTIMATE),
    )
    assert abs(log(after.value / before.value)) < scale / 2


@given(
    centres=st.lists(st.floats(19.5, 22), min_size=2, max_size=5),
    scales=st.lists(st.floats(0.1, 0.3), min_size=5, max_size=5),
)
def test_the_joint_value_is_the_likeliest_of_heavy_tailed_pieces(
    centres: list[float], scales: list[float]
) -> None:
    # All lie within a scale or so of each other, where there is one likeliest value.
    pieces = [about(*each) for each in zip(centres, scales, strict=False)]
    assert joined(pieces, Basis.ESTIMATE).value == pytest.approx(likeliest(pieces), rel=1e-4)


def test_of_two_pieces_that_disagree_the_surer_one_is_nearer() -> None:
    # 13.5 to a fiftieth, 21 to four fiftieths, on the log scale.
    sure, unsure = about(13.5, 0.02), about(21, 0.08)
    middle = joined([sure, unsure], Basis.ESTIMATE).value
    assert middle / 13.5 < 21 / middle


def test_turning_every_piece_over_turns_the_result_over() -> None:
    pieces = [about(20, 0.06), about(30, 0.06)]
    turned = [about(1 / one.value, 0.06) for one in pieces]
    assert joined(turned, Basis.ESTIMATE).value == pytest.approx(
        1 / joined(pieces, Basis.ESTIMATE).value
    )
