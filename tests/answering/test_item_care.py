from shopdesk.answering.answer.whole_shelf import answer
from shopdesk.answering.judging.item_care import CareAndCautions, care_for
from shopdesk.answering.model.ask import Ask, Feature, ItemKind, PatternGauge, StitchPattern, Wearer
from shopdesk.answering.profile.summary import label_wear_and_care
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
    assert {"shedding", "hand wash only"} <= set(cautioned(both))


def test_felting_strand_beside_one_that_does_not_is_washed_first() -> None:
    wool = a_yarn("WOO", label=a_label(fibres="wool 100", care=a_care()))
    assert codes(careful(an_ask(), COTTON, wool).view.differences) == ["washing.felting_and_not"]
    assert careful(an_ask(), wool).view.differences == ()


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
