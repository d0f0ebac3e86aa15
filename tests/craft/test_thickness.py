import pytest

from shopdesk.craft.thickness import (
    diameter_mm,
    gauge_from_length,
    wraps_from_length,
    wraps_per_inch,
)
from shopdesk.reference.tables import constant

COTTON_COUNT_TEX = 590.5412
# Peirce (1937) has a specific volume of 1.1 cm3/g for cotton, whose fibre weighs 1.52 g/cm3.
PACKING_OF_COTTON = 1 / (1.1 * 1.52)


@pytest.mark.parametrize("count", [16, 32, 80])
def test_cotton_is_as_thick_as_peirce_has_it(count: int) -> None:
    # Peirce (1937): the diameter of cotton is 1/(28 root Ne) inch.
    found = diameter_mm(COTTON_COUNT_TEX / count, 1.52, PACKING_OF_COTTON)
    assert found == pytest.approx(25.4 / (28 * count**0.5), rel=0.01)


def test_cotton_32s_lie_as_taylor_lays_them() -> None:
    # J. T. Taylor, Cotton Weaving and Designing: 32s cotton -> 156 threads per inch.
    assert 25.4 / diameter_mm(COTTON_COUNT_TEX / 32, 1.52, PACKING_OF_COTTON) == pytest.approx(
        156, rel=0.02
    )


def test_diameter_of_a_metre_cube_worth() -> None:
    # A cylinder 1 km long and 1 mm2 across holds 1000 cm3: at 1 g/cm3 that is 1000 tex.
    assert diameter_mm(1000, 1.0, 1.0) == pytest.approx(2 / 3.14159265**0.5)


@pytest.mark.parametrize(("wraps", "inches", "each"), [(46, 2, 23), (11, 1, 11), (11, 0.5, 22)])
def test_wraps_are_counted_over_any_length(wraps: float, inches: float, each: float) -> None:
    assert wraps_per_inch(wraps, inches) == each


@pytest.mark.parametrize(("wraps", "inches"), [(0, 1), (11, 0)])
def test_no_wraps_and_no_length_give_no_wraps_per_inch(wraps: float, inches: float) -> None:
    with pytest.raises(ValueError, match="must be above 0"):
        wraps_per_inch(wraps, inches)


@pytest.mark.parametrize(
    ("wraps", "shortest", "longest"),
    [(14, 340, 480), (11, 200, 260), (9, 130, 220), (7, 85, 130)],
)
def test_wraps_model_meets_the_usual_single_values(
    wraps: float, shortest: float, longest: float
) -> None:
    # Wraps and metres per 100 g of fingering, DK, worsted, bulky: common practice, no source.
    assert wraps_from_length(shortest).low <= wraps <= wraps_from_length(longest).high


def test_wraps_constant_and_its_spread_are_as_fitted() -> None:
    # Derived from spinners' tables: 0.79, range 0.73 to 0.82, one reading within 15 %.
    found = constant("thickness_models", "wraps_constant")
    assert (found.value, found.low, found.high) == (0.79, 0.73, 0.82)
    figure = wraps_from_length(10000 / 100, 1.31)
    assert (figure.value, figure.low, figure.high) == pytest.approx((7.9, 6.715, 9.085))


@pytest.mark.parametrize(
    ("metres", "density", "label"),
    [(250, 1.31, 22), (220, 1.52, 22), (295, 1.19, 22), (420, 1.28, 28), (200, 1.31, 20)],
)
def test_first_guess_at_gauge_holds_usual_labels(
    metres: float, density: float, label: float
) -> None:
    # Usual labels of wool, cotton and acrylic DK, sock yarn and worsted: common practice.
    guess = gauge_from_length(metres, density)
    assert guess is not None
    assert guess.low <= label <= guess.high


def test_first_guess_at_gauge_is_as_fitted() -> None:
    # Derived from spinners' tables: 1.40 root of m/100 g, within 10 %, for 150-450 m/100 g only.
    guess = gauge_from_length(225, 1.31)
    assert guess is not None
    assert (guess.value, guess.low, guess.high) == pytest.approx((21, 18.9, 23.1))


@pytest.mark.parametrize(
    ("metres", "known"), [(149, False), (150, True), (450, True), (451, False)]
)
def test_no_guess_outside_the_fit(metres: float, known: bool) -> None:
    assert (gauge_from_length(metres, 1.31) is not None) is known


def test_an_unknown_density_widens_the_interval_and_says_so() -> None:
    known, unknown = wraps_from_length(230, 1.31), wraps_from_length(230)
    assert unknown.low < known.low < known.high < unknown.high
    assert [note.code for note in unknown.notes] == ["amount.density_unknown"]


def test_the_wool_density_and_the_extremes_are_the_fibre_tables() -> None:
    # Morton and Hearle, Table 5.1: wool 1.31, acrylic 1.19, cotton 1.52 g/cm3.
    found = constant("thickness_models", "wool_density")
    assert (found.value, found.low, found.high) == (1.31, 1.19, 1.52)


def test_nothing_is_guessed_from_nothing() -> None:
    with pytest.raises(ValueError, match="metres_per_100g"):
        gauge_from_length(0)
    with pytest.raises(ValueError, match="density"):
        wraps_from_length(200, 0)


def test_an_unknown_density_lies_between_acrylic_and_cotton() -> None:
    # 0.79 x root(100) = 7.9, 15 % either way, and the root of 1.19 and 1.52 over 1.31.
    found = wraps_from_length(100)
    assert found.value == pytest.approx(7.9)
    assert (found.low, found.high) == pytest.approx(
        (7.9 * 0.85 * 0.953099, 7.9 * 1.15 * 1.077178), rel=1e-5
    )
    guess = gauge_from_length(225)
    assert guess is not None
    assert (guess.low, guess.high) == pytest.approx(
        (21 * 0.9 * 0.953099, 21 * 1.1 * 1.077178), rel=1e-5
    )
    assert [note.code for note in guess.notes] == [
        "amount.gauge_from_length",
        "amount.density_unknown",
    ]
