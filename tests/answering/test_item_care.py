from shopdesk.answering.answer.whole_shelf import answer
from shopdesk.answering.judging.item_care import CareAndCautions, care_for, differences_left
from shopdesk.answering.model.ask import (
    Ask,
    DesignerYarn,
    Drying,
    Feature,
    ItemKind,
    PatternGauge,
    StitchPattern,
    Washing,
    Wearer,
)
from shopdesk.answering.profile.summary import label_wear_and_care
from shopdesk.craft.items import Measurements
from shopdesk.craft.messages import Message
from shopdesk.craft.yarn import CareLabel, ShelfYarn
from tests.factories import a_care, a_label, a_lot, a_yarn, an_ask, shop_terms

COTTON = a_yarn("COT", label=a_label(fibres="cotton 100", care=a_care(40, "normal", tumble="low")))
MOHAIR = a_yarn("MOH", label=a_label("Lace", 840, 25, "mohair 70, silk 30", care=a_care()))


def careful(ask: Ask, yarn: ShelfYarn, companion: ShelfYarn | None = None) -> CareAndCautions:
    strands = [label_wear_and_care(one.label) for one in (yarn, companion) if one is not None]
    return care_for(ask, strands, "")


def codes(messages: tuple[Message, ...]) -> list[str]:
    return [said.code for said in messages]


def cautioned(seen: CareAndCautions) -> list[str]:
    return [caution.code for caution in seen.cautions]


def test_lace_strand_beside_the_yarn_decides_care_and_cautions() -> None:
    ask = an_ask(wearer=Wearer.BABY)
    assert cautioned(careful(ask, COTTON)) == []
    both = careful(ask, COTTON, MOHAIR)
    assert both.view.label == CareLabel(wash_c=30, wash_action="hand")
    # That mohair may felt is the same fact to the customer as that it is washed by hand.
    assert {"shedding", "hand wash only"} <= set(cautioned(both))
    assert "may felt" not in cautioned(both)


def test_felting_strand_beside_one_that_does_not_is_washed_first() -> None:
    wool = a_yarn("WOO", label=a_label(fibres="wool 100", care=a_care()))
    assert codes(careful(an_ask(), COTTON, wool).view.differences) == ["washing.felting_and_not"]
    assert careful(an_ask(), wool).view.differences == ()


def test_what_one_strand_does_not_stand_spoils_both_whatever_is_known_of_the_other() -> None:
    bare = a_yarn("BARE", label=a_label(None, 840, 25, "cotton 100", care=CareLabel()))
    wool = a_yarn("WOO", label=a_label(fibres="wool 100", care=a_care(tumble="none")))
    tumbled = an_ask(washing=Washing.MACHINE_40, drying=Drying.TUMBLE)
    known = codes(careful(tumbled, wool).view.differences)
    assert known == ["washing.felts_in_machine", "washing.felts_in_dryer"]
    for pair in ((wool, bare), (bare, wool)):
        told = codes(careful(tumbled, *pair).view.differences)
        assert set(known) <= set(told)
        assert not any(
            c.endswith("not_known") for c in codes(careful(tumbled, *pair).view.differences)
        )
    # What the known one stands, nobody knows of both.
    both = codes(careful(tumbled, COTTON, bare).view.differences)
    assert both == ["washing.not_known", "washing.tumble_not_known"]


def test_light_beside_dark_is_washed_first_and_changes_no_group() -> None:
    plain, mixed = an_ask(), an_ask(features=frozenset({Feature.LIGHT_AND_DARK}))
    assert codes(careful(mixed, COTTON).view.differences) == ["washing.dark_and_pale"]
    groups = [
        [c.group for c in answer(ask, [COTTON], shop_terms()).candidates] for ask in (plain, mixed)
    ]
    assert groups[0] == groups[1]


def test_band_goes_before_the_fibres_usual_care() -> None:
    unlabelled = a_yarn(label=a_label(fibres="cotton 100"))
    seen = careful(an_ask(wearer=Wearer.CHILD), unlabelled)
    assert seen.view.by_default
    assert codes(seen.view.words)[0] == "care.usual_not_from_label"
    assert "care unknown" in cautioned(seen)
    labelled = careful(an_ask(wearer=Wearer.CHILD), COTTON)
    assert not labelled.view.by_default
    assert "care unknown" not in cautioned(labelled)


def test_openwork_and_floats_of_the_pattern_reach_the_cautions() -> None:
    for pattern in (StitchPattern.LACE, StitchPattern.STRANDED):
        gauge = PatternGauge(22, 30, pattern)
        ask = an_ask(gauge=gauge, item=ItemKind.MITTS, wearer=Wearer.BABY)
        assert "open over fingers or toes" in cautioned(careful(ask, COTTON))
    plain = an_ask(item=ItemKind.MITTS, wearer=Wearer.BABY)
    assert "open over fingers or toes" not in cautioned(careful(plain, COTTON))


def test_colour_that_may_bleed_is_named_with_the_colour() -> None:
    navy, ice = a_lot(30, colour="7", name="Navy"), a_lot(30, colour="8", name="Ice")
    [candidate] = answer(an_ask(), [a_yarn(lots=(navy, ice))], shop_terms()).candidates
    bleeding = [c.colour_code for c in candidate.colours if "washing.may_bleed" in codes(c.advice)]
    assert bleeding == ["7"]


WOOL = a_yarn("WOO", label=a_label(fibres="wool 100", care=a_care()))


def test_unknown_wearer_with_a_chest_of_48_cm_gets_the_babys_cautions_and_care() -> None:
    buttons = frozenset({Feature.BUTTONS, Feature.CORDS})
    small = an_ask(measurements=Measurements(chest_cm=48), features=buttons)
    surely = an_ask(wearer=Wearer.BABY, features=buttons)
    for yarn in (WOOL, MOHAIR, a_yarn(label=a_label(fibres=""))):
        assert careful(small, yarn) == careful(surely, yarn)
    assert {"buttons", "prickle", "felting"} <= set(cautioned(careful(small, WOOL)))
    assert "prickle" not in cautioned(careful(an_ask(features=buttons), WOOL))


def test_what_staff_wrote_wins_over_the_chest() -> None:
    adult = an_ask(wearer=Wearer.ADULT, measurements=Measurements(chest_cm=48))
    assert cautioned(careful(adult, WOOL)) == []


def test_several_sizes_are_for_who_has_the_chosen_one() -> None:
    sizes = ("3 months", "2 years", "8 years")
    by_size = {
        size: cautioned(careful(an_ask(size_names=sizes, chosen_size=size), MOHAIR))
        for size in sizes
    }
    # Pile that sheds: not under 3.
    assert {size for size, found in by_size.items() if "shedding" in found} == set(sizes[:2])


def test_a_weight_called_baby_asks_and_tells_what_would_hold() -> None:
    ask = an_ask(designer_yarn=DesignerYarn(weight_names=("baby",)))
    [shedding] = [one for one in careful(ask, MOHAIR).cautions if one.code == "shedding"]
    assert shedding.text.code == "cautions.with_basis_if_baby"
    assert shedding.flag
    answered = answer(ask, [MOHAIR], shop_terms())
    assert "unknown.wearer_baby" in codes(answered.unknown)
    assert "unknown.wearer" not in codes(answered.unknown)
    assert answered.wearer is not None
    alpaca = an_ask(designer_yarn=DesignerYarn(attributes=frozenset({"baby alpaca"})))
    assert cautioned(careful(alpaca, MOHAIR)) == []
    assert answer(alpaca, [MOHAIR], shop_terms()).wearer is None


def test_a_difference_in_washing_that_a_caution_tells_is_not_told_again() -> None:
    ask = an_ask(wearer=Wearer.BABY, washing=Washing.MACHINE_40)
    seen = careful(ask, WOOL)
    assert "washing.felts_in_machine" in codes(seen.view.differences)
    assert "felting" in cautioned(seen)
    left = codes(differences_left(seen.view, seen.cautions))
    assert left == [one for one in codes(seen.view.differences) if one not in FELTS]
    assert differences_left(seen.view, ()) == seen.view.differences


FELTS = {"washing.felts_in_machine", "washing.felts_when_rougher"}
