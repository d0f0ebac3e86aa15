import pytest
from hypothesis import given
from hypothesis import strategies as st

from shopdesk.answering.model.ask import StitchPattern
from shopdesk.craft.fabric import (
    UnknownFabric,
    grams_per_m2,
    loop_mm,
    metres_per_m2,
    pattern_fabric,
    pattern_metres_per_m2,
    volume_cover,
)

gauges = st.floats(6, 40)


def test_loop_length_of_washed_wool() -> None:
    # Munden, J. Text. Inst. 50 (1959) T448, wet-relaxed wool: kc 5.3, kw 4.1, to one decimal, so
    # loops of 5 mm lie 10.6 courses and 8.2 wales to the cm.
    assert loop_mm(82, 106) == pytest.approx(5, rel=0.005)


def test_gate_2015_question_54() -> None:
    # GATE Textile Engineering 2015, Q54: kc 5.5, kw 4.2, loop 0.5 cm -> 92 loops per cm2, fully
    # relaxed. In a fabric that has only been washed, as close loops are shorter by their ks.
    assert loop_mm(84, 110) == pytest.approx(5 * (21.6 / (5.5 * 4.2)) ** 0.5)


@given(stitches=gauges, rows=gauges)
def test_half_the_loop_lies_twice_as_close_both_ways(stitches: float, rows: float) -> None:
    assert loop_mm(2 * stitches, 2 * rows) == pytest.approx(loop_mm(stitches, rows) / 2)


@pytest.mark.parametrize(
    ("per_inch", "rows_ratio"), [(5.5, 30 / 22), (4.5, 25 / 18), (5, 1.35), (3.5, 1.38)]
)
def test_rectangle_rule_is_about_a_tenth_above_the_model(
    per_inch: float, rows_ratio: float
) -> None:
    # Rectangle rule L x W x g/6 yards, inches: common practice, no source. It allows for ends
    # and edges; the model is net, and the rule is known to lie 9 to 11 % above it.
    stitches = per_inch / 0.254
    square_inch_m2 = 0.0254**2
    model_yards = metres_per_m2(stitches, stitches * rows_ratio) * square_inch_m2 / 0.9144
    assert 9 <= round(100 * (per_inch / 6 / model_yards - 1)) <= 11


def test_plain_machine_knits_have_cover_13_to_15() -> None:
    # Usual range of Munden's cover factor, root tex over cm, for plain machine knits.
    assert 13 <= volume_cover(20, 1, 3.2) <= 15


def test_hand_knits_at_label_gauge_have_cover_about_11() -> None:
    # A usual DK label, 22 x 30 and 240 m/100 g: common practice, no source.
    assert volume_cover(100000 / 240, 1, loop_mm(22, 30)) == pytest.approx(11, abs=0.5)


def test_firmness_by_volume_is_the_same_for_equal_thickness() -> None:
    # Same thickness means the same tex over density: wool 1.31, cotton 1.52 g/cm3.
    wool, cotton = volume_cover(393, 1.31, 18), volume_cover(456, 1.52, 18)
    assert wool == pytest.approx(cotton, rel=0.001)


def test_mass_per_area_is_length_per_area_times_tex() -> None:
    # 1 tex is 1 g in 1000 m by definition.
    loop = loop_mm(22, 30)
    assert grams_per_m2(22, 30, loop, 400) == pytest.approx(metres_per_m2(22, 30) * 0.4)


@pytest.mark.parametrize("pattern", list(StitchPattern))
def test_every_stitch_pattern_of_an_ask_is_known(pattern: StitchPattern) -> None:
    figure = pattern_metres_per_m2(pattern.value, 18, 25)
    assert 0 < figure.low <= figure.value <= figure.high
    assert pattern_fabric(pattern.value).multiplier.low > 0


def test_stockinette_is_the_measure_of_all() -> None:
    assert pattern_fabric("stockinette").multiplier.value == 1
    assert pattern_metres_per_m2("stockinette", 22, 30).value == metres_per_m2(22, 30)


@pytest.mark.parametrize("measured", [1.35, 1.46])
def test_garter_interval_holds_the_two_measured_swatches(measured: float) -> None:
    # Two measured garter swatches against stockinette, and the usual 1.4.
    figure = pattern_fabric("garter").multiplier
    assert figure.value == 1.4
    assert figure.low <= measured <= figure.high


@pytest.mark.parametrize(
    ("pattern", "value", "low", "high"),
    [
        # 1x1 rib measured relaxed; crochet from few swatches; the others judged from memory.
        ("rib", 1.35, 1.3, 1.4),
        ("single crochet", 1.4, 1.2, 1.6),
        ("half double crochet", 1.27, 1.2, 1.35),
        ("double crochet", 1.18, 1.1, 1.3),
        ("stranded", 1.25, 1.2, 1.3),
        ("seed", 1.2, 1.15, 1.25),
        ("cables", 1.22, 1.15, 1.3),
        ("lace", 0.85, 0.8, 0.9),
        ("brioche", 1.5, 1.4, 1.6),
        ("openwork crochet", 0.95, 0.75, 1.15),
        ("other", 1.1, 0.8, 1.6),
    ],
)
def test_multiplier_is_as_recorded(pattern: str, value: float, low: float, high: float) -> None:
    figure = pattern_fabric(pattern).multiplier
    assert (figure.value, figure.low, figure.high) == (value, low, high)


def test_judged_multipliers_say_so() -> None:
    (judged,) = pattern_fabric("lace").multiplier.notes
    assert judged.code == "amount.multiplier_judged"
    assert pattern_fabric("rib").multiplier.notes[0].code == "amount.multiplier_few_swatches"
    assert pattern_fabric("stockinette").multiplier.notes == ()


def test_rib_counted_in_rib_is_not_multiplied_twice() -> None:
    # A rib draws in: its own count is higher than stockinette's of the same yarn, so at equal
    # counts a rib takes little more than stockinette, and its interval says that.
    rib = pattern_metres_per_m2("rib", 24, None)
    assert rib.low < metres_per_m2(24, 24 * 1.35) < rib.high


def test_unknown_names_are_refused() -> None:
    with pytest.raises(UnknownFabric, match="waffle"):
        pattern_fabric("waffle")


# Munden's 21.6 makes 10 x root(21.6 x stitches x rows) m in 1 m2; with 1.35 rows for a stitch that
# is 54 m for each stitch per 10 cm: 1080 m at 20. Rows are 1.27 to 1.45 for a stitch, which moves
# the length by root(1.27/1.35) = 0.96992 and root(1.45/1.35) = 1.03638.
FEWEST_ROWS, MOST_ROWS = 0.96992, 1.03638


@pytest.mark.parametrize(
    ("pattern", "value", "low", "high"),
    [
        # The multiplier over the width of the stitches; its ends, and those of the width.
        ("stockinette", 1, 1, 1),
        ("garter", 1.4, 1.35, 1.4 / 0.95),
        ("rib", 1.35 / 1.3, 1.35 / 1.7, 1.35 / 1.1),
        ("seed", 1.2 / 0.98, 1.15 / 0.98, 1.2 / 0.92),
        ("cables", 1.22 / 1.2, 1.22 / 1.3, 1.22 / 1.1),
        ("lace", 0.85 / 0.85, 0.85 / 0.95, 0.85 / 0.75),
        ("stranded", 1.25 / 1.03, 1.25 / 1.08, 1.3 / 1.03),
        ("brioche", 1.5 / 0.8, 1.5 / 0.9, 1.5 / 0.7),
        ("single crochet", 1.4 / 0.7, 1.2 / 0.7, 1.6 / 0.7),
        ("half double crochet", 1.27 / 0.68, 1.27 / 0.78, 1.27 / 0.6),
        ("double crochet", 1.18 / 0.66, 1.18 / 0.76, 1.18 / 0.58),
        ("openwork crochet", 0.95 / 0.6, 0.75 / 0.6, 1.15 / 0.6),
        ("other", 1.1 / 0.95, 0.8 / 0.95, 1.6 / 0.95),
    ],
)
def test_yarn_in_a_square_metre_of_each_pattern(
    pattern: str, value: float, low: float, high: float
) -> None:
    found = pattern_metres_per_m2(pattern, 20, None)
    assert found.value == pytest.approx(1080 * value)
    assert found.low == pytest.approx(1080 * low * FEWEST_ROWS, rel=1e-4)
    assert found.high == pytest.approx(1080 * high * MOST_ROWS, rel=1e-4)


@pytest.mark.parametrize(
    ("pattern", "widths"),
    [
        ("garter", (0.95, 1.0)), ("rib", (1.1, 1.7)), ("seed", (0.92, 1.0)),
        ("cables", (1.1, 1.3)), ("lace", (0.75, 0.95)), ("stranded", (1.0, 1.08)),
        ("brioche", (0.7, 0.9)), ("single crochet", (0.62, 0.8)), ("other", (0.7, 1.3)),
        ("half double crochet", (0.6, 0.78)), ("double crochet", (0.58, 0.76)),
        ("openwork crochet", (0.5, 0.75)), ("stockinette", (1, 1)),
    ],
)  # fmt: skip
def test_how_much_narrower_or_wider_stitches_of_a_pattern_may_be(
    pattern: str, widths: tuple[float, float]
) -> None:
    # Common practice and judgement; what is tight draws in.
    figure = pattern_fabric(pattern).width_ratio
    assert (figure.low, figure.high) == widths


def test_stockinette_of_counted_rows_has_no_doubt_and_says_nothing() -> None:
    found = pattern_metres_per_m2("stockinette", 20, 27)
    assert (found.low, found.value, found.high) == pytest.approx((1080, 1080, 1080))
    assert found.notes == ()
    guessed = pattern_metres_per_m2("stockinette", 20, None)
    assert [note.code for note in guessed.notes] == ["amount.rows_guessed"]
    assert [note.code for note in pattern_metres_per_m2("lace", 20, None).notes] == [
        "amount.multiplier_judged"
    ]
