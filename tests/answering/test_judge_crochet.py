"""What category and length per mass say for a crocheted pattern, at both sides of every limit."""

import pytest

from shopdesk.answering.judging.grades import Reason
from shopdesk.answering.judging.judge_crochet import crochet_findings, held_categories
from shopdesk.answering.model.answer import Suitability
from shopdesk.craft.messages import message
from tests.answering.summaries import a_figure, a_summary, a_target, on_the_needles

AS_IT_IS, SWATCH_FIRST, WITH_A_CHANGE, NOT_FOR_THIS = Suitability


def found_of(
    got: tuple[int, ...],
    wanted: tuple[int, ...],
    got_m: float | None = None,
    wanted_m: float | None = None,
) -> tuple[Reason, ...]:
    target = a_target(metres=wanted_m, categories=wanted)
    return crochet_findings(target, a_summary(categories=got), on_the_needles(metres=got_m))


@pytest.mark.parametrize(
    ("got", "wanted", "code", "group", "weight"),
    [
        ((3,), (3,), "same_weight", AS_IT_IS, 1),
        ((2, 3), (3, 4), "same_weight", AS_IT_IS, 1),
        ((2,), (3,), "near_finer", WITH_A_CHANGE, 6),
        ((4,), (3,), "near_coarser", WITH_A_CHANGE, 6),
        # Two away weigh 6 and two more: what is further away stands further back.
        ((1,), (3,), "far_finer", NOT_FOR_THIS, 8),
        ((5,), (3,), "far_coarser", NOT_FOR_THIS, 8),
        ((0, 1), (4, 5), "far_finer", NOT_FOR_THIS, 9),
        ((), (3,), "too_little_known", NOT_FOR_THIS, 9),
        ((3,), (), "no_target", SWATCH_FIRST, 4),
    ],
)
def test_weight_categories_decide(
    got: tuple[int, ...], wanted: tuple[int, ...], code: str, group: Suitability, weight: float
) -> None:
    [found] = found_of(got, wanted)
    assert found.said.code == ("judging.too_little_known" if not got else f"judging.crochet_{code}")
    assert (found.group, found.weight) == (group, weight)


def test_the_nearest_two_categories_are_named() -> None:
    assert found_of((2, 3, 4), (3, 4))[0].said.values == {"weight_term": "terms.weight.3"}
    assert found_of((1, 2), (3, 4))[0].said.values == {
        "yarn_term": "terms.weight.2",
        "wanted_term": "terms.weight.3",
    }
    assert found_of((0, 1), (4, 5))[0].said.values == {
        "yarn_term": "terms.weight.1",
        "wanted_term": "terms.weight.4",
    }


def test_a_finer_yarn_wants_a_larger_hook_and_a_coarser_one_a_smaller() -> None:
    # Common practice, no source.
    assert found_of((2,), (3,))[0].change == message("judging.change_hook_larger")
    assert found_of((4,), (3,))[0].change == message("judging.change_hook_smaller")
    assert [found_of((n,), (3,))[0].change for n in (1, 3, 5)] == [None, None, None]


@pytest.mark.parametrize(
    ("metres", "code", "group", "weight", "percent"),
    [
        # Of 200 m: within 15 % it is the same, within 25 % it shows in the hand, within 40 %
        # another hook meets it (judgement.csv). Weight 2 and the share, then 5 (grades.csv).
        (229, None, None, None, None),
        (171, None, None, None, None),
        (232, "finer", SWATCH_FIRST, 2.16, 16),
        (168, "heavier", SWATCH_FIRST, 2.16, 16),
        (248, "finer", SWATCH_FIRST, 2.24, 24),
        (152, "heavier", SWATCH_FIRST, 2.24, 24),
        (252, "finer", WITH_A_CHANGE, 5.26, 26),
        (148, "heavier", WITH_A_CHANGE, 5.26, 26),
        (279, "finer", WITH_A_CHANGE, 5.395, 40),
        (121, "heavier", WITH_A_CHANGE, 5.395, 40),
        (282, "far_finer", NOT_FOR_THIS, 5.41, 41),
        (118, "far_heavier", NOT_FOR_THIS, 5.41, 41),
    ],
)
def test_length_at_the_limits(
    metres: float,
    code: str | None,
    group: Suitability | None,
    weight: float | None,
    percent: int | None,
) -> None:
    _, beside, *rest = found_of((3,), (3,), metres, 200)
    assert beside.said.code == f"judging.length_{'more' if metres > 200 else 'less'}"
    if code is None:
        assert rest == []
        return
    [found] = rest
    assert (found.said.code, found.group) == (f"judging.crochet_length_{code}", group)
    assert found.weight == pytest.approx(weight)
    assert found.said.values == {"off_percent": percent}


@pytest.mark.parametrize(
    ("metres", "hook"),
    [(248, None), (252, "larger"), (282, None), (152, None), (148, "smaller"), (118, None)],
)
def test_another_hook_is_named_for_a_length_that_it_meets(metres: float, hook: str | None) -> None:
    # Of 200 m: longer per 100 g is finer, and a finer yarn wants a larger hook (common practice).
    found = found_of((3,), (3,), metres, 200)[-1]
    assert found.change == (message(f"judging.change_hook_{hook}") if hook else None)


def test_length_is_not_judged_where_one_is_unknown() -> None:
    for got_m, wanted_m in ((None, 200), (200, None)):
        found = found_of((3,), (3,), got_m, wanted_m)
        assert [one.said.code for one in found] == ["judging.crochet_same_weight"]


def test_strands_together_have_the_categories_of_their_gauge() -> None:
    # Standard Yarn Weight System: 16 to 20 stitches are category 4 alone, 12 to 15 category 5.
    yarn = a_summary(categories=(1,))
    assert held_categories(yarn, on_the_needles(30)) == (1,)
    assert held_categories(yarn, on_the_needles(a_figure(18, 17, 19), strands=2)) == (4,)
    assert held_categories(yarn, on_the_needles(a_figure(13, 12.5, 14), strands=3)) == (5,)
    assert held_categories(yarn, on_the_needles(strands=2)) == ()
