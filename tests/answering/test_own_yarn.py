"""Yarn that the customer brings: what it is worth for a part, and what is told of it."""

from dataclasses import replace
from decimal import Decimal
from typing import Any

import pytest

from shopdesk.answering.answer.candidates import candidate_of, prepare
from shopdesk.answering.judging.companions import Companions
from shopdesk.answering.judging.judge import judge_one
from shopdesk.answering.model.answer import Candidate, Need
from shopdesk.answering.model.ask import DesignerYarn, ItemKind, OwnYarn, Part, Washing, Wearer
from shopdesk.answering.profile.profile import shelf_profile
from shopdesk.answering.profile.summary import ProfiledYarn
from shopdesk.answering.supply.needs import needs_of
from shopdesk.answering.supply.own_yarn import (
    as_on_the_shelf,
    least_need,
    meeting_sayings,
    need_in,
    own_length,
)
from shopdesk.craft.messages import Message, message
from shopdesk.craft.yarn import CareLabel, FibreShare, PutUp, ShelfYarn
from tests.factories import a_label, a_length, a_yarn, an_ask, shop_terms

WOOL = (FibreShare("wool", Decimal(100)),)
BALL = PutUp(50, 125)


def the_need(own: OwnYarn, metres: float = 2400, strands: int = 2, **facts: Any) -> Need:
    facts.setdefault("designer_yarn", DesignerYarn(strands=strands))
    [need] = needs_of(an_ask(parts=(Part("main", a_length(metres), own),), **facts), Decimal(10))
    return need


def codes(said: tuple[Message, ...]) -> list[str]:
    return [one.code for one in said]


def test_the_designers_yarn_in_hand_is_divided_by_the_patterns_strands() -> None:
    # The trade's worked example: 2,400 m in all for two strands, 1,200 m in hand, 10 % on top:
    # 2,640 - 1,200 = 1,440 m in all, 720 m of each strand.
    need = the_need(OwnYarn(length_m=1200))
    assert (need.own_m, need.own_strand_m) == (1200, 600)
    assert need.plan_m == pytest.approx(720)
    assert codes(need.why) == ["needs.from_length", "needs.own_deducted", "needs.own_strands"]
    assert need.why[2] == message("needs.own_strands", count=2, strand_m=600.0)


def test_it_may_be_held_otherwise_than_in_the_pattern() -> None:
    assert the_need(OwnYarn(length_m=600, strands=1)).plan_m == pytest.approx(720)
    assert the_need(OwnYarn(length_m=600, strands=3)).plan_m == pytest.approx(1120)


def test_what_was_weighed_counts_at_its_dampest() -> None:
    # 100 g of 2.5 m are 250 m, and 4 % less where the air was damp.
    found = own_length(OwnYarn(mass_g=100, put_up=BALL))
    assert (found.low, found.value) == pytest.approx((240, 250))
    said = own_length(OwnYarn(length_m=250))
    assert (said.low, said.value, said.high) == (250, 250, 250)
    for unknown in (None, OwnYarn(mass_g=100), OwnYarn(put_up=BALL)):
        assert own_length(unknown).high == 0


def test_a_mass_that_cannot_be_told_in_metres_is_told_as_such() -> None:
    need = the_need(OwnYarn(mass_g=100, sku="gone"))
    assert need.plan_m == pytest.approx(1320)
    assert codes(need.why)[1:] == ["needs.own_unknown"]
    assert codes(the_need(OwnYarn(put_up=BALL)).why)[1:] == []


def test_a_house_yarn_in_hand_is_held_as_the_answer_holds_it() -> None:
    need = the_need(OwnYarn(length_m=600, sku="H-1"))
    assert need.plan_m == pytest.approx(1020)
    assert need_in(need, "H-1", 1).plan_m == pytest.approx(720)
    assert need_in(need, "H-1", 3).own_strand_m == 200
    # With another yarn it stays as it was; beside one it takes nothing off that one.
    assert need_in(need, "H-2", 1) == need
    assert need_in(need, "H-2", 1, "H-1").plan_m == pytest.approx(1320)
    assert need_in(need, "H-1", 1, "H-2").plan_m == pytest.approx(720)
    assert least_need(need).plan_m == pytest.approx(720)


def test_the_patterns_own_yarn_is_worth_the_same_whatever_is_bought() -> None:
    need = the_need(OwnYarn(length_m=600))
    assert need_in(need, "H-1", 1, "H-2") == need
    assert least_need(need) == need


def test_an_unknown_need_stays_unknown() -> None:
    unknown = replace(the_need(OwnYarn(length_m=600, sku="H-1")), pattern_m=None, plan_m=None)
    assert need_in(unknown, "H-1", 1).plan_m is None


def house(sku: str = "H-1", **label: Any) -> ShelfYarn:
    return a_yarn(sku, label=a_label(put_up=BALL, **label))


@pytest.mark.parametrize(
    ("own", "designer", "code"),
    [
        ({}, DesignerYarn(put_up=BALL, fibres=WOOL), "needs.own_like_this"),
        ({}, DesignerYarn(put_up=PutUp(50, 120), fibres=WOOL), "needs.own_two_yarns"),
        ({}, DesignerYarn(put_up=BALL), "needs.own_two_yarns"),
        ({}, None, "needs.own_two_yarns"),
        ({"sku": "H-1"}, None, "needs.own_same_yarn"),
        ({"sku": "H-2"}, DesignerYarn(put_up=BALL, fibres=WOOL), "needs.own_two_yarns"),
    ],
)
def test_yarns_that_meet_in_a_part_are_told(
    own: dict[str, Any], designer: DesignerYarn | None, code: str
) -> None:
    need = the_need(OwnYarn(length_m=100, **own), designer_yarn=designer)
    assert meeting_sayings(need, house(), designer) == (Message(code, {"part": "main"}),)


def test_nothing_meets_where_there_is_nothing_in_hand_or_nothing_to_buy() -> None:
    for metres in (0, 5000):
        assert meeting_sayings(the_need(OwnYarn(length_m=metres)), house(), None) == ()


def candidate(own: OwnYarn, **facts: Any) -> Candidate:
    ask = an_ask(parts=(Part("main", a_length(1000), own),), **facts)
    known = ProfiledYarn(house(), shelf_profile(house()))
    asked = prepare(ask, shop_terms())
    verdict = judge_one(asked.wanted, known.summary, Companions([]))
    return candidate_of(asked, verdict, {"H-1": known})


def test_a_candidate_says_which_yarns_meet() -> None:
    said = codes(candidate(OwnYarn(length_m=100)).amounts[0].why)
    assert "needs.own_two_yarns" in said
    assert "needs.own_same_yarn" in codes(candidate(OwnYarn(length_m=1, sku="H-1")).amounts[0].why)


BABYS = {"item": ItemKind.CARDIGAN, "wearer": Wearer.BABY, "washing": Washing.MACHINE_40}


def test_a_wool_leftover_in_a_babys_machine_washed_item_is_told() -> None:
    told = the_need(OwnYarn(length_m=100, fibres=WOOL), **BABYS).own_told
    assert {one.code for one in told} == {"needs.own_caution"}
    said = {one.values["said"].code for one in told if isinstance(one.values["said"], Message)}
    assert "washing.felts_in_machine" in said


def test_a_leftover_that_stands_the_wash_is_not_told() -> None:
    cotton = (FibreShare("cotton", Decimal(100)),)
    stands = CareLabel(60, "normal", tumble="normal", natural_drying="line")
    assert the_need(OwnYarn(length_m=100, fibres=cotton, care=stands), **BABYS).own_told == ()
    assert the_need(OwnYarn(length_m=100), **BABYS).own_told == ()


def test_a_label_alone_is_enough_to_be_told() -> None:
    told = the_need(OwnYarn(length_m=100, care=CareLabel(wash_action="hand")), **BABYS).own_told
    assert told


def test_what_sheds_near_a_babys_mouth_is_told() -> None:
    angora = (FibreShare("angora", Decimal(100)),)
    told = the_need(OwnYarn(length_m=100, fibres=angora), **BABYS).own_told
    said = [one.values["said"] for one in told]
    bases = [one.values.get("text_term") for one in said if isinstance(one, Message)]
    assert "cautions.shedding" in bases


def test_the_shelf_tells_what_was_not_said_of_a_house_yarn() -> None:
    yarn = house(care=CareLabel(wash_action="hand"))
    known = as_on_the_shelf(OwnYarn(mass_g=100, sku="H-1"), yarn)
    assert (known.put_up, known.fibres, known.care) == (BALL, WOOL, yarn.label.care)
    said = OwnYarn(mass_g=100, sku="H-1", put_up=PutUp(100, 300))
    assert as_on_the_shelf(said, yarn).put_up == PutUp(100, 300)
