"""What is known of the designer's yarn, and how far another yarn is from it."""

from dataclasses import replace
from typing import Any

import pytest

from shopdesk.answering.judging.companions import StrandCombination
from shopdesk.answering.judging.original import (
    Original,
    is_the_original,
    make_findings,
    original_of,
    unlike_original,
    washed_as_asked,
)
from shopdesk.answering.model.answer import Suitability, Target
from shopdesk.answering.model.ask import DesignerYarn, Drying, ItemKind, Washing
from shopdesk.answering.profile.summary import YarnSummary, label_wear_and_care
from shopdesk.craft.behaviour import traits
from shopdesk.craft.figures import Basis
from shopdesk.craft.likeness import make_of
from shopdesk.craft.messages import Message
from shopdesk.craft.yarn import Construction
from tests.answering.summaries import a_figure, a_summary, a_target, on_the_needles
from tests.factories import a_band_gauge, a_blend, a_care, a_label, an_ask

SWATCH_FIRST = Suitability.SWATCH_FIRST
SUPERWASH = frozenset({"superwash"})


def an_original(fibres: str = "wool 100", **facts: Any) -> Original:
    found = original_of(an_ask(designer_yarn=DesignerYarn(fibres=a_blend(fibres), **facts)))
    assert found is not None
    return found


def a_house_yarn(fibres: str = "wool 100", **facts: Any) -> YarnSummary:
    return a_summary(wear_and_care=label_wear_and_care(a_label(fibres=fibres, **facts)))


def make(fibres: str, *attributes: str, construction: Construction | None = None) -> str:
    return make_of(a_blend(fibres), frozenset(attributes), construction)


def test_the_original_is_as_the_pattern_states_it() -> None:
    found = an_original("wool 75, polyamide 25", strands=2, construction=Construction.PLIED)
    assert found.strands == 2
    assert found.make == make("wool 75, polyamide 25", construction=Construction.PLIED)
    assert found.traits == traits(a_blend("wool 75, polyamide 25"), frozenset(), Construction.PLIED)
    assert original_of(an_ask()) is None


def test_how_an_original_behaves_is_not_known_without_its_fibres() -> None:
    found = an_original("", construction=Construction.PLIED)
    assert (found.make, found.traits) == ("", None)


def test_the_original_has_the_care_of_its_label_else_what_is_usual_for_its_fibres() -> None:
    stated = an_original("wool 100", care=a_care(60, "normal")).wear_and_care
    assert (stated.care.wash_c, stated.care.wash_action, stated.by_default) == (60, "normal", False)
    # Plain wool is washed by hand at 30 degrees (usual_care.csv).
    usual = an_original("wool 100").wear_and_care
    assert (usual.care.wash_c, usual.care.wash_action, usual.by_default) == (30, "hand", True)


def test_the_originals_own_label_may_disagree_with_itself() -> None:
    # Worsted is 16 to 20 stitches by the Standard Yarn Weight System; 30 is sock yarn.
    odd = an_original(weight_names=("worsted",), gauge=a_band_gauge(30))
    assert odd.doubts == {"profile.name_against_gauge"}
    assert an_original(weight_names=("worsted",), gauge=a_band_gauge(18)).doubts == frozenset()


def the_same(
    original: Original | None = None,
    yarn: YarnSummary | None = None,
    target: Target | None = None,
    held: StrandCombination | None = None,
) -> bool:
    return is_the_original(
        target or a_target(20, 200),
        original or an_original(),
        yarn or a_house_yarn(),
        held or on_the_needles(20, 200),
    )


@pytest.mark.parametrize(
    ("metres", "same"),
    # Of 200 m within 2 % (judgement.csv).
    [(200, True), (203.9, True), (204.1, False), (196.1, True), (195.9, False), (None, False)],
)
def test_the_original_has_the_length_that_the_pattern_states(
    metres: float | None, same: bool
) -> None:
    assert the_same(held=on_the_needles(20, metres)) is same
    assert not the_same(target=a_target(20))


@pytest.mark.parametrize(
    ("wanted", "got", "same"),
    [
        # Of 20 stitches of a band within 2 %, where the other is a band's too.
        (a_figure(20), a_figure(20.39), True),
        (a_figure(20), a_figure(20.41), False),
        (a_figure(20), a_figure(19.61), True),
        (a_figure(20), a_figure(19.59), False),
        # Neither what the pattern was knitted at nor the shop's own swatch is a band.
        (a_figure(20, basis=Basis.PATTERN), a_figure(25), True),
        (a_figure(20, basis=Basis.ESTIMATE), a_figure(25), True),
        (a_figure(20), a_figure(25, basis=Basis.SHOP), True),
        (a_figure(20), a_figure(25, basis=Basis.ESTIMATE), True),
        (a_figure(20, basis=Basis.ESTIMATE), a_figure(25, basis=Basis.ESTIMATE), True),
        (None, a_figure(25), True),
        (a_figure(20), None, True),
    ],
)
def test_the_band_of_the_original_is_held_against_a_band(wanted: Any, got: Any, same: bool) -> None:
    original = replace(an_original(), stitches=wanted)
    yarn = replace(a_house_yarn("wool 100"), natural_stitches=got)
    assert the_same(original, yarn=yarn) is same
    # Of several strands each one's band is compared.
    twice = replace(original, strands=2)
    assert the_same(twice, yarn=yarn, held=on_the_needles(28, 200, strands=2)) is same


@pytest.mark.parametrize(
    ("fibres", "facts", "same"),
    [
        ("wool 100", {}, True),
        ("wool 100", {"construction": Construction.PLIED}, True),
        ("wool 100", {"attributes": SUPERWASH}, False),
        ("wool 99, silk 1", {}, False),
        ("", {}, False),
    ],
)
def test_the_original_has_the_fibres_and_treatment_that_the_pattern_states(
    fibres: str, facts: dict[str, Any], same: bool
) -> None:
    assert the_same(yarn=a_house_yarn(fibres, **facts)) is same


def test_the_original_is_made_as_the_pattern_states_where_both_tell() -> None:
    plied = an_original(construction=Construction.PLIED)
    assert the_same(plied)
    assert the_same(plied, a_house_yarn(construction=Construction.PLIED))
    assert not the_same(plied, a_house_yarn(construction=Construction.SINGLE))
    assert not the_same(an_original(""), a_house_yarn(""))


def test_the_original_is_held_as_the_pattern_holds_it() -> None:
    double = replace(on_the_needles(20, 200), strands=2)
    assert the_same(an_original(strands=2), held=double)
    assert not the_same(an_original(strands=2))
    assert not the_same(held=double)
    assert not the_same(held=replace(on_the_needles(20, 200), companion=a_summary("LACE")))
    assert not is_the_original(a_target(20, 200), None, a_house_yarn(), on_the_needles(20, 200))


WOOL = make("wool 100")


@pytest.mark.parametrize(
    ("target", "stitches", "metres", "unlike"),
    [
        (a_target(20, 200), 20, 200, 0),
        # Ten points a share of gauge: a tenth finer or coarser is one.
        (a_target(20), 22, None, 1),
        (a_target(20), 18, None, 1),
        # Ten points a share of the root of length: 1.1^2 x 200 = 242, 0.9^2 x 200 = 162.
        (a_target(metres=200), None, 242, 1),
        (a_target(metres=200), None, 162, 1),
        (a_target(20, 200), 22, 242, 2),
        # What a weight name lets expect counts half.
        (a_target(usual_metres=200), None, 242, 0.5),
        (a_target(usual_metres=200), None, 162, 0.5),
        # What is unknown of either adds nothing.
        (a_target(20, 200), None, None, 0),
        (a_target(), 22, 242, 0),
    ],
)
def test_how_far_gauge_and_length_are_from_what_is_wanted(
    target: Target, stitches: float | None, metres: float | None, unlike: float
) -> None:
    for original in (None, an_original()):
        found = unlike_original(target, original, stitches, metres, WOOL)
        assert found == pytest.approx(unlike)


@pytest.mark.parametrize(
    ("made", "unlike"),
    [
        (WOOL, 0),
        # Five points for another fibre of another family, half of it within one family.
        (make("cotton 100"), 5),
        # A quarter is of another fibre and family.
        (make("wool 75, polyamide 25"), 1.25),
        # A treatment or construction that one of them has is a tenth of another fibre.
        (make("wool 100", "superwash"), 0.5),
        (make("wool 100", "superwash", "merino"), 1),
        ("", 0),
    ],
)
def test_how_far_the_make_is_from_the_originals(made: str, unlike: float) -> None:
    assert unlike_original(a_target(), an_original(), None, None, made) == pytest.approx(unlike)
    assert unlike_original(a_target(), None, None, None, made) == 0
    assert unlike_original(a_target(), an_original(""), None, None, made) == 0


def test_fibres_of_one_family_are_half_as_far() -> None:
    mohair = an_original("mohair 100")
    assert unlike_original(a_target(), mohair, None, None, make("alpaca 100")) == pytest.approx(2.5)


@pytest.mark.parametrize(
    ("made", "codes"),
    [
        (make("wool 100", construction=Construction.PLIED), []),
        (make("wool 100", "superwash"), []),
        # Half of one family is still of one kind.
        (make("wool 50, cotton 50"), []),
        (make("wool 49, cotton 51"), ["other_fibre"]),
        (make("cotton 100"), ["other_fibre"]),
        # Plied and cabled yarns are alike; a single, a tape or a chenille is not.
        (make("wool 100", construction=Construction.CABLED), []),
        (make("wool 100", construction=Construction.SINGLE), ["other_construction"]),
        (make("wool 100", construction=Construction.TAPE), ["other_construction"]),
        (make("silk 100", construction=Construction.CHENILLE),
         ["other_fibre", "other_construction"]),
        ("", []),
    ],
)  # fmt: skip
def test_another_fibre_or_construction_wants_a_swatch(made: str, codes: list[str]) -> None:
    weights = {"other_fibre": 1, "other_construction": 2}
    found = make_findings(an_original(construction=Construction.PLIED), made)
    assert [(one.said.code, one.group, one.weight) for one in found] == [
        (f"judging.{code}", SWATCH_FIRST, weights[code]) for code in codes
    ]
    assert make_findings(None, made) == []


@pytest.mark.parametrize(
    ("construction", "codes"),
    [
        (None, []),
        (Construction.PLIED, []),
        (Construction.CABLED, []),
        # Mohair is brushed whether the pattern says so or not.
        (Construction.BRUSHED, []),
        (Construction.SINGLE, ["unusual_construction"]),
        (Construction.TAPE, ["unusual_construction"]),
    ],
)
def test_an_original_that_does_not_say_how_it_is_made_is_taken_for_plied(
    construction: Construction | None, codes: list[str]
) -> None:
    found = make_findings(an_original(), make("wool 100", construction=construction))
    assert [(one.said.code, one.weight) for one in found] == [(f"judging.{c}", 2) for c in codes]


@pytest.mark.parametrize(
    ("facts", "codes"),
    [
        # Plain wool felts in the machine and the dryer; dried on a line it is only changed.
        ({"washing": Washing.MACHINE_40}, ["felts_in_machine"]),
        ({"drying": Drying.TUMBLE}, ["felts_in_dryer"]),
        ({"washing": Washing.MACHINE_40, "drying": Drying.TUMBLE},
         ["felts_in_machine", "felts_in_dryer"]),
        ({"drying": Drying.LINE}, []),
        ({"washing": Washing.HAND}, []),
        # Nobody said how the blanket is washed: often is only supposed.
        ({"item": ItemKind.BLANKET}, []),
        ({"item": ItemKind.BLANKET, "washing": Washing.MACHINE_40}, ["felts_in_machine"]),
    ],
)  # fmt: skip
def test_the_original_itself_may_not_stand_what_the_customer_does(
    facts: dict[str, Any], codes: list[str]
) -> None:
    found = washed_as_asked(an_ask(**facts), an_original())
    against = [said.code for group, said in found if group is Suitability.NOT_FOR_THIS]
    assert against == [f"washing.{code}" for code in codes]


def test_where_washing_often_is_only_supposed_the_original_is_washed_otherwise() -> None:
    found = list(washed_as_asked(an_ask(item=ItemKind.BLANKET), an_original()))
    assert (Suitability.WITH_A_CHANGE, Message("washing.felts_in_machine")) in found
    assert Suitability.NOT_FOR_THIS not in [group for group, _ in found]


def test_of_an_original_that_stands_it_or_is_not_known_nothing_is_said() -> None:
    ask = an_ask(washing=Washing.MACHINE_40)
    assert list(washed_as_asked(ask, an_original(""))) == []
    treated = an_original(attributes=SUPERWASH, care=a_care(40, "normal"))
    assert list(washed_as_asked(ask, treated)) == []
