"""How a yarn is best held: alone, in strands of itself, or with a lace strand beside it."""

from dataclasses import replace
from typing import Any

import pytest

from shopdesk.answering.judging.companions import Companions
from shopdesk.answering.judging.grades import Reason
from shopdesk.answering.judging.judge import (
    COMPARED_AT_ONCE,
    Judgement,
    Requirements,
    doubt_grades,
    judge_one,
    near_gauge,
    near_tex,
    requirements,
)
from shopdesk.answering.model.answer import Suitability, Target
from shopdesk.answering.model.ask import (
    DesignerYarn,
    ItemKind,
)
from shopdesk.answering.profile.summary import WearAndCare, YarnSummary
from shopdesk.craft.behaviour import Level, Traits
from shopdesk.craft.messages import message
from shopdesk.craft.yarn import CareLabel, Craft
from tests.answering.summaries import a_figure, a_summary, a_target
from tests.factories import an_ask

AS_IT_IS, SWATCH_FIRST, WITH_A_CHANGE, NOT_FOR_THIS = Suitability


def wanting(target: Target, **facts: Any) -> Requirements:
    return replace(requirements(an_ask(20, **facts)), target=target)


KNITTED = wanting(a_target(20))
CROCHETED = wanting(a_target(metres=200, categories=(4,)), craft=Craft.CROCHET)


def judged(
    yarn: YarnSummary, *companions: YarnSummary, wanted: Requirements = KNITTED
) -> Judgement:
    return judge_one(wanted, yarn, Companions(companions))


def held(judgement: Judgement) -> tuple[int, str | None]:
    companion = judgement.held.companion
    return judgement.held.strands, companion.sku if companion else None


def said_of(found: Judgement, code: str) -> Reason:
    return next(one for one in found.findings if one.said.code == f"judging.{code}")


@pytest.mark.parametrize(
    ("stitches", "strands", "group"),
    [
        # n strands have 1/root(n) of the gauge; 20 is wanted, near within 9.5 %: 18.1 to 21.9.
        (20, 1, AS_IT_IS),
        (23, 1, WITH_A_CHANGE),
        (28.28, 2, WITH_A_CHANGE),
        (30.9, 2, WITH_A_CHANGE),  # 21.85 in two
        (31.1, 1, NOT_FOR_THIS),  # 21.99 in two, 17.96 in three
        (25.7, 2, WITH_A_CHANGE),  # 18.17 in two
        (25.5, 1, NOT_FOR_THIS),  # 18.03 in two
        (34.64, 3, WITH_A_CHANGE),
        (37, 3, WITH_A_CHANGE),  # 21.36 in three, 18.5 in four: fewer strands win
        (40, 4, WITH_A_CHANGE),
        (44.72, 1, NOT_FOR_THIS),  # five strands would do, and nobody holds five
        (14, 1, NOT_FOR_THIS),
    ],
)
def test_as_few_strands_of_a_fine_yarn_as_land_near_the_target(
    stitches: float, strands: int, group: Suitability
) -> None:
    found = judged(a_summary(stitches=stitches, metres=400))
    assert (held(found), found.group) == ((strands, None), group)


def test_strands_are_said_with_their_number_and_weigh_more_the_more_they_are() -> None:
    found = said_of(judged(a_summary(stitches=34.64)), "strands_together")
    assert found.said == message("judging.strands_together", count=3)
    assert found.change == message("judging.change_strands", count=3)
    # Seven for each strand beyond the first (grades.csv).
    assert (found.group, found.weight) == (WITH_A_CHANGE, 14)
    two = said_of(judged(a_summary(stitches=28.28)), "strands_together")
    assert (two.group, two.weight) == (WITH_A_CHANGE, 7)


IN_TWO = wanting(a_target(20), designer_yarn=DesignerYarn(strands=2))
"""A pattern that holds its yarn double."""


@pytest.mark.parametrize(
    ("stitches", "strands", "group"),
    [
        # In two 20, 20.5 and 18.4: as the pattern says.
        (28.28, 2, SWATCH_FIRST),
        (29, 2, SWATCH_FIRST),
        (26, 2, SWATCH_FIRST),
        # In two 16.97, which another tool reaches; one alone is 24.
        (24, 2, WITH_A_CHANGE),
        # In two 24.5, but 20 in three; in two 14.1, but 20 alone.
        (34.64, 3, WITH_A_CHANGE),
        (20, 1, SWATCH_FIRST),
        # In two 16.3, too coarse, and alone 23, not near; in two 9.9.
        (23, 2, NOT_FOR_THIS),
        (14, 2, NOT_FOR_THIS),
    ],
)
def test_as_many_strands_as_the_patterns_are_the_first_way_to_hold_a_yarn(
    stitches: float, strands: int, group: Suitability
) -> None:
    assert (IN_TWO.strands, KNITTED.strands) == (2, 1)
    found = judged(a_summary(stitches=stitches, metres=400), wanted=IN_TWO)
    assert (held(found), found.group) == ((strands, None), group)
    changed = [one.change for one in found.findings if one.said.code == "judging.strands_together"]
    assert changed == ([] if strands == 2 else [message("judging.change_strands", count=strands)])


def test_a_yarn_that_is_held_singly_where_the_pattern_has_two_is_little_worse_for_that() -> None:
    # One for a single strand, seven for each more than one (grades.csv).
    assert said_of(judged(a_summary(stitches=20), wanted=IN_TWO), "strands_together").weight == 1


def test_no_companion_is_looked_for_where_fewer_strands_are_wanted() -> None:
    yarn = a_summary(stitches=20, metres=400)
    assert held(judge_one(IN_TWO, yarn, NotLookedAt())) == (1, None)


def test_a_strand_beside_brings_a_yarn_that_no_strands_of_its_own_do() -> None:
    # 1/400 - 1/625 = 1/33.33^2: beside 25 stitches 33.33 gives 20. Two strands of 25 give 17.7.
    lace = a_summary("LACE", 100 / 3, 800)
    found = judged(a_summary("Y", 25, 300), lace)
    assert (held(found), found.group) == ((1, "LACE"), WITH_A_CHANGE)
    said = said_of(found, "with_companion")
    assert said.said == message("judging.with_companion", companion="Yarn LACE")
    assert said.change == message("judging.change_companion", companion="Yarn LACE")
    assert said.weight == 9
    assert held(judged(a_summary("Y", 25, 300))) == (1, None)
    assert held(judged(a_summary("LACE", 25, 800), a_summary("LACE", 100 / 3, 800))) == (1, None)


def test_the_nearest_companion_is_taken_and_among_equals_the_first_by_sku() -> None:
    # 40 beside 25 gives 21.2, which would do as well.
    far, near = a_summary("A", 40, 800), a_summary("C", 100 / 3, 800)
    assert held(judged(a_summary("Y", 25, 300), far, near)) == (1, "C")
    assert held(judged(a_summary("Y", 25, 300), near, replace(near, sku="B"))) == (1, "B")


def test_a_nearer_companion_that_makes_another_fabric_is_passed_over() -> None:
    # 500 tex are wanted. N makes 278 of it: root of 0.556 is 0.746, too loose beyond 25 %, and
    # is 0.254 away. F makes 312: 0.790, but its gauge is 21.2: 0.21 + 0.06 = 0.27 away.
    wanted = wanting(a_target(20, 200, density=1.3))
    yarn = a_summary("Y", 25, a_figure(200), 1.3)
    near = a_summary("N", 100 / 3, a_figure(78), 1.3)
    far = a_summary("F", 40, a_figure(112), 1.3)
    assert judged(yarn, near, wanted=wanted).group is NOT_FOR_THIS
    found = judged(yarn, near, far, wanted=wanted)
    assert (held(found), found.group) == ((1, "F"), WITH_A_CHANGE)
    # However many stand nearer by their gauge, one that will do is found.
    many = [replace(near, sku=f"N-{n}") for n in range(2 * COMPARED_AT_ONCE + 1)]
    assert held(judged(yarn, *many, far, wanted=wanted)) == (1, "F")


def test_two_strands_of_its_own_win_against_a_companion_that_fits_better() -> None:
    # Two strands of 27 give 19.1; beside 27 a strand of 29.77 gives 20.
    found = judged(a_summary("Y", 27, 300), a_summary("LACE", 29.77, 800))
    assert held(found) == (2, None)


def test_a_companion_counts_as_much_as_two_strands_more_and_then_the_nearer_wins() -> None:
    # Three strands of 37 give 21.4; beside 37 one of 23.77 gives 20.
    found = judged(a_summary("Y", 37, 400), a_summary("FINE", 23.77, 500))
    assert held(found) == (1, "FINE")
    # Three strands of 34.64 give 20; beside it one of 26 gives 20.8.
    assert held(judged(a_summary("Y", 34.64, 400), a_summary("FINE", 26, 500))) == (3, None)


@pytest.mark.parametrize(
    ("tex", "strands"),
    [
        # 500 tex are wanted, 200 m; strands are near within 15 %, 170 to 230 m: 435 to 588 tex.
        (250, 2),
        (219, 2),
        (293, 2),
        # 430 tex in two are too fine, but three make 645: neither.
        (215, 1),
        (300, 1),
        (167, 3),
    ],
)
def test_strands_of_a_crocheted_pattern_are_near_by_length(tex: float, strands: int) -> None:
    # By the gauge of the strands together they are of category 4 (16 to 20 stitches).
    yarn = a_summary(stitches=18 * strands**0.5, metres=a_figure(tex), categories=(1,))
    assert held(judged(yarn, wanted=CROCHETED)) == (strands, None)


def test_a_lace_strand_is_found_by_tex_for_a_crocheted_pattern() -> None:
    # 350 tex need 85 to 238 more; two strands of 350 are 700.
    yarn = a_summary("Y", 21, a_figure(350), categories=(1,))
    lace = a_summary("LACE", 33, a_figure(150))
    found = judged(yarn, lace, a_summary("THIN", 40, a_figure(50)), wanted=CROCHETED)
    assert (held(found), found.group) == ((1, "LACE"), WITH_A_CHANGE)


def test_a_coarser_or_unknown_yarn_is_held_alone() -> None:
    assert held(judged(a_summary(stitches=12, metres=800))) == (1, None)
    for yarn in (a_summary(categories=(1,)), a_summary(metres=100, categories=(6,))):
        assert held(judged(yarn, wanted=CROCHETED)) == (1, None)
    no_length = wanting(a_target(categories=(4,)), craft=Craft.CROCHET)
    assert held(judged(a_summary(metres=400, categories=(1,)), wanted=no_length)) == (1, None)


class NotLookedAt(Companions):
    """The companions of a shelf that nobody may ask for: it takes long to go through them."""

    def to_gauge(self, *_: Any) -> list[YarnSummary]:
        raise AssertionError("companions were looked for")

    to_tex = to_gauge


@pytest.mark.parametrize(
    ("yarn", "wanted"),
    [
        # It does alone, though it is finer; it is too coarse.
        (a_summary(stitches=23), KNITTED),
        (a_summary(stitches=14), KNITTED),
        # Its gauge is as wanted and its fabric too firm; 200 m are wanted of another category.
        (a_summary(stitches=20, metres=100, density=1.3), wanting(a_target(20, 200, density=1.3))),
        (a_summary(metres=200, categories=(1,)), CROCHETED),
        # Superwash wool will not felt in any number of strands.
        (
            a_summary(
                stitches=28.28,
                wear_and_care=WearAndCare(Traits(felts=Level.NO), CareLabel(), False),
            ),
            wanting(a_target(20), item=ItemKind.FELTED_BAG),
        ),
    ],
)
def test_strands_are_not_looked_for_where_they_cannot_help(
    yarn: YarnSummary, wanted: Requirements
) -> None:
    assert held(judge_one(wanted, yarn, NotLookedAt())) == (1, None)


def test_without_a_gauge_no_strands_are_near() -> None:
    # Finer by length, and its fabric too loose, but nothing tells the gauge of its strands.
    lace = a_summary("LACE", 40, 800)
    wanted = wanting(a_target(20, 200, density=1.3))
    assert held(judged(a_summary(metres=800, density=1.3), lace, wanted=wanted)) == (1, None)
    no_gauge = wanting(a_target(metres=200, density=1.3))
    yarn = a_summary(stitches=30, metres=800, density=1.3)
    assert held(judged(yarn, lace, wanted=no_gauge)) == (1, None)


@pytest.mark.parametrize(("metres", "strands"), [(23, 2), (17, 2), (23.001, 1), (16.999, 1)])
def test_strands_are_near_up_to_the_ends(metres: float, strands: int) -> None:
    # 15 % more and less than 20 m per 100 g; each of two strands has half the tex of both.
    wanted = wanting(a_target(metres=20, categories=(4,)), craft=Craft.CROCHET)
    yarn = a_summary(stitches=25.5, metres=a_figure(100_000 / metres / 2), categories=(1,))
    assert held(judged(yarn, wanted=wanted)) == (strands, None)


@pytest.mark.parametrize(
    ("nearer", "further"),
    # Beside 40 tex; 100 are wanted, and firmness goes with the root: 81 and 64, 121 and 144.
    [(41, 24), (81, 104)],
)
def test_of_companions_of_one_gauge_the_likest_fabric_is_taken(
    nearer: float, further: float
) -> None:
    wanted = wanting(a_target(20, 1000, density=1.3))
    yarn = a_summary("Y", 25, a_figure(40), 1.3)
    shelf = [
        a_summary(sku, 100 / 3, a_figure(tex), 1.3) for sku, tex in (("A", further), ("B", nearer))
    ]
    assert held(judged(yarn, *shelf, wanted=wanted)) == (1, "B")


def test_a_fabric_that_is_unknown_is_no_distance_and_a_billionth_is_none() -> None:
    wanted = wanting(a_target(20, 200, density=1.3))
    yarn = a_summary("Y", 25, a_figure(300), 1.3)
    # 300 + 150 tex make 0.949 of the firmness.
    known, unknown = a_summary("A", 100 / 3, a_figure(150), 1.3), a_summary("B", 100 / 3, 800)
    assert held(judged(yarn, known, unknown, wanted=wanted)) == (1, "B")
    # A billionth of its gauge is 0.36 billionths of that of both.
    same, hair = a_summary("B", 100 / 3, 800), a_summary("A", 100 / 3 * (1 + 1e-9), 800)
    assert held(judged(a_summary("Y", 25, 300), same, hair)) == (1, "A")


def test_near_is_9_5_percent_of_gauge_and_15_of_length() -> None:
    assert near_gauge(wanting(a_target(200))) == pytest.approx((181, 219))
    assert near_gauge(wanting(a_target())) is None
    # 230 m per 100 g are 434.8 tex, 170 m are 588.2 tex.
    assert near_tex(wanting(a_target(metres=200))) == pytest.approx((434.783, 588.235), abs=1e-3)
    assert near_tex(wanting(a_target())) is None


def test_each_doubt_told_later_weighs_a_tenth_less() -> None:
    assert doubt_grades(3) == [
        (SWATCH_FIRST, 1),
        (SWATCH_FIRST, pytest.approx(0.9)),
        (SWATCH_FIRST, pytest.approx(0.8)),
    ]
    doubts = (message("profile.gauge_against_length"), message("profile.name_against_gauge"))
    found = judged(a_summary(stitches=20, doubts=doubts))
    assert [(one.said, one.weight) for one in found.findings[1:]] == [
        (doubts[0], 1),
        (doubts[1], pytest.approx(0.9)),
    ]
    assert found.group is SWATCH_FIRST
