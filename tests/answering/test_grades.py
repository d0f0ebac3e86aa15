"""The scales of judging: where a step ends, and which finding decides."""

import pytest

from shopdesk.answering.judging.grades import (
    Reason,
    deciding_first,
    grade,
    least_of,
    order_of,
    step_at,
    steps,
    worst_group,
)
from shopdesk.answering.model.answer import Suitability
from shopdesk.craft.messages import message

AS_IT_IS, SWATCH_FIRST, WITH_A_CHANGE, NOT_FOR_THIS = Suitability


def test_groups_are_numbered_from_the_best() -> None:
    assert [order_of(group) for group in Suitability] == [0, 1, 2, 3]
    assert order_of(AS_IT_IS) == 0
    assert order_of(NOT_FOR_THIS) == 3


def test_the_worst_finding_decides_and_none_leaves_all_open() -> None:
    said = message("judging.gauge_unknown")
    found = [Reason(group, said, 0.0) for group in (SWATCH_FIRST, WITH_A_CHANGE, AS_IT_IS)]
    assert worst_group(found) is WITH_A_CHANGE
    assert worst_group([]) is AS_IT_IS


def test_what_decides_comes_first_then_what_weighs_most_then_by_name() -> None:
    a, b = message("judging.gauge_estimated"), message("judging.gauge_unknown")
    ordered = (
        Reason(WITH_A_CHANGE, b, 1),
        Reason(SWATCH_FIRST, b, 6),
        Reason(SWATCH_FIRST, a, 5),
        Reason(SWATCH_FIRST, b, 5),
        Reason(AS_IT_IS, a, 9),
    )
    assert deciding_first(ordered[::-1]) == ordered


@pytest.mark.parametrize(
    ("scale", "limit", "at", "beyond"),
    [
        # A step is for what is off by at most its end; the ends stand in judgement.csv.
        ("gauge", 0.045, AS_IT_IS, SWATCH_FIRST),
        ("gauge", 0.095, SWATCH_FIRST, WITH_A_CHANGE),
        ("gauge", 0.17, WITH_A_CHANGE, NOT_FOR_THIS),
        ("gauge_by_length", 0.095, SWATCH_FIRST, WITH_A_CHANGE),
        ("gauge_by_length", 0.17, WITH_A_CHANGE, NOT_FOR_THIS),
        ("weight_name", 0.095, SWATCH_FIRST, NOT_FOR_THIS),
        ("openwork", 0, SWATCH_FIRST, NOT_FOR_THIS),
        ("fabric", 0.08, AS_IT_IS, SWATCH_FIRST),
        ("fabric", 0.25, SWATCH_FIRST, NOT_FOR_THIS),
        ("crochet_category", 0, AS_IT_IS, WITH_A_CHANGE),
        ("crochet_category", 1, WITH_A_CHANGE, NOT_FOR_THIS),
        ("crochet_length", 0.15, AS_IT_IS, SWATCH_FIRST),
        ("crochet_length", 0.4, SWATCH_FIRST, NOT_FOR_THIS),
    ],
)
def test_a_step_reaches_to_its_end(
    scale: str, limit: float, at: Suitability, beyond: Suitability
) -> None:
    for off, group in ((limit, at), (limit + 0.0001, beyond)):
        assert grade(scale, off)[0] is group
        assert step_at(scale, off).group is group
        assert step_at(scale, off).grade(off) == grade(scale, off)


@pytest.mark.parametrize(
    ("scale", "off", "group", "weight"),
    [
        # The weights stand in grades.csv: a penalty, and so much for what is off.
        ("gauge_uncertain", 0, SWATCH_FIRST, 1),
        ("gauge_estimated", 0, SWATCH_FIRST, 2),
        ("strands", 3, WITH_A_CHANGE, 5 + 3),
        ("companion", 0, WITH_A_CHANGE, 8),
        ("doubt", 0, SWATCH_FIRST, 3),
        ("doubt", 0.2, SWATCH_FIRST, 3 - 0.2),
        ("behaviour_blocks", 0, NOT_FOR_THIS, 10),
        ("behaviour_warns", 0, SWATCH_FIRST, 4.5),
        ("behaviour_notes", 0, AS_IT_IS, 0.3),
        ("another_button", 0.1, AS_IT_IS, 3 - 0.1),
        ("washed_otherwise", 0.1, WITH_A_CHANGE, 5.5 - 0.1),
        ("caution_to_tell", 0, AS_IT_IS, 1),
        ("crochet_category", 3, NOT_FOR_THIS, 6 + 3),
    ],
)
def test_what_a_finding_weighs(scale: str, off: float, group: Suitability, weight: float) -> None:
    assert grade(scale, off) == (group, pytest.approx(weight))


def test_the_least_penalty_of_a_step_is_that_at_its_beginning() -> None:
    # What does as it is brings no penalty; near begins at 4.5 % and reach at 9.5 %, of weight 6.
    assert [step.least for step in steps("gauge")] == [
        (0, 0.0),
        (1, pytest.approx(6.045)),
        (2, pytest.approx(6.095)),
        (3, pytest.approx(6.17)),
    ]
    assert [step.name for step in steps("gauge")] == ["same", "near", "reach", "far"]
    assert steps("gauge_by_length")[0].least == (1, 4)
    assert steps("companion")[0].least == (2, 8)
    assert steps("strands")[0].least == (2, 5)


def test_the_least_of_a_scale_is_its_weight_unless_it_is_no_trouble() -> None:
    assert least_of("strands", 2) == (2, 7)
    assert least_of("gauge_unknown") == (1, 5)
    assert least_of("fabric", 0.0) == (0, 0.0)


@pytest.mark.parametrize(
    ("scale", "weight"),
    [
        ("gauge_uncertain", 1), ("gauge_estimated", 2), ("gauge_unknown", 5),
        ("too_little_known", 9), ("length", 0.5), ("crochet_no_target", 4), ("companion", 8),
        ("behaviour_blocks", 10), ("behaviour_warns", 4.5), ("behaviour_notes", 0.3),
        ("caution_to_tell", 1), ("gauge_by_length", 4), ("weight_name", 4), ("openwork", 4),
        ("fabric", 0.4), ("crochet_category", 1), ("crochet_length", 0),
    ],
)  # fmt: skip
def test_what_has_no_distance_weighs_the_same_whatever_is_off(scale: str, weight: float) -> None:
    assert steps(scale)[0].grade(0)[1] == weight
    assert steps(scale)[0].grade(1)[1] == weight


def test_where_nothing_is_said_of_a_distance_nothing_is_off() -> None:
    assert grade("doubt") == (SWATCH_FIRST, 3)
    assert least_of("doubt") == (1, 3)


def test_what_is_no_distance_has_no_grade() -> None:
    with pytest.raises(ValueError, match="no distance on the scale gauge"):
        grade("gauge", float("nan"))
