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
        ("gauge_by_length", 0.045, AS_IT_IS, SWATCH_FIRST),
        ("gauge_by_length", 0.095, SWATCH_FIRST, WITH_A_CHANGE),
        ("gauge_by_length", 0.17, WITH_A_CHANGE, NOT_FOR_THIS),
        ("weight_name", 0, AS_IT_IS, SWATCH_FIRST),
        ("weight_name", 0.045, SWATCH_FIRST, WITH_A_CHANGE),
        ("weight_name", 0.095, WITH_A_CHANGE, NOT_FOR_THIS),
        ("openwork", 0, SWATCH_FIRST, NOT_FOR_THIS),
        ("fabric", 0.05, AS_IT_IS, SWATCH_FIRST),
        ("fabric", 0.13, SWATCH_FIRST, WITH_A_CHANGE),
        ("fabric", 0.25, WITH_A_CHANGE, NOT_FOR_THIS),
        ("crochet_category", 0, AS_IT_IS, WITH_A_CHANGE),
        ("crochet_category", 1, WITH_A_CHANGE, NOT_FOR_THIS),
        ("crochet_length", 0.15, AS_IT_IS, SWATCH_FIRST),
        ("crochet_length", 0.25, SWATCH_FIRST, WITH_A_CHANGE),
        ("crochet_length", 0.4, WITH_A_CHANGE, NOT_FOR_THIS),
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
        # One strand is what all knit, each more weighs seven.
        ("strands", 1, SWATCH_FIRST, 1),
        ("strands", 2, WITH_A_CHANGE, 7),
        ("strands", 3, WITH_A_CHANGE, 2 * 7),
        ("companion", 0, WITH_A_CHANGE, 9),
        ("gauge", 0.06, SWATCH_FIRST, 2 + 0.06),
        ("gauge_by_length", 0.03, AS_IT_IS, 2 - 0.03),
        ("gauge_by_length", 0.06, SWATCH_FIRST, 2 + 0.06),
        ("weight_name", 0.03, SWATCH_FIRST, 2 + 0.03),
        ("weight_name", 0.06, WITH_A_CHANGE, 6 + 0.06),
        ("fabric", 0.1, SWATCH_FIRST, 1.5 + 5 * 0.1),
        ("fabric", 0.2, WITH_A_CHANGE, 3 + 5 * 0.2),
        ("fabric", 0.3, NOT_FOR_THIS, 5 + 0.3),
        ("crochet_length", 0.2, SWATCH_FIRST, 2 + 0.2),
        ("crochet_length", 0.3, WITH_A_CHANGE, 5 + 0.3),
        ("doubt", 0, SWATCH_FIRST, 1),
        ("doubt", 0.2, SWATCH_FIRST, 1 - 0.2),
        ("behaviour_blocks", 0, NOT_FOR_THIS, 10),
        # Off by one level or two of no, some and yes.
        ("behaviour_warns", 1, SWATCH_FIRST, 0.5 + 2),
        ("behaviour_warns", 2, SWATCH_FIRST, 0.5 + 2 * 2),
        ("behaviour_notes", 1, AS_IT_IS, 0.1 + 0.1),
        ("behaviour_notes", 2, AS_IT_IS, 0.1 + 2 * 0.1),
        ("another_button", 0.1, AS_IT_IS, 0.3),
        ("washed_otherwise", 0, WITH_A_CHANGE, 4),
        ("washed_otherwise", 0.1, WITH_A_CHANGE, 4 - 0.1),
        ("not_stood", 0, NOT_FOR_THIS, 9),
        ("not_stood", 0.2, NOT_FOR_THIS, 9 - 0.2),
        ("other_fibre", 0, SWATCH_FIRST, 1),
        ("other_construction", 0, SWATCH_FIRST, 2),
        ("same_facts", 0, AS_IT_IS, 9),
        ("caution_to_tell", 0, AS_IT_IS, 1),
        ("crochet_category", 3, NOT_FOR_THIS, 6 + 3),
    ],
)
def test_what_a_finding_weighs(scale: str, off: float, group: Suitability, weight: float) -> None:
    assert grade(scale, off) == (group, pytest.approx(weight))


@pytest.mark.parametrize(
    ("scale", "names", "least"),
    [
        # What does as it is brings no penalty. Near begins at 4.5 %, and weighs 2 and the share;
        # reach begins at 9.5 % and far at 17 %, of weight 6.
        ("gauge", "same near reach far", [(0, 0), (1, 2.045), (2, 6.095), (3, 6.17)]),
        ("gauge_by_length", "same near reach far", [(0, 0), (1, 2.045), (2, 6.095), (3, 6.17)]),
        # In the range is not outside at all.
        ("weight_name", "in near reach far", [(0, 0), (1, 2), (2, 6.045), (3, 6.095)]),
        # 5, 13 and 25 %, which count five times up to the last.
        ("fabric", "same other change far", [(0, 0), (1, 1.75), (2, 3.65), (3, 5.25)]),
        ("crochet_length", "same near reach far", [(0, 0), (1, 2.15), (2, 5.25), (3, 5.4)]),
    ],
)
def test_the_least_penalty_of_a_step_is_that_at_its_beginning(
    scale: str, names: str, least: list[tuple[int, float]]
) -> None:
    assert [step.name for step in steps(scale)] == names.split()
    assert [step.least[0] for step in steps(scale)] == [group for group, _ in least]
    assert [step.least[1] for step in steps(scale)] == pytest.approx(
        [weight for _, weight in least]
    )


def test_the_least_penalty_of_a_scale_of_one_step_is_its_own() -> None:
    assert steps("companion")[0].least == (2, 9)


def test_the_least_of_a_scale_is_its_weight_unless_it_is_no_trouble() -> None:
    assert least_of("strands", 1) == (1, 1)
    assert least_of("strands", 2) == (2, 7)
    assert least_of("strands", 4) == (2, 21)
    assert least_of("behaviour_notes", 2) == (0, 0.0)
    assert least_of("behaviour_warns", 2) == (1, 4.5)
    assert least_of("gauge_unknown") == (1, 5)
    assert least_of("fabric", 0.0) == (0, 0.0)


@pytest.mark.parametrize(
    ("scale", "weight"),
    [
        ("gauge_uncertain", 1), ("gauge_estimated", 2), ("gauge_unknown", 5),
        ("too_little_known", 9), ("length", 0.5), ("crochet_no_target", 4), ("companion", 9),
        ("behaviour_blocks", 10), ("caution_to_tell", 1), ("weight_name", 2), ("openwork", 4),
        ("fabric", 0.4), ("crochet_category", 1), ("crochet_length", 0), ("another_button", 0.3),
        ("other_fibre", 1), ("other_construction", 2), ("same_facts", 9),
    ],
)  # fmt: skip
def test_what_has_no_distance_weighs_the_same_whatever_is_off(scale: str, weight: float) -> None:
    assert steps(scale)[0].grade(0)[1] == weight
    assert steps(scale)[0].grade(1)[1] == weight


def test_where_nothing_is_said_of_a_distance_nothing_is_off() -> None:
    assert grade("doubt") == (SWATCH_FIRST, 1)
    assert least_of("doubt") == (1, 1)


def test_what_is_no_distance_has_no_grade() -> None:
    with pytest.raises(ValueError, match="no distance on the scale gauge"):
        grade("gauge", float("nan"))
