import pytest
from hypothesis import given
from hypothesis import strategies as st

from shopdesk.craft.gauge import (
    count_for,
    length_same_counts,
    length_same_size,
    per_10cm,
    rows_guess,
    size_same_counts_cm,
    tool_mm_for,
)

CM_PER_INCH = 2.54
gauges = st.floats(4, 45)
sizes = st.floats(5, 200)


def test_22_stitches_over_4_inches() -> None:
    # 4 in are 10.16 cm by definition.
    assert per_10cm(22, 101.6) == pytest.approx(21.65, abs=0.005)


def test_160_stitches_at_4_5_and_3_per_inch() -> None:
    # Worked textbook example: 160 stitches are 40, 32 and 53 1/3 in.
    for inches, per_inch in ((40, 4), (32, 5), (53 + 1 / 3, 3)):
        assert count_for(inches * CM_PER_INCH, per_inch / 0.254) == pytest.approx(160)


def test_22_against_20_stitches_turns_40_into_44_inches() -> None:
    # Worked textbook example of a gauge that is off.
    assert size_same_counts_cm(40 * CM_PER_INCH, 22, 20) == pytest.approx(44 * CM_PER_INCH)


@given(cm=sizes, gauge=gauges, other=gauges)
def test_the_count_for_one_gauge_gives_another_size_at_the_other(
    cm: float, gauge: float, other: float
) -> None:
    other_cm = size_same_counts_cm(cm, gauge, other)
    assert count_for(other_cm, other) == pytest.approx(count_for(cm, gauge))


@given(stitches=gauges, rows=gauges, length=st.floats(10, 5000))
def test_the_same_gauge_changes_nothing(stitches: float, rows: float, length: float) -> None:
    same = (stitches, rows, stitches, rows)
    assert length_same_size(length, *same) == pytest.approx(length)
    assert length_same_counts(length, *same) == pytest.approx(length)
    assert size_same_counts_cm(length, stitches, stitches) == pytest.approx(length)


@given(stitches=gauges, rows=gauges, tighter=st.floats(1.01, 1.5))
def test_tighter_takes_more_for_the_same_size_and_less_for_the_same_counts(
    stitches: float, rows: float, tighter: float
) -> None:
    gauge_change = (stitches, rows, stitches * tighter, rows * tighter)
    assert length_same_size(1000, *gauge_change) > 1000
    assert length_same_counts(1000, *gauge_change) < 1000
    assert size_same_counts_cm(100, stitches, stitches * tighter) < 100


def test_rows_count_as_well_as_stitches() -> None:
    assert length_same_size(1000, 20, 27, 20, 30) > length_same_size(1000, 20, 27, 20, 27)


def test_unknown_rows_change_as_the_stitches_do() -> None:
    assert length_same_size(1000, 20, None, 22, None) == pytest.approx(1100)
    assert length_same_size(1000, 20, 28, 22, None) == pytest.approx(1100)


@pytest.mark.parametrize(("stitches", "rows"), [(22, 30), (20, 27), (18, 25), (28, 36)])
def test_rows_guess_holds_usual_labels(stitches: float, rows: float) -> None:
    # Gauges usual on bands: common practice, no source.
    guess = rows_guess(stitches)
    assert guess.low <= rows <= guess.high
    assert guess.notes[0].code == "amount.rows_guessed"


@pytest.mark.parametrize("step_mm", [0.25, 0.5])
def test_one_made_size_moves_a_dk_gauge_by_about_a_stitch(step_mm: float) -> None:
    # Common practice, no source: one needle size, 0.25 to 0.5 mm, is about one stitch in 10 cm.
    for wanted, step in ((21, step_mm), (23, -step_mm)):
        start = tool_mm_for(4.0, 22, wanted)
        assert start.low <= 4.0 + step <= start.high


@given(mm=st.floats(2, 10), stitches=gauges)
def test_a_gauge_that_is_right_keeps_the_tool(mm: float, stitches: float) -> None:
    start = tool_mm_for(mm, stitches, stitches)
    assert start.value == pytest.approx(mm)
    assert start.high - start.low < 0.1 * mm


@given(known=gauges, more=st.floats(0.1, 10))
def test_more_stitches_wanted_means_a_smaller_tool(known: float, more: float) -> None:
    assert tool_mm_for(4, known, known + more).value < 4 < tool_mm_for(4, known + more, known).value


def test_a_gauge_far_off_is_said() -> None:
    assert [note.code for note in tool_mm_for(4, 22, 15).notes][1:] == ["amount.tool_far"]
    assert len(tool_mm_for(4, 22, 21).notes) == 1


@pytest.mark.parametrize("bad", [0, -1, float("nan")])
def test_impossible_gauges_are_refused_by_name(bad: float) -> None:
    with pytest.raises(ValueError, match="per_10cm"):
        count_for(10, bad)
    with pytest.raises(ValueError, match="rows1"):
        length_same_size(100, 20, bad, 20, 27)
    with pytest.raises(ValueError, match="over_mm"):
        per_10cm(22, bad)


def test_a_misread_gauge_widens_the_tool_where_the_gauge_is_right() -> None:
    # With the gauge that is wanted, only the reading is unsure: 2 % of it either way, and
    # stitches go with mm to the power -0.5, so mm with the square: 4 x 0.98^2 to 4 x 1.02^2.
    found = tool_mm_for(4.0, 22, 22)
    assert (found.low, found.high) == pytest.approx((4 * 0.9604, 4 * 1.0404))


def test_an_unsure_exponent_widens_the_tool_where_the_gauge_is_off() -> None:
    # 24 stitches known, 20 wanted: 4 mm x 1.2^2 = 5.76 mm; with the powers 0.33 and 0.80 of
    # common practice 4 x 1.2^(1/0.33) = 6.950 and 4 x 1.2^(1/0.8) = 5.024 mm.
    found = tool_mm_for(4.0, 24, 20)
    assert found.value == pytest.approx(5.76)
    assert (found.low, found.high) == pytest.approx((5.024, 6.950), abs=0.001)


def test_rows_are_guessed_from_1_27_to_1_45_for_a_stitch() -> None:
    # Usual labels have 1.35; Munden's kc over kw gives 1.29 to 1.32.
    found = rows_guess(20)
    assert (found.low, found.value, found.high) == pytest.approx((25.4, 27, 29))
    assert found.notes[0].values == {"rows_st": pytest.approx(27)}


@pytest.mark.parametrize(
    ("known", "far"), [(23.9, False), (24.1, True), (16.1, False), (15.9, True)]
)
def test_moving_the_tool_says_little_beyond_a_fifth(known: float, far: bool) -> None:
    found = tool_mm_for(4, known, 20)
    assert [note.code for note in found.notes][1:] == (["amount.tool_far"] if far else [])
    assert found.notes[0].values == {"known_mm": 4, "known_st": known}
    if far:
        assert found.notes[1].values == {"known_st": known, "wanted_st": 20}
