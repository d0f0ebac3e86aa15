import pytest
from hypothesis import given
from hypothesis import strategies as st

from shopdesk.craft.lots import Lot, LotPlan, plan_lots

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
