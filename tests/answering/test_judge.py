"""How a yarn is best held: alone, in strands of itself, or with a lace strand beside it."""

from dataclasses import replace
from typing import Any

import pytest

from shopdesk.answering.judging.companions import Companions
from shopdesk.answering.judging.grades import Reason
from shopdesk.answering.judging.judge import (
    Judgement,
    Requirements,
    behaviour_findings,
    doubt_grades,
    item_needs,
    judge_one,
    may_be_a_child,
    near_gauge,
    near_tex,
    requirements,
)
from shopdesk.answering.judging.original import Original
from shopdesk.answering.judging.requirements import target_of
from shopdesk.answering.model.answer import Suitability, Target
from shopdesk.answering.model.ask import (
    DesignerYarn,
    Feature,
    ItemKind,
    PatternGauge,
    StitchPattern,
    Washing,
    Wearer,
)
from shopdesk.answering.profile.summary import WearAndCare, YarnSummary, label_wear_and_care
from shopdesk.craft.behaviour import Level, Traits, traits
from shopdesk.craft.messages import Message, message
from shopdesk.craft.wants import ItemNeeds
from shopdesk.craft.yarn import CareLabel, Construction, Craft
from tests.answering.summaries import a_figure, a_summary, a_target
from tests.factories import a_blend, a_label, an_ask

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
        (20, 1, WITH_A_CHANGE),
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


def test_a_yarn_that_is_held_singly_where_the_pattern_has_two_is_no_worse_for_that() -> None:
    # Nothing for the first strand, seven for each more (grades.csv).
    assert said_of(judged(a_summary(stitches=20), wanted=IN_TWO), "strands_together").weight == 0


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
        (SWATCH_FIRST, 3),
        (SWATCH_FIRST, pytest.approx(2.9)),
        (SWATCH_FIRST, pytest.approx(2.8)),
    ]
    doubts = (message("profile.gauge_against_length"), message("profile.name_against_gauge"))
    found = judged(a_summary(stitches=20, doubts=doubts))
    assert [(one.said, one.weight) for one in found.findings[1:]] == [
        (doubts[0], 3),
        (doubts[1], pytest.approx(2.9)),
    ]
    assert found.group is SWATCH_FIRST


def test_a_disagreement_that_the_originals_label_has_too_costs_nothing() -> None:
    doubts = (message("profile.gauge_against_length"), message("profile.name_against_gauge"))
    original = Original(1, frozenset({"profile.gauge_against_length"}), wool())
    wanted = replace(KNITTED, original=original)
    found = judged(a_summary(stitches=20, doubts=doubts), wanted=wanted)
    # The other one is the first that is told, and weighs its whole three.
    assert [(one.said, one.weight) for one in found.findings[1:]] == [(doubts[1], 3)]


@pytest.mark.parametrize(
    ("felts", "group", "weight"),
    # What does not felt makes no felted bag; what felts a little is one level off: 0.5 + 2.
    [(Level.NO, NOT_FOR_THIS, 10), (Level.SOME, SWATCH_FIRST, 2.5)],
)
def test_behaviour_is_weighed_by_how_bad_it_is(
    felts: Level, group: Suitability, weight: float
) -> None:
    wear_and_care = WearAndCare(Traits(felts=felts), CareLabel(), by_default=False)
    wanted = wanting(a_target(20), item=ItemKind.FELTED_BAG)
    found = judged(a_summary(stitches=20, wear_and_care=wear_and_care), wanted=wanted)
    assert (found.group, found.findings[-1].weight) == (group, weight)


@pytest.mark.parametrize(
    ("yarn", "code", "group", "weight"),
    [
        # A hat is to be as warm as the original's; one level off weighs 0.5 + 2, two 0.5 + 4.
        (Traits(warmth=Level.SOME), "less_warmth", SWATCH_FIRST, 2.5),
        (Traits(warmth=Level.NO), "less_warmth", SWATCH_FIRST, 4.5),
        # That it pills more is only told: 0.1 and a tenth for each level.
        (Traits(pills=Level.SOME), "more_pills", AS_IT_IS, 0.2),
        (Traits(pills=Level.YES), "more_pills", AS_IT_IS, 0.3),
    ],
)
def test_behaviour_weighs_more_the_further_off_it_is(
    yarn: Traits, code: str, group: Suitability, weight: float
) -> None:
    of = item_needs(an_ask(item=ItemKind.HAT, wearer=Wearer.ADULT)).of
    needs = ItemNeeds(of, Traits(warmth=Level.YES, pills=Level.NO))
    [found] = behaviour_findings(needs, yarn)
    assert (found.said.code, found.group) == (f"behaviour.{code}", group)
    assert found.weight == pytest.approx(weight)


def wool(blend: str = "wool 100", **facts: Any) -> WearAndCare:
    return label_wear_and_care(a_label(fibres=blend, **facts))


IN_WOOL = wanting(a_target(20, 200), designer_yarn=DesignerYarn(fibres=a_blend("wool 100")))


def test_a_yarn_of_which_all_is_true_that_the_pattern_states_is_the_original() -> None:
    doubts = (message("profile.gauge_against_length"),)
    yarn = a_summary(stitches=20, metres=200, doubts=doubts, wear_and_care=wool())
    found = judged(yarn, wanted=IN_WOOL)
    # It weighs nine, so that it is said first, and stands a point before all others.
    same = Reason(AS_IT_IS, message("judging.same_facts"), 9)
    assert (found.findings, found.unlike, held(found)) == ((same,), -1, (1, None))
    assert found.group is AS_IT_IS
    nearly = judged(replace(yarn, wear_and_care=wool("wool 90, silk 10")), wanted=IN_WOOL)
    assert (nearly.group, doubts[0] in [one.said for one in nearly.findings]) == (
        SWATCH_FIRST,
        True,
    )


def test_the_original_itself_is_held_against_what_the_item_needs() -> None:
    bag = wanting(
        a_target(20, 200),
        item=ItemKind.FELTED_BAG,
        designer_yarn=DesignerYarn(fibres=a_blend("cotton 100")),
    )
    cotton = a_summary(stitches=20, metres=200, wear_and_care=wool("cotton 100"))
    found = judged(cotton, wanted=bag)
    assert found.group is NOT_FOR_THIS
    assert [one.said.code for one in found.findings][:2] == [
        "judging.same_facts",
        "behaviour.will_not_felt",
    ]


@pytest.mark.parametrize(
    ("washing", "fibres", "why"),
    [
        # Wool is washed by hand where its band says nothing, and felts in the machine.
        (Washing.MACHINE_40, "wool 100", ["washing.felts_in_machine"]),
        (Washing.HAND, "wool 100", []),
        (Washing.UNKNOWN, "wool 100", []),
        # Cotton stands it, and so does what nothing is known of.
        (Washing.MACHINE_40, "cotton 100", []),
        (Washing.MACHINE_40, "", []),
    ],
)
def test_it_is_said_where_the_original_itself_is_not_for_this(
    washing: Washing, fibres: str, why: list[str]
) -> None:
    designer = DesignerYarn(fibres=a_blend(fibres))
    ask = an_ask(20, washing=washing, designer_yarn=designer)
    told = [one.code for one in requirements(ask).target.why]
    before = [one.code for one in target_of(ask).why]
    assert told == [*before, *(["judging.original_ruled_out", *why] if why else [])]


def test_it_is_said_where_the_item_cannot_be_made_of_the_original() -> None:
    cotton = DesignerYarn(fibres=a_blend("cotton 100"))
    told = requirements(an_ask(20, item=ItemKind.FELTED_BAG, designer_yarn=cotton)).target.why
    assert told[-2:] == (message("judging.original_ruled_out"), Message("behaviour.will_not_felt"))


@pytest.mark.parametrize(
    ("blend", "construction", "codes", "weights"),
    [
        ("wool 100", Construction.PLIED, [], []),
        ("silk 100", Construction.PLIED, ["other_fibre"], [1]),
        ("wool 100", Construction.CHENILLE, ["other_construction"], [2]),
        ("silk 100", Construction.CHENILLE, ["other_fibre", "other_construction"], [1, 2]),
    ],
)
def test_another_make_wants_a_swatch(
    blend: str, construction: Construction, codes: list[str], weights: list[float]
) -> None:
    designer = DesignerYarn(fibres=a_blend("wool 100"), construction=Construction.PLIED)
    wanted = replace(wanting(a_target(20), designer_yarn=designer), item=ItemNeeds())
    made = wool(blend, construction=construction)
    found = judged(a_summary(stitches=20, wear_and_care=made), wanted=wanted)
    assert [(one.said.code, one.weight) for one in found.findings[1:]] == [
        (f"judging.{code}", weight) for code, weight in zip(codes, weights, strict=True)
    ]
    assert found.group is (SWATCH_FIRST if codes else AS_IT_IS)


def test_how_unlike_the_original_a_yarn_is_is_told_of_all_strands_together() -> None:
    # Two strands of 28.28 stitches and 400 m are one of 20 and 200 m. Alone 22 stitches are a
    # tenth off and 242 m another by the root: a point each. Silk is another fibre: five.
    wanted = wanting(a_target(20, 200))
    assert judged(a_summary(stitches=28.28, metres=400), wanted=wanted).unlike < 0.01
    assert judged(a_summary(stitches=22, metres=242), wanted=wanted).unlike == pytest.approx(2)
    silk = a_summary(stitches=20, metres=200, wear_and_care=wool("silk 100"))
    assert judged(silk, wanted=IN_WOOL).unlike == pytest.approx(5)


BABYS = wanting(a_target(20), item=ItemKind.HAT, wearer=Wearer.BABY)
SHEDDING = WearAndCare(Traits(sheds=Level.YES), CareLabel(), by_default=False)


def test_a_companion_that_the_wearer_must_not_have_is_passed_over() -> None:
    # Beside 25 stitches 33.33 give 20 and 40 give 21.2. What sheds is not for a baby.
    near = a_summary("N", 100 / 3, 800, wear_and_care=SHEDDING)
    far = a_summary("F", 40, 800)
    yarn = a_summary("Y", 25, 300)
    assert held(judged(yarn, near, far)) == (1, "N")
    assert held(judged(yarn, near, far, wanted=BABYS)) == (1, "F")
    assert judged(yarn, near, wanted=BABYS).group is NOT_FOR_THIS


def test_what_a_companion_brings_to_the_fabric_is_told_once() -> None:
    some = WearAndCare(Traits(sheds=Level.SOME), CareLabel(), by_default=False)
    lace = a_summary("LACE", 100 / 3, 800, wear_and_care=some)
    for yarn in (a_summary("Y", 25, 300), a_summary("Y", 25, 300, wear_and_care=some)):
        found = judged(yarn, lace, wanted=BABYS)
        shed = [one for one in found.findings if one.said.code == "behaviour.sheds_in_mouth"]
        assert (held(found), [one.weight for one in shed]) == ((1, "LACE"), [2.5])


def test_a_companion_of_another_fibre_is_told_once() -> None:
    wanted = replace(IN_WOOL, target=a_target(20), item=ItemNeeds())
    silk = a_summary("LACE", 100 / 3, 800, wear_and_care=wool("silk 100"))
    for blend in ("wool 100", "silk 100"):
        yarn = a_summary("Y", 25, 300, wear_and_care=wool(blend))
        codes = [one.said.code for one in judged(yarn, silk, wanted=wanted).findings]
        assert codes.count("judging.other_fibre") == 1
        assert "judging.with_companion" in codes


@pytest.mark.parametrize(
    ("facts", "asked"),
    [
        ({}, set()),
        ({"features": frozenset({Feature.RIBS})}, {"ribs"}),
        ({"features": frozenset({Feature.CABLES})}, {"cables"}),
        ({"features": frozenset({Feature.LONG})}, {"long"}),
        ({"features": frozenset({Feature.FELTED})}, {"felted"}),
        ({"features": frozenset({Feature.FLOATS_INSIDE})}, {"floats inside"}),
        ({"features": frozenset({Feature.RIBS, Feature.BUTTONS})}, {"ribs", "buttons"}),
        ({"gauge": PatternGauge(22, 30, StitchPattern.RIB)}, {"ribs"}),
        ({"gauge": PatternGauge(22, 30, StitchPattern.CABLES)}, {"cables"}),
        ({"gauge": PatternGauge(22, 30, StitchPattern.LACE)}, {"openwork"}),
        ({"gauge": PatternGauge(22, 30, StitchPattern.STRANDED)}, {"floats inside"}),
        ({"gauge": PatternGauge(22, 30, StitchPattern.LACE), "item": ItemKind.DRESS},
         {"openwork", "long"}),
        ({"item": ItemKind.DRESS}, {"long"}),
        ({"item": ItemKind.FELTED_BAG}, {"felted"}),
        ({"item": ItemKind.OTHER, "stitches": None}, set()),
        ({"item": ItemKind.OTHER, "features": frozenset({Feature.LONG})}, {"long"}),
        # Whoever is not named may be a child.
        ({"features": frozenset({Feature.NIGHTWEAR})}, {"nightwear", "child's nightwear"}),
        ({"features": frozenset({Feature.NIGHTWEAR}), "wearer": Wearer.ADULT}, {"nightwear"}),
    ],
)  # fmt: skip
def test_what_an_item_asks_of_its_yarn(facts: dict[str, Any], asked: set[str]) -> None:
    needs = item_needs(an_ask(**facts))
    assert {name for kind, name in needs.of if kind == "feature"} == asked
    assert needs.original is None


def test_item_groups_wearer_and_stitch_pattern_ask_something_too() -> None:
    ribbed = PatternGauge(22, 30, StitchPattern.RIB)
    needs = item_needs(an_ask(item=ItemKind.HAT, wearer=Wearer.CHILD, gauge=ribbed))
    assert needs.of == {
        ("any", ""),
        ("item", "hat"),
        ("group", "worn on the skin"),
        ("wearer", "child"),
        ("stitch pattern", "rib"),
        ("feature", "ribs"),
    }
    # Without a gauge no stitch pattern is known.
    kinds = {kind for kind, _ in item_needs(an_ask(None)).of}
    assert kinds == {"any", "item", "group", "wearer"}


def test_whoever_is_not_known_to_be_grown_up_may_be_a_child() -> None:
    # The stricter reading: common practice.
    grown = {Wearer.ADULT, Wearer.HOUSEHOLD}
    assert {wearer for wearer in Wearer if not may_be_a_child(an_ask(wearer=wearer))} == grown


def test_the_designers_yarn_is_held_against_where_its_fibres_are_known() -> None:
    cotton = DesignerYarn(fibres=a_blend("cotton 100"))
    assert item_needs(an_ask(designer_yarn=cotton)).original == traits(
        a_blend("cotton 100"), frozenset(), None
    )
    assert item_needs(an_ask(designer_yarn=DesignerYarn())).original is None
