"""A swatch as typed becomes figures per 10 cm, or every problem in it is named by its field."""

from contextlib import suppress

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shopdesk.answering.model.ask import StitchPattern
from shopdesk.answering.swatch.swatch_reading import (
    MeasuredSwatch,
    SwatchEntry,
    read_swatch,
)
from shopdesk.craft.errors import InputErrors
from shopdesk.craft.swatch import WeighedSwatch
from shopdesk.craft.yarn import Craft


def read(stitches: str = "22", craft: Craft = Craft.KNIT, **typed: str) -> MeasuredSwatch:
    usual = StitchPattern.STOCKINETTE if craft is Craft.KNIT else StitchPattern.SINGLE_CROCHET
    return read_swatch(SwatchEntry(stitches, **typed), craft, usual)


def wrong_fields(**typed: str) -> list[str]:
    with pytest.raises(InputErrors) as refused:
        read(**typed)
    return [problem.place for problem in refused.value.problems]


@pytest.mark.parametrize(
    ("stitches", "over", "per_10cm"),
    [
        ("22", "10 cm", 22.0),
        ("22 1/2", "10", 22.5),
        ("22½", "100 mm", 22.5),
        ("11,25", "5 cm", 22.5),
        # 1 in = 2.54 cm exactly.
        ("5 1/2", "1 in", 5.5 / 2.54 * 10),
        ("22", '4"', 22 / 10.16 * 10),
    ],
)
def test_any_length_and_any_fraction(stitches: str, over: str, per_10cm: float) -> None:
    assert read(stitches, over=over).gauge.stitches == pytest.approx(per_10cm)


def test_rows_may_be_counted_over_another_length() -> None:
    swatch = read("22", rows="15", rows_over="2 in")
    assert swatch.gauge.rows == pytest.approx(15 / 5.08 * 10)
    assert swatch.over_cm == pytest.approx(5.08)


def test_a_tool_is_kept_in_mm() -> None:
    # US 6 is 4.0 mm in the needle table of the Craft Yarn Council's standards.
    assert read(tool="6", tool_system="US").tool_mm == 4.0


def test_a_weighed_swatch_has_its_sides_and_grams() -> None:
    # 1 oz = 28.349523125 g exactly (international yard and pound agreement, 1959).
    swatch = read(width="6 in", height="15", mass="1/2 oz")
    assert swatch.weighed == WeighedSwatch(
        pytest.approx(28.349523125 / 2), pytest.approx(15.24), pytest.approx(15)
    )
    assert read(width="15", height="15").weighed is None


@pytest.mark.parametrize(
    ("typed", "field"),
    [
        ({"stitches": ""}, "stitches"),
        ({"stitches": "about 22"}, "stitches"),
        ({"stitches": "-3"}, "stitches"),
        ({"stitches": "0"}, "stitches"),
        ({"stitches": "22", "over": "1 mile"}, "over"),
        ({"stitches": "22", "over": "1 mm"}, "over"),
        ({"stitches": "900"}, "stitches"),
        ({"rows": "x"}, "rows"),
        ({"rows": "30", "rows_over": "0 cm"}, "rows_over"),
        ({"tool": "99"}, "tool"),
        ({"tool": "4", "tool_system": "yards"}, "tool"),
        ({"washed": "perhaps"}, "washed"),
        ({"width": "15 g"}, "width"),
        ({"height": "9000"}, "height"),
        ({"mass": "6 cm", "width": "15", "height": "15"}, "mass"),
        ({"mass": "9000 kg", "width": "15", "height": "15"}, "mass"),
        ({"width": "8", "height": "15", "mass": "3"}, "over"),
        ({"rows": "30", "width": "15", "height": "9.6"}, "over"),
        ({"rows": "30", "rows_over": "12", "width": "15", "height": "11"}, "rows_over"),
        ({"rows": "30", "width": "8", "height": "8"}, "over"),
        ({"hand": "x" * 61}, "hand"),
        ({"stitch_pattern": "knots"}, "stitch_pattern"),
        ({"stitch_pattern": "single crochet"}, "stitch_pattern"),
    ],
)
def test_a_bad_field_is_named_alone(typed: dict[str, str], field: str) -> None:
    assert wrong_fields(**typed) == [field]


def test_rows_that_were_not_counted_need_no_height() -> None:
    assert read(width="12", height="5", mass="3").height_cm == 5


def test_every_problem_is_found_at_once() -> None:
    assert wrong_fields(stitches="x", rows="y", tool="z", mass="6") == [
        "stitches", "rows", "width", "height", "tool",
    ]  # fmt: skip


def test_crochet_has_its_own_stitches() -> None:
    assert read(craft=Craft.CROCHET).stitch_pattern is StitchPattern.SINGLE_CROCHET


@given(st.text(max_size=30), st.text(max_size=12), st.text(max_size=12))
def test_whatever_is_typed_is_read_or_refused(stitches: str, over: str, tool: str) -> None:
    with suppress(InputErrors):
        assert 1 <= read(stitches, over=over, tool=tool).gauge.stitches <= 120
