"""Leftovers of house yarns: the shelf tells what was not said, and refuses what is not there."""

from typing import Any

import pytest
from sqlalchemy import Engine

from shopdesk.answering.ask.ask_reading import read_ask
from shopdesk.craft.errors import InputErrors
from shopdesk.craft.yarn import CareLabel, PutUp
from shopdesk.services.answers import AskPut, answer_again, ask_the_shelf, judge_yarn
from shopdesk.services.own_yarns import with_own_yarns
from shopdesk.shelf.writing import writing
from shopdesk.shop.shop import Shop
from shopdesk.store.database import reading
from tests.ask_documents import a_part, an_ask_document
from tests.factories import a_label
from tests.shelf.rows import put_yarn

LEFTOVER = {"mass": {"value": 100, "unit": "g"}, "sku": "T-1"}


@pytest.fixture
def shop(shelf: Engine) -> Shop:
    """A shop of two yarns, of one of which the customer has 100 g, 225 m."""
    with writing(shelf) as session:
        put_yarn(session, label=a_label(care=CareLabel(wash_action="hand", wash_c=30)))
        put_yarn(session, "T-2")
    return Shop(shelf)


def document(own: dict[str, Any]) -> dict[str, Any]:
    return an_ask_document(parts=[a_part(1000, own=own)], washing="machine 40")


def codes(shop: Shop, sku: str) -> list[str]:
    judged = judge_yarn(shop, read_ask(document(LEFTOVER)), [sku])[sku]
    return [said.code for said in judged.candidate.amounts[0].why]


def test_the_shelf_knows_how_long_a_leftover_of_its_own_is(shop: Shop) -> None:
    # 100 g of 2.25 m are 225 m, 216 m where the air was damp: 1100 - 216.
    answer = answer_again(shop, read_ask(document(LEFTOVER)))
    assert answer.needs[0].own_m == pytest.approx(216)
    assert answer.needs[0].plan_m == pytest.approx(884)
    assert [said.code for said in answer.needs[0].own_told] == ["needs.own_caution"]


def test_only_the_same_yarn_meets_itself(shop: Shop) -> None:
    assert "needs.own_same_yarn" in codes(shop, "T-1")
    assert "needs.own_two_yarns" in codes(shop, "T-2")


def test_a_yarn_that_the_shop_does_not_know_is_refused_at_its_place(shop: Shop) -> None:
    said = document({**LEFTOVER, "sku": "NONE"})
    with pytest.raises(InputErrors) as refusal:
        ask_the_shelf(shop, AskPut(said, read_ask(said)))
    assert [problem.place for problem in refusal.value.problems] == ["parts[0].own.sku"]


def test_one_that_is_gone_since_stays_as_it_was_said(shop: Shop) -> None:
    ask = read_ask(document({**LEFTOVER, "sku": "GONE"}))
    with reading(shop.engine) as session:
        assert with_own_yarns(session, ask) == ask
    assert [said.code for said in answer_again(shop, ask).needs[0].why][-1] == "needs.own_unknown"


def test_what_was_said_of_it_goes_before_the_shelf(shop: Shop) -> None:
    own = {**LEFTOVER, "put_up": {"mass": {"value": 50, "unit": "g"},
                                  "length": {"value": 200, "unit": "m"}}}  # fmt: skip
    with reading(shop.engine) as session:
        known = with_own_yarns(session, read_ask(document(own)))
    assert known.parts[0].own is not None
    assert known.parts[0].own.put_up == PutUp(50, 200)
