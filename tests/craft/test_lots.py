import pytest
from hypothesis import given
from hypothesis import strategies as st

from shopdesk.craft.lots import Lot, LotPlan, lots_planned_in, only_in, plan_lots
from tests.factories import a_lot

names = st.one_of(st.none(), st.text("ABC123", min_size=1, max_size=3))
stocks = st.lists(st.tuples(names, st.integers(-1, 25)), max_size=7)


def codes(plan: LotPlan) -> list[str]:
    return [said.code for said in plan.advice]


@pytest.mark.parametrize(
    ("needed", "lots", "taken"),
    [
        (5, [("A", 20), ("B", 5)], "B"),  # used up to the last skein
        (5, [("A", 6), ("B", 20)], "B"),  # 15 left are of use, 1 is not
        (5, [("A", 7), ("B", 8)], "B"),  # 3 left are of use, 2 are not
        (5, [("A", 20), ("B", 9)], "B"),  # the big lot stays whole
        (5, [("A", 6), ("B", 7)], "B"),  # 2 left are better than 1
        (5, [("B", 9), ("A", 9)], "A"),  # by name where nothing else tells them apart
    ],
)
def test_one_lot_with_the_most_useful_remainder(needed: int, lots: list[Lot], taken: str) -> None:
    plan = plan_lots(needed, lots)
    assert [(pick.lot, pick.skeins) for pick in plan.picks] == [(taken, needed)]
    assert plan.one_lot
    assert plan.short_by == 0
    assert plan.advice == ()


def test_the_fewest_lots_are_mixed() -> None:
    plan = plan_lots(10, [("A", 3), ("B", 3), ("C", 8), ("D", 4)])
    assert plan.picks == (("C", 8, 0), ("D", 2, 2))
    assert not plan.one_lot
    assert codes(plan) == ["lots.mixed", "lots.alternate_rows", "lots.odd_lot_sleeves"]


def test_a_single_odd_skein_goes_into_the_ribs() -> None:
    plan = plan_lots(9, [("A", 8), ("B", 5)])
    assert plan.picks == (("A", 8, 0), ("B", 1, 4))
    assert codes(plan)[-1] == "lots.odd_lot_ribs"
    assert plan.advice[-1].values == {"lot": "B", "count": 1}


def test_half_and_half_can_only_be_alternated() -> None:
    assert codes(plan_lots(10, [("A", 5), ("B", 5)])) == ["lots.mixed", "lots.alternate_rows"]


def test_short_stock_is_said_and_never_exceeded() -> None:
    plan = plan_lots(10, [("A", 5), ("B", 3)])
    assert plan.short_by == 2
    assert not plan.one_lot
    assert plan.advice[0].code == "lots.short_by"
    assert plan.advice[0].values == {"count": 2}


def test_hand_dyed_is_alternated_even_out_of_one_lot() -> None:
    plan = plan_lots(4, [("A", 9)], hand_dyed=True)
    assert plan.one_lot
    assert codes(plan) == ["lots.hand_dyed_alternate"]
    assert codes(plan_lots(1, [("A", 9)], hand_dyed=True)) == []
    assert codes(plan_lots(9, [("A", 8), ("B", 1)], hand_dyed=True)) == [
        "lots.mixed",
        "lots.hand_dyed_alternate",
    ]


def test_yarn_without_lots_is_all_one() -> None:
    plan = plan_lots(6, [(None, 4), (None, 5)])
    assert plan.picks == ((None, 6, 3),)
    assert plan.one_lot
    assert plan.advice == ()


def test_hand_dyed_without_lots_is_not_one_lot() -> None:
    plan = plan_lots(6, [(None, 9)], hand_dyed=True)
    assert not plan.one_lot
    assert codes(plan) == ["lots.hand_dyed_alternate"]


def test_the_same_lot_in_two_places_is_one_lot() -> None:
    assert plan_lots(6, [("A", 4), ("A", 3)]).one_lot


def test_nothing_needed_takes_nothing() -> None:
    assert plan_lots(0, [("A", 3)]) == LotPlan((), True, 0, ())
    with pytest.raises(ValueError, match="-1"):
        plan_lots(-1, [])


@given(needed=st.integers(0, 60), lots=stocks, hand_dyed=st.booleans())
def test_no_skein_is_invented(needed: int, lots: list[Lot], hand_dyed: bool) -> None:
    plan = plan_lots(needed, lots, hand_dyed)
    assert sum(pick.skeins for pick in plan.picks) + plan.short_by == needed
    for pick in plan.picks:
        stock = sum(skeins for lot, skeins in lots if lot == pick.lot and skeins > 0)
        assert pick.skeins > 0
        assert pick.skeins + pick.left == stock
    assert len({pick.lot for pick in plan.picks}) == len(plan.picks)


@given(needed=st.integers(1, 60), lots=stocks, order=st.randoms())
def test_the_order_of_the_list_makes_no_difference(
    needed: int, lots: list[Lot], order: object
) -> None:
    shuffled = list(lots)
    order.shuffle(shuffled)  # type: ignore[attr-defined]
    assert plan_lots(needed, shuffled) == plan_lots(needed, lots)


@given(needed=st.integers(1, 30), lots=stocks)
def test_lots_are_mixed_only_where_none_is_enough(needed: int, lots: list[Lot]) -> None:
    stock: dict[str | None, int] = {}
    for lot, skeins in lots:
        stock[lot] = stock.get(lot, 0) + max(0, skeins)
    assert plan_lots(needed, lots).one_lot == any(held >= needed for held in stock.values())


@pytest.mark.parametrize(
    ("lots", "taken"),
    [
        # Of five: none left is best, then the least from 3 on, then 2 before 1, then the name.
        ([("A", 5), ("B", 8)], "A"),
        ([("A", 9), ("B", 8)], "B"),
        ([("A", 7), ("B", 8)], "B"),
        ([("A", 6), ("B", 7)], "B"),
        ([("B", 7), ("A", 7)], "A"),
        ([("B", 8), ("A", 8)], "A"),
        ([("B", 5), ("A", 5)], "A"),
    ],
)
def test_of_lots_that_hold_enough(lots: list[Lot], taken: str) -> None:
    assert [pick.lot for pick in plan_lots(5, lots).picks] == [taken]


def test_of_lots_alike_the_first_by_name_is_used_up() -> None:
    plan = plan_lots(7, [("B", 4), ("A", 4)])
    assert plan.picks == (("A", 4, 0), ("B", 3, 1))
    assert plan_lots(4, [("A", 4), ("B", 0)]).picks == (("A", 4, 0),)


@pytest.mark.parametrize(
    ("needed", "lots", "said"),
    [
        # Ribs take 15 %, both sleeves 34 % at most: 3 of 20 and 4 of 20, 17 of 50 and 18 of 50.
        (20, [("A", 17), ("B", 3)], "lots.odd_lot_ribs"),
        (20, [("A", 16), ("B", 4)], "lots.odd_lot_sleeves"),
        (50, [("A", 33), ("B", 17)], "lots.odd_lot_sleeves"),
        (50, [("A", 32), ("B", 18)], None),
        (20, [("A", 17), (None, 3)], None),
    ],
)
def test_where_an_odd_lot_can_be_hidden(needed: int, lots: list[Lot], said: str | None) -> None:
    found = codes(plan_lots(needed, lots))
    assert found[:2] == ["lots.mixed", "lots.alternate_rows"]
    assert found[2:] == ([said] if said else [])


def test_the_smallest_of_two_odd_lots_is_hidden_the_first_by_name() -> None:
    plan = plan_lots(20, [("A", 16), ("C", 2), ("B", 2)])
    assert plan.advice[-1].values == {"lot": "B", "count": 2}
    assert plan.advice[0].values == {"count": 3}


def test_two_hand_dyed_skeins_are_alternated_and_without_lots_are_not_one() -> None:
    assert plan_lots(1, [(None, 9)], hand_dyed=True).one_lot
    assert not plan_lots(2, [(None, 9)], hand_dyed=True).one_lot
    assert codes(plan_lots(2, [("A", 9)], hand_dyed=True)) == ["lots.hand_dyed_alternate"]
    assert codes(plan_lots(1, [("A", 9)])) == []


def test_a_branch_plans_with_its_own_lots_where_it_has_any() -> None:
    own, elsewhere = a_lot(2, "A", "1", branch="N"), a_lot(9, "B", "1", branch="S")
    empty, other = a_lot(0, "C", "2", branch="N"), a_lot(3, "D", "2", branch="S")
    lots = (own, elsewhere, empty, other)
    assert lots_planned_in("N", lots) == (own, empty, other)
    assert lots_planned_in("S", lots) == (elsewhere, other)
    assert lots_planned_in("W", lots) == lots


def test_lots_lie_in_other_branches_only_where_this_one_has_no_skein_of_them() -> None:
    here, none_here = a_lot(2, "A", branch="N"), a_lot(0, "A", branch="N")
    south, west, none_east = a_lot(9, "A", branch="S"), a_lot(1, "B", branch="W"), a_lot(0, "C")
    assert only_in("N", [here, south]) == ()
    assert only_in("N", [none_here, west, south, south, none_east]) == ("S", "W")
    assert only_in("N", [none_here, none_east]) == ()


def test_a_lot_of_more_than_15_percent_is_too_much_for_the_ribs() -> None:
    # 4 of 25 are 16 %.
    found = codes(plan_lots(25, [("A", 21), ("B", 4)]))
    assert found[-1] == "lots.odd_lot_sleeves"


def test_three_skeins_left_are_of_use() -> None:
    assert [pick.lot for pick in plan_lots(5, [("A", 9), ("B", 8)]).picks] == ["B"]
    assert [pick.lot for pick in plan_lots(5, [("A", 9), ("B", 7)]).picks] == ["A"]
