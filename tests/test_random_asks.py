"""Asks by chance are ones that the shop would take, and of every kind."""

import random
from collections import Counter

from shopdesk.answering.answer.whole_shelf import answer
from shopdesk.answering.ask.ask_reading import read_ask
from shopdesk.answering.ask.document import AskRefused
from shopdesk.answering.model.ask import (
    AmountKind,
    Ask,
    Drying,
    Feature,
    ItemKind,
    StitchPattern,
    Washing,
    Wearer,
)
from shopdesk.craft.yarn import Craft
from tests.factories import a_yarn, shop_terms
from tests.random_asks import random_ask

MADE = 500


def accepted() -> list[Ask]:
    """Returns those of so many asks that can be read."""
    chance, found = random.Random(3), []
    for _ in range(MADE):
        try:
            found.append(read_ask(random_ask(chance)))
        except AskRefused:
            continue
    return found


def test_nearly_all_can_be_read_and_answered() -> None:
    asks = accepted()
    assert len(asks) >= 0.95 * MADE
    for ask in asks[:60]:
        answered = answer(ask, [a_yarn()], shop_terms())
        assert len(answered.candidates) + sum(one.count for one in answered.ruled_out) == 1


def test_every_kind_of_ask_comes_up() -> None:
    asks = accepted()
    assert {ask.item for ask in asks} == set(ItemKind)
    assert {ask.wearer for ask in asks} == set(Wearer)
    assert {ask.washing for ask in asks} == set(Washing)
    assert {ask.drying for ask in asks} == set(Drying)
    assert {one for ask in asks for one in ask.features} == set(Feature)
    assert {ask.gauge.stitch_pattern for ask in asks if ask.gauge} == set(StitchPattern)
    assert {part.amount.kind for ask in asks for part in ask.parts} == set(AmountKind)


def test_no_kind_crowds_out_the_others() -> None:
    asks = accepted()
    shares = Counter[str]()
    for ask in asks:
        shares["crochet"] += ask.craft is Craft.CROCHET
        shares["gauge"] += ask.gauge is not None
        shares["designer"] += ask.designer_yarn is not None
        shares["parts"] += len(ask.parts) > 1
        shares["avoid"] += bool(ask.wishes.avoid_fibres)
        shares["colour"] += ask.wishes.colour_family is not None
        shares["price"] += ask.wishes.price_limit is not None
        shares["one lot"] += ask.wishes.one_lot_only
        shares["in stock"] += ask.wishes.in_stock_only
        shares["strands"] += ask.designer_yarn is not None and ask.designer_yarn.strands > 1
    assert {what for what, number in shares.items() if not 0.03 < number / MADE < 0.95} == set()
    assert len(shares) == 10
