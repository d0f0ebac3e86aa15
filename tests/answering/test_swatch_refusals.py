"""A swatch that cannot be is asked back, under the field that is likely wrong."""

from typing import Any

import pytest

from shopdesk.answering.model.ask import StitchPattern
from shopdesk.answering.swatch.swatch_reading import MeasuredSwatch
from shopdesk.answering.swatch.swatch_refusals import require_possible
from shopdesk.craft.errors import InputErrors
from shopdesk.craft.figures import Basis, Figure, exactly
from shopdesk.craft.messages import message
from shopdesk.craft.swatch import Gauge
from shopdesk.craft.yarn import Craft

DK = exactly(400, Basis.LABEL)


def a_swatch(stitches: float = 22, rows: float | None = 30, **measured: Any) -> MeasuredSwatch:
    measured.setdefault("stitch_pattern", StitchPattern.STOCKINETTE)
    return MeasuredSwatch(Gauge(stitches, rows), 10, **measured)


def problems(swatch: MeasuredSwatch, tex: Figure | None = DK) -> list[tuple[str, str]]:
    with pytest.raises(InputErrors) as refused:
        require_possible(swatch, Craft.KNIT, tex)
    return [(problem.place, problem.wrong.code) for problem in refused.value.problems]


def test_what_can_be_passes() -> None:
    require_possible(a_swatch(), Craft.KNIT, DK)
    require_possible(a_swatch(rows=None), Craft.KNIT, None)
    # 10.7 g by the definition of tex.
    require_possible(a_swatch(width_cm=15, height_cm=15, mass_g=11), Craft.KNIT, DK)


def test_22_stitches_on_3_rows_are_asked_back() -> None:
    assert problems(a_swatch(rows=3)) == [("rows", "problem_ask.rows_and_stitches")]
    with pytest.raises(InputErrors) as refused:
        require_possible(a_swatch(rows=3), Craft.KNIT, DK)
    [problem] = refused.value.problems
    assert {str(value) for value in problem.wrong.values.values()} == {"22", "3"}
    assert problem.right == message("problem_ask.count_both")


def test_900_g_on_a_square_of_15_cm_are_asked_back() -> None:
    heavy = a_swatch(width_cm=15, height_cm=15, mass_g=900)
    assert problems(heavy) == problems(heavy, None) == [("mass", "problem_ask.no_such_fabric")]


def test_a_weight_that_its_yarn_never_has_is_asked_back() -> None:
    swatch = a_swatch(width_cm=15, height_cm=15, mass_g=90)
    assert problems(swatch) == [("mass", "problem_ask.mass_and_yarn")]
    require_possible(swatch, Craft.KNIT, None)


def test_both_are_asked_at_once() -> None:
    both = a_swatch(rows=3, width_cm=15, height_cm=15, mass_g=900)
    assert [place for place, _ in problems(both)] == ["rows", "mass"]
