"""Where a yarn stands among the others."""

from dataclasses import replace
from itertools import pairwise
from typing import Any

import pytest

from shopdesk.answering.answer.whole_shelf import answer
from shopdesk.answering.judging.grades import Reason
from shopdesk.answering.judging.ranking import (
    AT_BEST,
    MOST_COLOURS,
    SortKey,
    Supplied,
    caution_penalty,
    is_needless,
    is_proposed,
    is_proposed_beside,
    price_of_a_metre,
    sort_key,
    stepped,
    supplied_by,
    washing_findings,
    washing_group,
)
from shopdesk.answering.model.answer import Candidate, Caution, Suitability
from shopdesk.craft.messages import Message, message
from tests.factories import a_lot, a_yarn, an_ask, shop_terms

AS_IT_IS, SWATCH_FIRST, WITH_A_CHANGE, NOT_FOR_THIS = Suitability
TOO_HOT = message("washing.too_hot", label_c=30, asked_c=40)
FLAT = message("washing.dry_flat")
TUMBLE_LOW = message("washing.tumble_low")
OFTEN = message("washing.often", need_c=40)


ROUGHER = message("washing.felts_when_rougher", action_term="care.wash_action_mild")


def a_caution(flag: bool) -> Caution:
    return Caution("sleep", message("cautions.sleep"), False, "", "", flag)


def a_reason(group: Suitability, weight: float, code: str = "judging.x", **values: Any) -> Reason:
    return Reason(group, Message(code, values), weight)


def a_key(group: int = 0, exact: float = 0.0, sku: str = "A", **supplied: Any) -> SortKey:
    """The key of a yarn with one finding of this group and weight."""
    finding = a_reason(tuple(Suitability)[group], exact)
    return sort_key([finding], (), (), sku, supplied=Supplied(**supplied))


def test_nothing_found_stands_first() -> None:
    key = sort_key((), (), (), "A")
    assert key == SortKey(0, 0.0, 0, 0.0, -MOST_COLOURS, 0.0, "A")
    assert key == sort_key((), (), (), "A", supplied=AT_BEST)


def test_the_penalty_is_what_holds_the_yarn_back_and_a_point_for_each_caution_to_tell() -> None:
    findings = [
        a_reason(AS_IT_IS, 2),
        a_reason(SWATCH_FIRST, 6.05),
        a_reason(WITH_A_CHANGE, 7.1234567),
    ]
    told = [a_caution(True), a_caution(False), a_caution(True)]
    key = sort_key(findings, (), told, "A")
    # 6.05 + 7.1234567 + 2 x 1, to six places; in quarters, rounded down.
    assert (key.group, key.exact, key.penalty) == (2, 15.173457, 15.0)
    assert caution_penalty() == 1


def test_what_the_yarn_does_otherwise_holds_it_back_though_it_is_only_told() -> None:
    findings = [
        a_reason(AS_IT_IS, 0.3, "behaviour.grows"),
        a_reason(SWATCH_FIRST, 4.5, "behaviour.pills"),
        a_reason(AS_IT_IS, 0.5, "judging.length_same"),
    ]
    # Length is no trouble beside them.
    assert sort_key(findings, (), (), "A").exact == 4.8


def test_what_is_otherwise_in_washing_holds_the_yarn_back() -> None:
    # Another programme weighs 0.3, another place to dry 1, what is not stood 9 (grades.csv).
    assert sort_key([], [TUMBLE_LOW], (), "A").exact == 0.3
    assert sort_key([], [FLAT, TUMBLE_LOW], (), "A").exact == 1.3
    assert sort_key([], [TOO_HOT], (), "A").exact == 9
    # Supposed only, heat weighs 4, and that it is supposed 0.3.
    assert sort_key([], [OFTEN, TOO_HOT], (), "A").exact == 4.3


def test_how_unlike_the_original_a_yarn_is_adds_to_its_penalty() -> None:
    key = sort_key([a_reason(SWATCH_FIRST, 2)], (), (), "A", unlike=1.3)
    assert (key.group, key.exact, key.penalty) == (1, 3.3, 3.25)
    # The original stands a point before all that differs in nothing.
    original = sort_key((), (), (), "Z", unlike=-1.0)
    assert (original.exact, original.penalty) == (-1.0, -1.0)
    assert original < sort_key((), (), (), "A")


def test_the_worse_of_findings_and_washing_is_the_group() -> None:
    assert sort_key([a_reason(SWATCH_FIRST, 1)], [ROUGHER], (), "A").group == 2
    assert sort_key([a_reason(SWATCH_FIRST, 1)], [FLAT], (), "A").group == 1
    assert sort_key([a_reason(NOT_FOR_THIS, 1)], [FLAT], (), "A").group == 3
    assert sort_key([a_reason(SWATCH_FIRST, 1)], [TUMBLE_LOW], (), "A").group == 1
    assert sort_key([a_reason(SWATCH_FIRST, 1)], [TUMBLE_LOW, TOO_HOT], (), "A").group == 3
    assert sort_key([a_reason(SWATCH_FIRST, 1)], [OFTEN, TOO_HOT], (), "A").group == 2


@pytest.mark.parametrize(
    ("penalty", "step"),
    [(0, 0), (0.249, 0), (0.25, 0.25), (0.499, 0.25), (7.999, 7.75), (8, 8), (-1, -1), (-0.9, -1)],
)
def test_a_penalty_is_rounded_down_to_quarters(penalty: float, step: float) -> None:
    assert stepped(penalty) == step


def test_group_goes_first_then_penalty_then_stock_price_colours_and_what_is_left() -> None:
    better_first = [
        a_key(1, 9, "Z", stock=2, price=99, fewer_colours=0),
        # A quarter step nearer beats everything that the shop can supply.
        a_key(2, 2.2, "Y", stock=2, price=99, fewer_colours=0),
        # Of one step: the one whose colour lies in one lot, though its penalty is larger,
        a_key(2, 2.49, "X", stock=0, price=99, fewer_colours=-1),
        # then the cheaper, then the one with more colours, then the nearer, then by name.
        a_key(2, 2.49, "W", stock=1, price=80, fewer_colours=-1),
        a_key(2, 2.49, "V", stock=1, price=90, fewer_colours=-3),
        a_key(2, 2.3, "U", stock=1, price=90, fewer_colours=-2),
        a_key(2, 2.31, "B", stock=1, price=90, fewer_colours=-2),
        a_key(2, 2.31, "C", stock=1, price=90, fewer_colours=-2),
        a_key(2, 2.25, "A", stock=2, price=1, fewer_colours=0),
        a_key(3, 0, "A"),
    ]
    assert all(one < other for one, other in pairwise(better_first))


@pytest.mark.parametrize(
    ("group", "ruled_out", "limit"),
    # judgement.csv; 'few and right beats long'. What could be, where the original cannot, is more.
    [(1, False, 18), (2, False, 13), (1, True, 22), (2, True, 20)],
)
def test_what_differs_in_much_is_no_proposal(group: int, ruled_out: bool, limit: float) -> None:
    assert is_proposed(a_key(group, limit), ruled_out)
    assert not is_proposed(a_key(group, limit + 0.01), ruled_out)


@pytest.mark.parametrize("ruled_out", [False, True])
def test_what_does_as_it_is_is_proposed_and_what_is_not_for_this_never(ruled_out: bool) -> None:
    assert is_proposed(a_key(0, 99), ruled_out)
    assert not is_proposed(a_key(3, -1), ruled_out)


def test_what_needs_a_change_and_more_is_no_proposal_beside_what_needs_none() -> None:
    # judgement.csv; two strands alone weigh seven.
    assert not is_needless(a_key(2, 8))
    assert is_needless(a_key(2, 8.01))
    assert not is_needless(a_key(1, 17))


def test_the_best_may_differ_in_more_and_behind_what_does_as_it_is_no_change_is_wanted() -> None:
    swatch, change = a_key(1, 20), a_key(2, 9)
    assert is_proposed_beside(swatch, None, original_ruled_out=False)
    assert not is_proposed_beside(swatch, a_key(1, 3), original_ruled_out=False)
    assert is_proposed_beside(swatch, a_key(1, 3), original_ruled_out=True)
    assert is_proposed_beside(change, a_key(1, 3), original_ruled_out=False)
    for ruled_out in (False, True):
        assert not is_proposed_beside(change, a_key(0, 3), original_ruled_out=ruled_out)


SPOILS = [
    "must_not_be_washed",
    "felts_in_machine",
    "may_felt_in_machine",
    "hand_only",
    "too_hot",
    "no_dry_clean",
]
SPOILS_IN_THE_DRYER = ["felts_in_dryer", "no_tumble"]
OTHERWISE = ["felts_when_rougher"]
ANOTHER_PLACE = ["dry_flat"]
ANOTHER_PROGRAMME = [
    "often",
    "weak_when_wet",
    "out_of_the_sun",
    "gentler_programme",
    "may_felt_when_rougher",
    "tumble_low",
    "dark_and_pale",
    "felting_and_not",
]
NOT_KNOWN = [
    "not_known",
    "machine_not_known",
    "heat_not_known",
    "dry_clean_not_known",
    "line_not_known",
    "tumble_not_known",
]


@pytest.mark.parametrize(
    ("codes", "asked", "supposed"),
    [
        # The item is spoiled by what the customer said; what was only supposed, they can avoid.
        (SPOILS, NOT_FOR_THIS, WITH_A_CHANGE),
        # Drying is never supposed: it is compared only where the customer said it.
        (SPOILS_IN_THE_DRYER, NOT_FOR_THIS, NOT_FOR_THIS),
        (OTHERWISE, WITH_A_CHANGE, WITH_A_CHANGE),
        # What another programme meets, and what nobody knows, leaves the yarn as it is.
        (ANOTHER_PROGRAMME, AS_IT_IS, AS_IT_IS),
        (NOT_KNOWN, AS_IT_IS, AS_IT_IS),
        # Drying flat is told, and the yarn will do as it is.
        (ANOTHER_PLACE, AS_IT_IS, AS_IT_IS),
    ],
)
def test_what_a_difference_in_washing_leaves(
    codes: list[str], asked: Suitability, supposed: Suitability
) -> None:
    for code in codes:
        said = Message(f"washing.{code}", {})
        assert washing_group(said, [said, FLAT]) is asked, code
        assert washing_group(said, [OFTEN, said]) is supposed, code


def test_differences_told_later_weigh_a_tenth_less_each() -> None:
    first, second, third, fourth = washing_findings([TOO_HOT, ROUGHER, TUMBLE_LOW, TOO_HOT])
    change = message("judging.change_washing")
    assert (first.group, first.weight, first.change) == (NOT_FOR_THIS, 9, None)
    assert (second.group, second.change) == (WITH_A_CHANGE, change)
    assert second.weight == pytest.approx(4 - 0.1)
    assert (third.group, third.weight, third.change) == (AS_IT_IS, 0.3, None)
    assert fourth.weight == pytest.approx(9 - 0.3)
    assert [one.said for one in (first, second, third)] == [TOO_HOT, ROUGHER, TUMBLE_LOW]


def test_washing_that_was_only_supposed_can_be_changed() -> None:
    often, hot = washing_findings([OFTEN, TOO_HOT])
    assert (often.group, often.weight, often.change) == (AS_IT_IS, 0.3, None)
    assert (hot.group, hot.change) == (WITH_A_CHANGE, message("judging.change_washing"))
    assert hot.weight == pytest.approx(4 - 0.1)


def test_the_price_of_a_metre_is_that_of_all_strands_of_the_yarn() -> None:
    # A ball of 112.5 m at 6.75: six hundredths a metre, twelve held double.
    assert price_of_a_metre(675, 112.5, 1) == 6
    assert price_of_a_metre(675, 112.5, 2) == 12
    # What has no length stands behind all that has one.
    assert price_of_a_metre(1, None, 1) == float("inf")


def a_candidate(*short_by_and_one_lot: tuple[int, bool]) -> Candidate:
    """A yarn with a colour for each pair: so many skeins too few, or all of one lot."""
    [found] = answer(an_ask(), [a_yarn(lots=(a_lot(40),))], shop_terms()).candidates
    [colour] = found.colours
    colours = tuple(
        replace(colour, short_by=short_by, one_lot=one_lot)
        for short_by, one_lot in short_by_and_one_lot
    )
    return replace(found, colours=colours)


@pytest.mark.parametrize(
    ("colours", "stock", "enough"),
    [
        ([(0, True)], 0, 1),
        # One colour of one lot among others is enough to choose from.
        ([(0, False), (0, True), (3, False)], 0, 2),
        ([(0, False), (0, False), (0, False)], 1, 3),
        ([(1, False), (40, True)], 2, 0),
        # Nobody counted it: nothing speaks against it.
        ([], 0, 0),
    ],
)
def test_stock_is_best_in_one_lot_then_in_several_then_short(
    colours: list[tuple[int, bool]], stock: int, enough: int
) -> None:
    # More colours that have enough stand first, so each counts one below zero.
    found = supplied_by(a_candidate(*colours), 0.25)
    assert found == Supplied(stock=stock, price=0.25, fewer_colours=-enough)


def test_a_yarn_on_the_shelf_is_supplied_as_its_lots_are() -> None:
    # 1,000 m of balls of 112.5 m are at least nine balls.
    in_one = (a_lot(40, colour="1"), a_lot(1, colour="2"))
    in_two = (a_lot(7, "L1", "3"), a_lot(7, "L2", "3"))
    for lots, stock, enough in ((in_one, 0, 1), (in_one[1:], 2, 0), (in_two, 1, 1)):
        [found] = answer(an_ask(), [a_yarn(lots=lots)], shop_terms()).candidates
        assert supplied_by(found, 0.0) == Supplied(stock, 0.0, -enough)


def test_only_washing_may_be_supposed_and_drying_is_what_was_asked() -> None:
    often = message("washing.often", need_c=40)
    for code in ("washing.no_tumble", "washing.felts_in_dryer"):
        assert washing_group(message(code), [often, message(code)]) is NOT_FOR_THIS
    assert washing_group(TOO_HOT, [often, TOO_HOT]) is WITH_A_CHANGE
    assert washing_group(TOO_HOT, [TOO_HOT]) is NOT_FOR_THIS
