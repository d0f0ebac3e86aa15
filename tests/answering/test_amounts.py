"""Skeins of each part, what is spare, and the price."""

from dataclasses import replace
from decimal import Decimal
from typing import Any

import pytest

from shopdesk.answering.model.answer import Need, PartAmount
from shopdesk.answering.supply.amounts import (
    all_skeins,
    part_amounts,
    price_of,
    skeins_of,
    skeins_together,
    whole_price,
)
from shopdesk.craft.figures import Basis, Figure
from shopdesk.craft.messages import message
from shopdesk.craft.quantity import in_skeins_m, likely_m, need_from_balls
from shopdesk.craft.yarn import PutUp
from tests.factories import a_label, a_yarn, shop_terms

BALL = PutUp(50, 125)


def a_need(plan_m: float | None) -> Need:
    """A need without any allowance: what is likely is what skeins must hold."""
    return Need("main", None, 0.0, Decimal(10), 0.0, plan_m, (), skein_m=plan_m, bare_m=plan_m)


def a_pattern_need(likely_m: float, skein_m: float, most_m: float) -> Need:
    """A need by the pattern's range, of which whole skeins must hold so much."""
    figure = Figure(likely_m, likely_m, most_m, Basis.ESTIMATE)
    return replace(a_need(likely_m), pattern_m=figure, skein_m=skein_m)


def amount(
    plan_m: float | None, put_up: PutUp | None = BALL, strands: int = 1, tex: float | None = None
) -> PartAmount:
    [found] = part_amounts((a_need(plan_m),), put_up, strands, tex)
    return found


def figures(found: PartAmount) -> Any:
    return found.skeins, found.spare_m, found.spare_g, found.prudent_extra


def test_a_thin_spare_makes_one_more_prudent() -> None:
    # 1100 m in balls of 125 m are 9 with 25 m, 10 g, to spare. A ball of 50 g may be 4.5 g
    # short (Directive 76/211/EEC), 11.25 m, so nine of them together 33.75 m.
    found = amount(1100)
    assert figures(found) == (9, pytest.approx(25), pytest.approx(10), 1)
    assert found.why == (message("needs.prudent_extra", spare_m=25.0, short_g=4.5, ball_g=50),)
    assert (found.part, found.strands, found.need.plan_m) == ("main", 1, 1100)


def test_a_count_beyond_what_is_likely_says_why() -> None:
    # 990 m would fill eight balls of 125 m but for 10 m, and may become 1100: nine.
    [found] = part_amounts((a_pattern_need(990, 1072, 1100),), BALL, 1, None)
    assert figures(found) == (9, pytest.approx(135), pytest.approx(54), 0)
    assert found.why == (message("needs.counted_more", count=1, most_m=1100, spare_m=10.0),)
    # Where what is likely fills as many, there is nothing to explain.
    [same] = part_amounts((a_pattern_need(1010, 1072, 1100),), BALL, 1, None)
    assert (same.skeins, same.why) == (9, ())


def test_the_reason_counts_every_strand_and_what_is_in_hand() -> None:
    held = replace(a_pattern_need(990, 872, 1100), own_strand_m=200, bare_m=790)
    [found] = part_amounts((held,), BALL, 2, None)
    # 1744 m are 14 balls; 1580 m alone 13, with 45 m to spare; at most 2 x 900 m.
    assert found.skeins == 14
    said = message("needs.counted_more", count=1, most_m=1800.0, spare_m=45.0)
    assert said in found.why


def test_a_patterns_count_of_balls_is_the_count_in_the_same_balls() -> None:
    for balls in range(1, 60):
        figure = need_from_balls(balls, BALL)
        for percent in (0, 10, 25):
            needed = in_skeins_m(figure, Decimal(percent))
            bare = likely_m(figure)
            need = replace(a_need(needed), pattern_m=figure, bare_m=bare)
            [found] = part_amounts((need,), BALL, 1, None)
            assert (found.skeins, found.prudent_extra) == (balls, 0)


def test_a_good_spare_needs_no_more() -> None:
    # 1050 m: 75 m to spare.
    found = amount(1050)
    assert figures(found) == (9, pytest.approx(75), pytest.approx(30), 0)
    assert found.why == ()


def test_every_strand_needs_the_whole_length() -> None:
    # 2200 m are 18 balls, and 50 m to spare; 18 balls may be 11.25 x root(18) = 47.7 m short.
    found = amount(1100, strands=2)
    assert figures(found) == (18, pytest.approx(50), pytest.approx(20), 0)
    assert found.why == (message("needs.every_strand", count=2, total_m=2200),)
    # 2205 m leave 45 m, less than that.
    thin = amount(1102.5, strands=2)
    assert thin.prudent_extra == 1
    assert [said.code for said in thin.why] == ["needs.every_strand", "needs.prudent_extra"]


def test_nothing_needed_is_no_skein_and_no_extra() -> None:
    assert figures(amount(0)) == (0, 0, 0, 0)


def test_a_ball_without_a_set_tolerance_gets_no_extra() -> None:
    assert figures(amount(100, PutUp(4, 10))) == (10, 0, 0, 0)


def test_an_unknown_need_is_no_number_of_skeins() -> None:
    for found in (amount(None), amount(None, None, 2)):
        assert figures(found) == (None, None, None, 0)
        assert found.why == (message("needs.skeins_unknown"),)


def test_without_a_put_up_the_length_is_weighed_off() -> None:
    # 1100 m of 400 g per km are 440 g.
    found = amount(1100, None, tex=400)
    assert figures(found) == (None, None, None, 0)
    assert found.why == (message("needs.weigh_off", total_m=1100, mass_g=440.0),)
    both = amount(1100, None, strands=2, tex=400)
    assert both.why == (
        message("needs.every_strand", count=2, total_m=2200),
        message("needs.weigh_off", total_m=2200, mass_g=880.0),
    )
    assert amount(1100, None).why == (message("needs.length_only", total_m=1100),)


def test_skeins_are_unknown_where_need_or_put_up_is() -> None:
    assert skeins_of(a_need(1100), 125, 1) == 9
    assert skeins_of(a_need(1100), 125, 2) == 18
    assert skeins_of(a_need(None), 125, 1) is None
    assert skeins_of(a_need(1100), None, 1) is None


@pytest.mark.parametrize(
    ("skeins", "together"), [([3, 4], 7), ([0], 0), ([], None), ([3, None], None), ([None], None)]
)
def test_skeins_of_all_parts(skeins: list[int | None], together: int | None) -> None:
    assert all_skeins(skeins) == together


def test_parts_are_counted_what_they_add_to_those_before() -> None:
    # 190 m and 25 m are 215 m: two balls of 125 m, and not two and one.
    amounts = part_amounts((a_need(190), a_need(25), a_need(100)), BALL, 1, None)
    assert [amount.skeins for amount in amounts] == [2, 1, 1]
    assert skeins_together(amounts, 125) == (2, 0, 1)
    assert skeins_together(part_amounts((a_need(190), a_need(25)), BALL, 2, None), 125) == (4, 0)
    assert skeins_together((), 125) == ()
    assert skeins_together(amounts, None) is None
    assert skeins_together((*amounts, *part_amounts((a_need(None),), BALL, 1, None)), 125) is None


def test_the_price_is_for_all_skeins_and_for_100_m_and_g() -> None:
    yarn = a_yarn(price="6.50", label=a_label(put_up=BALL))
    amounts = part_amounts((a_need(1100), a_need(100)), BALL, 1, None)
    skeins = all_skeins(amount.skeins for amount in amounts)
    price = price_of(yarn, skeins, shop_terms(currency="EUR", tax_included=True))
    # Ten balls; 6.50 x 100 / 125 and x 100 / 50.
    assert (price.currency, price.tax_included, price.each) == ("EUR", True, Decimal("6.50"))
    assert (price.total, price.per_100m, price.per_100g) == (
        Decimal("65.00"),
        Decimal("5.20"),
        Decimal("13.00"),
    )


def test_a_price_that_cannot_be_told_stays_open() -> None:
    bare = a_yarn(price="6.50", label=a_label(metres_per_100g=None))
    price = price_of(bare, None, shop_terms())
    assert (price.total, price.per_100m, price.per_100g) == (None, None, None)
    assert whole_price(Decimal("6.50"), None, "EUR") is None
    assert whole_price(Decimal("6.50"), 3, "EUR") == Decimal("19.50")
    assert price_of(bare, 0, replace(shop_terms(), tax_included=False)).tax_included is False
