"""Which yarns each wish of the customer rules out, and the colours that are left."""

from dataclasses import replace
from decimal import Decimal
from typing import Any, cast

import pytest

from shopdesk.answering.answer.whole_shelf import answer
from shopdesk.answering.ask.ask_reading import read_ask
from shopdesk.answering.model.answer import Candidate, ColourSupply, PartAmount, RuledOut
from shopdesk.answering.model.ask import Ask, Part, Wishes
from shopdesk.answering.supply.amounts import part_amounts
from shopdesk.answering.supply.colour_supply import colour_supplies
from shopdesk.answering.supply.wishes import (
    avoided_fibre,
    avoiding,
    counted,
    left_in,
    merged,
    unmet_price,
    unmet_wish,
)
from shopdesk.craft.fibres import fibres
from shopdesk.craft.messages import message
from shopdesk.craft.yarn import LotStock, PutUp
from shopdesk.wording.translate import english
from tests.answering.test_amounts import a_need
from tests.ask_documents import an_ask_document
from tests.factories import a_label, a_length, a_lot, a_yarn, an_ask, shop_terms

WOOL = message("wishes.avoid_fibre", fibre_term="terms.fibre.wool")
SILK = message("wishes.avoid_fibre", fibre_term="terms.fibre.silk")
NO_WISHES = Wishes()
DEAR = message("wishes.price", limit_price=Decimal(60))


@pytest.mark.parametrize(
    ("fibres", "avoided", "why"),
    [
        ("wool 100", set(), None),
        ("", set(), None),
        ("wool 100", {"silk"}, None),
        ("wool 100", {"wool"}, WOOL),
        ("wool 70, silk 30", {"silk", "wool"}, SILK),
        ("", {"wool"}, message("wishes.fibres_unknown")),
    ],
)
def test_a_fibre_to_avoid(fibres: str, avoided: set[str], why: Any) -> None:
    yarn = a_yarn(label=a_label(fibres=fibres))
    assert avoided_fibre(yarn, Wishes(avoid_fibres=frozenset(avoided))) == why


HAIR = {"wool", "alpaca", "llama", "mohair", "cashmere", "camel", "yak", "angora"}


def wished(**wishes: Any) -> Wishes:
    """Returns the wishes of an ask document that has these."""
    return read_ask(an_ask_document(wishes=wishes)).wishes


def test_all_animal_hair_and_silk_have_a_tick_each() -> None:
    assert wished().avoid_fibres == frozenset()
    assert wished(avoid_animal_hair=True).avoid_fibres == HAIR
    assert wished(avoid_silk=True).avoid_fibres == {"silk"}
    both = wished(avoid_animal_hair=True, avoid_silk=True, avoid_fibres=["cotton"])
    assert both.avoid_fibres == {*HAIR, "silk", "cotton"}


def test_every_fibre_is_of_an_animal_or_not() -> None:
    # Names of Regulation (EU) 1007/2011 Annex I: plants, then man-made.
    no_hair = {"cotton", "linen", "hemp", "ramie", "viscose", "modal", "lyocell", "acetate",
               "acrylic", "polyamide", "polyester", "elastane", "polylactide", "protein",
               "metallic", "other"}  # fmt: skip
    assert {one.key for one in fibres()} == {*HAIR, "silk", *no_hair}


def test_avoiding_wool_says_which_fibres_of_animals_it_leaves_in() -> None:
    said = left_in(wished(avoid_fibres=["wool"]))
    assert said is not None
    assert set(cast(tuple[str, ...], said.values["fibre_terms"])) == {
        f"terms.fibre.{one}" for one in {*HAIR, "silk"} - {"wool"}
    }
    assert "alpaca" in english(said)
    hair = left_in(wished(avoid_animal_hair=True))
    assert hair == message("wishes.left_in", fibre_terms=("terms.fibre.silk",))
    assert left_in(wished(avoid_animal_hair=True, avoid_silk=True)) is None
    assert left_in(wished(avoid_fibres=["alpaca"])) is None
    assert left_in(NO_WISHES) is None
    avoiding_wool = an_ask(wishes=wished(avoid_fibres=["wool"]))
    assert answer(avoiding_wool, [a_yarn()], shop_terms()).left_in == said


@pytest.mark.parametrize(
    ("total", "why"),
    [("59.99", None), ("60.00", None), ("60.01", DEAR), (None, message("wishes.price_unknown"))],
)
def test_a_price_limit_may_be_reached(total: str | None, why: Any) -> None:
    wishes = Wishes(price_limit=Decimal(60))
    assert unmet_price(None if total is None else Decimal(total), wishes) == why
    assert unmet_price(None if total is None else Decimal(total), Wishes()) is None


def test_what_wishes_rule_out_is_counted_by_wish_in_order() -> None:
    assert counted([(WOOL, "B"), (SILK, "C"), (WOOL, "A")]) == (
        RuledOut(SILK, 1, ("C",)),
        RuledOut(WOOL, 2, ("A", "B")),
    )
    assert avoiding({"wool": 2, None: 1, "silk": 3}) == (
        RuledOut(SILK, 3, ()),
        RuledOut(WOOL, 2, ()),
        RuledOut(message("wishes.fibres_unknown"), 1, ()),
    )
    lines = (RuledOut(WOOL, 5, ("B",)), RuledOut(SILK, 1, ()), RuledOut(WOOL, 2, ("A",)))
    assert merged(lines) == (RuledOut(SILK, 1, ()), RuledOut(WOOL, 7, ("A", "B")))


def supplies(
    lots: tuple[LotStock, ...], wishes: Wishes = NO_WISHES, hand_dyed: bool = False, **facts: Any
) -> tuple[ColourSupply, ...]:
    amounts = facts.pop("amounts", None) or amounts_of(1000)
    return colour_supplies(a_yarn(lots=lots, hand_dyed=hand_dyed, **facts), amounts, wishes)


def amounts_of(*plans: float | None) -> tuple[PartAmount, ...]:
    """1000 m are eight balls of 125 m."""
    needs = tuple(replace(a_need(plan), part=f"P{n}") for n, plan in enumerate(plans))
    return part_amounts(needs, PutUp(50, 125), 1, None)


def test_a_colour_is_supplied_from_all_its_lots() -> None:
    lots = (
        a_lot(5, "A", "1", name="Navy", family="blue", gtin="4006381333931", dark=True),
        a_lot(4, "B", "1", name="Navy", family="blue"),
    )
    [found] = supplies(lots)
    assert (found.part, found.colour_code, found.colour_name) == ("P0", "1", "Navy")
    assert (found.colour_family, found.gtin, found.dark) == ("blue", "4006381333931", True)
    assert (found.available, found.one_lot, found.short_by) == (9, False, 0)
    assert [(pick.lot, pick.skeins, pick.left_in_lot) for pick in found.picks] == [
        ("A", 5, 0),
        ("B", 3, 1),
    ]
    codes = [said.code for said in found.advice]
    assert codes[0] == "lots.mixed"
    assert codes[-1] == "washing.may_bleed"


def test_a_colour_without_its_own_number_has_the_yarns() -> None:
    [found] = supplies((a_lot(9),), gtin="96385074")
    assert found.gtin == "96385074"
    [neither] = supplies((a_lot(9),))
    assert neither.gtin is None


def test_hand_dyed_yarn_is_told_about() -> None:
    [found] = supplies((a_lot(9, None),), hand_dyed=True)
    codes = [said.code for said in found.advice]
    assert "lots.hand_dyed_alternate" in codes
    assert "washing.hand_dyed_may_bleed" in codes
    assert not found.one_lot


def test_enough_comes_before_one_lot_before_name_before_number() -> None:
    lots = (
        a_lot(7, "A", "1", name="Ash"),
        a_lot(5, "A", "2", name="Birch"), a_lot(5, "B", "2", name="Birch"),
        a_lot(9, "A", "5", name="Elder"),
        a_lot(9, "A", "4", name="Elder"),
        a_lot(9, "A", "3", name="Yew"),
    )  # fmt: skip
    assert [found.colour_code for found in supplies(lots)] == ["4", "5", "3", "2", "1"]


def test_parts_come_in_the_order_of_the_ask() -> None:
    lots = (a_lot(9, colour="1"), a_lot(20, colour="2"))
    found = supplies(lots, amounts=amounts_of(2000, 1000))
    assert [(one.part, one.colour_code, one.short_by) for one in found] == [
        ("P0", "2", 0),
        ("P0", "1", 7),
        ("P1", "1", 0),
        ("P1", "2", 0),
    ]


@pytest.mark.parametrize(
    ("wishes", "left"),
    [
        (Wishes(), ["one", "split", "nearly", "none"]),
        (Wishes(colour_family="blue"), ["split"]),
        (Wishes(in_stock_only=True), ["one", "split"]),
        (Wishes(one_lot_only=True), ["one"]),
        (Wishes(one_lot_only=True, colour_family="blue"), []),
    ],
)
def test_a_wish_leaves_the_colours_that_meet_it(wishes: Wishes, left: list[str]) -> None:
    lots = (
        a_lot(0, "A", "4", name="none"),
        a_lot(7, "A", "3", name="nearly"),
        a_lot(5, "A", "2", name="split", family="blue"),
        a_lot(5, "B", "2", name="split", family="blue"),
        a_lot(8, "A", "1", name="one"),
    )
    assert sorted(found.colour_name for found in supplies(lots, wishes)) == sorted(left)


def test_an_unknown_number_of_skeins_takes_none_and_wants_something_in_stock() -> None:
    lots = (a_lot(5, colour="1"), a_lot(0, colour="2"))
    unknown = amounts_of(None)
    assert [(one.picks, one.short_by) for one in supplies(lots, amounts=unknown)] == [((), 0)] * 2
    in_stock = supplies(lots, Wishes(in_stock_only=True), amounts=unknown)
    assert [one.colour_code for one in in_stock] == ["1"]


def judged(ask: Ask, *lots: LotStock) -> tuple[Candidate, Ask]:
    free = replace(ask, wishes=Wishes())
    [found] = answer(free, [a_yarn(lots=lots)], shop_terms()).candidates
    choices = colour_supplies(a_yarn(lots=lots), found.amounts, ask.wishes)
    return replace(found, colours=choices), ask


@pytest.mark.parametrize(
    ("wishes", "why"),
    [
        (Wishes(colour_family="blue"), message("wishes.colour", family="blue")),
        (Wishes(one_lot_only=True), message("wishes.one_lot")),
        (Wishes(in_stock_only=True), message("wishes.in_stock")),
        (Wishes(one_lot_only=True, in_stock_only=True), message("wishes.one_lot")),
        (
            Wishes(colour_family="blue", one_lot_only=True),
            message("wishes.colour", family="blue"),
        ),
        (Wishes(price_limit=Decimal(1)), message("wishes.price", limit_price=Decimal(1))),
        (
            Wishes(price_limit=Decimal(1), colour_family="blue"),
            message("wishes.price", limit_price=Decimal(1)),
        ),
        (Wishes(), None),
        (Wishes(colour_family="grey"), None),
    ],
)
def test_the_first_wish_that_is_not_met_is_told(wishes: Wishes, why: Any) -> None:
    # Nothing in grey is enough for 1000 m, and there is no blue.
    assert unmet_wish(*judged(an_ask(wishes=wishes), a_lot(2))) == why


def test_a_wish_is_met_where_every_part_has_a_colour() -> None:
    parts = (Part("MC", a_length(1000)), Part("CC", a_length(100)))
    one_lot = an_ask(wishes=Wishes(one_lot_only=True), parts=parts)
    assert unmet_wish(*judged(one_lot, a_lot(12))) is None
    # Two balls do for one part and not for the other.
    assert unmet_wish(*judged(one_lot, a_lot(2))) == message("wishes.one_lot")
    assert unmet_wish(*judged(an_ask(parts=parts))) is None
