"""What item, wearer and washing want of a yarn, and how it is judged beside the original."""

from dataclasses import replace
from typing import Any

import pytest

from shopdesk.answering.judging.companions import Companions
from shopdesk.answering.judging.grades import Reason
from shopdesk.answering.judging.item_care import worn_item
from shopdesk.answering.judging.judge import (
    Judgement,
    Requirements,
    behaviour_findings,
    item_needs,
    judge_one,
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
from shopdesk.craft.yarn import CareLabel, Construction
from tests.answering.summaries import a_summary, a_target
from tests.factories import a_blend, a_label, an_ask

AS_IT_IS, SWATCH_FIRST, WITH_A_CHANGE, NOT_FOR_THIS = Suitability


def wanting(target: Target, **facts: Any) -> Requirements:
    return replace(requirements(an_ask(20, **facts)), target=target)


def judged(yarn: YarnSummary, *companions: YarnSummary, wanted: Requirements) -> Judgement:
    return judge_one(wanted, yarn, Companions(companions))


def held(judgement: Judgement) -> tuple[int, str | None]:
    companion = judgement.held.companion
    return judgement.held.strands, companion.sku if companion else None


def worn(blend: str = "wool 100", **facts: Any) -> WearAndCare:
    return label_wear_and_care(a_label(fibres=blend, **facts))


def test_a_disagreement_that_the_originals_label_has_too_costs_nothing() -> None:
    doubts = (message("profile.gauge_against_length"), message("profile.name_against_gauge"))
    original = Original(1, None, frozenset({"profile.gauge_against_length"}), worn())
    wanted = replace(wanting(a_target(20)), original=original)
    found = judged(a_summary(stitches=20, doubts=doubts), wanted=wanted)
    # The other one is the first that is told, and weighs as much as one.
    assert [(one.said, one.weight) for one in found.findings[1:]] == [(doubts[1], 1)]


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


IN_WOOL = wanting(a_target(20, 200), designer_yarn=DesignerYarn(fibres=a_blend("wool 100")))


def test_a_yarn_of_which_all_is_true_that_the_pattern_states_is_the_original() -> None:
    doubts = (message("profile.gauge_against_length"),)
    yarn = a_summary(stitches=20, metres=200, doubts=doubts, wear_and_care=worn())
    found = judged(yarn, wanted=IN_WOOL)
    # It weighs nine, so that it is said first, and stands a point before all others.
    same = Reason(AS_IT_IS, message("judging.same_facts"), 9)
    assert (found.findings, found.unlike, held(found)) == ((same,), -1, (1, None))
    assert found.group is AS_IT_IS
    nearly = judged(replace(yarn, wear_and_care=worn("wool 90, silk 10")), wanted=IN_WOOL)
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
    cotton = a_summary(stitches=20, metres=200, wear_and_care=worn("cotton 100"))
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
    ("fibres", "why"),
    # Alpaca loses a hair or two, which a swatch shows; what sheds as mohair does is not for a baby.
    # Merino lacks nothing.
    [
        (
            "alpaca 100",
            ["original_lacks", "may_felt_in_machine", "sheds_in_mouth", "prickles_a_child"],
        ),
        ("mohair 100", ["original_ruled_out", "sheds_in_mouth"]),
        ("cotton 100", []),
    ],
)
def test_it_is_said_what_the_wearer_finds_in_the_original(fibres: str, why: list[str]) -> None:
    designer = DesignerYarn(fibres=a_blend(fibres))
    ask = an_ask(20, item=ItemKind.HAT, wearer=Wearer.BABY, designer_yarn=designer)
    told = [one.code.partition(".")[2] for one in requirements(ask).target.why]
    assert told == [*(one.code.partition(".")[2] for one in target_of(ask).why), *why]


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
    made = worn(blend, construction=construction)
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
    silk = a_summary(stitches=20, metres=200, wear_and_care=worn("silk 100"))
    assert judged(silk, wanted=IN_WOOL).unlike == pytest.approx(5)


BABYS = wanting(a_target(20), item=ItemKind.HAT, wearer=Wearer.BABY)
SHEDDING = WearAndCare(Traits(sheds=Level.YES), CareLabel(), by_default=False)


def test_a_companion_that_the_wearer_must_not_have_is_passed_over() -> None:
    # Beside 25 stitches 33.33 give 20 and 40 give 21.2. What sheds is not for a baby.
    near = a_summary("N", 100 / 3, 800, wear_and_care=SHEDDING)
    far = a_summary("F", 40, 800)
    yarn = a_summary("Y", 25, 300)
    assert held(judged(yarn, near, far, wanted=wanting(a_target(20)))) == (1, "N")
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
    silk = a_summary("LACE", 100 / 3, 800, wear_and_care=worn("silk 100"))
    for blend in ("wool 100", "silk 100"):
        yarn = a_summary("Y", 25, 300, wear_and_care=worn(blend))
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
    worn = {wearer: worn_item(an_ask(wearer=wearer)) for wearer in Wearer}
    grown = {wearer for wearer, item in worn.items() if not item.may_be_a_child}
    assert grown == {Wearer.ADULT, Wearer.HOUSEHOLD}


def test_the_designers_yarn_is_held_against_where_its_fibres_are_known() -> None:
    cotton = DesignerYarn(fibres=a_blend("cotton 100"))
    assert item_needs(an_ask(designer_yarn=cotton)).original == traits(
        a_blend("cotton 100"), frozenset(), None
    )
    assert item_needs(an_ask(designer_yarn=DesignerYarn())).original is None
