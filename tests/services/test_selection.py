"""What the customer takes: colours and lots for each part, none of more than there is."""

from dataclasses import replace

import pytest
from sqlalchemy import Engine

from shopdesk.answering.model.answer import ColourSupply, LotQuantity, LotTaken, Selection
from shopdesk.craft.errors import InputErrors
from shopdesk.craft.yarn import LotStock
from shopdesk.services.answers import JudgedYarn
from shopdesk.services.selection import PartWanted, select, stock_elsewhere, stock_of
from shopdesk.shelf.stock import sell, transfer
from shopdesk.shelf.writing import writing
from shopdesk.shop.shop import Shop
from tests.factories import a_lot
from tests.services.slips_at_counter import (
    NORTH_LOT,
    OTHER_LOT,
    SLIP_LOT,
    a_judged_yarn,
    stock_shelf,
)
from tests.shelf.rows import put_yarn
from tests.slip_factories import (
    a_candidate,
    a_colour,
    a_need,
    a_shelf_yarn,
    an_amount,
    an_answer,
)

LOTS = (a_lot(9, "M2231", "14"), a_lot(5, "M2240", "14"), a_lot(7, "R1", "15"))
MOSS = a_colour(skeins=6, picks=(LotQuantity("M2231", 6, 9),))
RUST = a_colour(colour_code="15", colour_name="Rust", picks=(LotQuantity("R1", 6, 7),))


def judged(
    *colours: ColourSupply, lots: tuple[LotStock, ...] = LOTS, skeins: int | None = 6
) -> JudgedYarn:
    """Returns a yarn judged for the parts of its colours, each of which wants six skeins."""
    parts = dict.fromkeys(colour.part for colour in colours)
    amounts = tuple(an_amount(part, skeins) for part in parts)
    yarn = a_judged_yarn(an_answer(a_candidate(amounts=amounts, colours=colours)))
    return replace(yarn, shelf={"T-1": a_shelf_yarn(lots=lots)})


def taken(selection: Selection) -> dict[str, tuple[str, dict[str | None, int]]]:
    return {
        part.part: (part.colour_code, {lot.lot: lot.skeins for lot in part.lots})
        for part in selection.parts
    }


def the_only(
    wanted: PartWanted, yarn: JudgedYarn | None = None
) -> tuple[str, dict[str | None, int]]:
    return taken(select(yarn or judged(MOSS, RUST), [wanted]))[wanted.part]


def refused(*wanted: PartWanted, yarn: JudgedYarn | None = None) -> list[str]:
    with pytest.raises(InputErrors) as told:
        select(yarn or judged(MOSS, RUST), wanted)
    return str(told.value).splitlines()


def test_where_nothing_is_written_the_answers_lots_are_taken() -> None:
    assert the_only(PartWanted("main")) == ("14", {"M2231": 6})
    assert the_only(PartWanted("main", "Rust")) == ("15", {"R1": 6})
    assert the_only(PartWanted("main", "14")) == ("14", {"M2231": 6})


def test_the_first_colour_that_is_in_stock_is_taken() -> None:
    none_left = replace(MOSS, available=0)
    assert the_only(PartWanted("main"), judged(none_left, RUST)) == ("15", {"R1": 6})
    said = refused(PartWanted("main"), yarn=judged(none_left))
    assert said[0].startswith("main.colour: ")


def test_a_colour_is_one_of_the_parts_own() -> None:
    sleeves = replace(RUST, part="sleeves")
    yarn = judged(MOSS, sleeves)
    assert the_only(PartWanted("sleeves"), yarn) == ("15", {"R1": 6})
    (said,) = refused(PartWanted("main", "Rust"), yarn=yarn)
    assert said.startswith("main.colour: ")
    assert said.endswith("14")


def test_skeins_come_from_the_smallest_lot_that_has_enough() -> None:
    for skeins, lot in ((4, "M2240"), (5, "M2240"), (6, "M2231"), (9, "M2231")):
        assert the_only(PartWanted("main", skeins=skeins)) == ("14", {lot: skeins})
    (said,) = refused(PartWanted("main", skeins=10))
    assert said.startswith("main.skeins: ")
    assert "M2231" in said
    assert "M2240" in said


def test_a_lot_that_is_named_gives_them_all() -> None:
    assert the_only(PartWanted("main", lot="M2231")) == ("14", {"M2231": 6})
    assert the_only(PartWanted("main", lot="M2240", skeins=5)) == ("14", {"M2240": 5})
    for wanted in (PartWanted("main", lot="M2240"), PartWanted("main", lot="M1")):
        (said,) = refused(wanted)
        assert said.startswith("main.lot: ")


def test_without_a_number_in_the_answer_skeins_must_be_written() -> None:
    yarn = judged(replace(MOSS, picks=()), skeins=None)
    assert the_only(PartWanted("main", skeins=2), yarn) == ("14", {"M2240": 2})
    for wanted in (PartWanted("main"), PartWanted("main", lot="M2231")):
        (said,) = refused(wanted, yarn=yarn)
        assert said.startswith("main.skeins: ")


def test_a_colour_of_which_nothing_is_there_is_told_as_such() -> None:
    gone = replace(MOSS, available=0, picks=())
    yarn = judged(gone, lots=(a_lot(0, "M2231", "14"),))
    (said,) = refused(PartWanted("main", "14"), yarn=yarn)
    assert said.startswith("main.colour: ")
    (said,) = refused(PartWanted("main", "14", skeins=1), yarn=yarn)
    assert said.endswith("there are none")


def test_a_lot_without_a_number_is_told_as_such() -> None:
    yarn = judged(MOSS, lots=(a_lot(3, None, "14"), a_lot(2, "M2", "14")))
    (said,) = refused(PartWanted("main", skeins=4), yarn=yarn)
    assert said.endswith("there are no number: 3, M2: 2")
    (said,) = refused(PartWanted("main", "14", (LotTaken(None, 4),)), yarn=yarn)
    assert "without" in said


def both(first: int, second: int) -> list[PartWanted]:
    """Returns two parts that take so many skeins of one lot of nine."""
    return [
        PartWanted(part, "14", (LotTaken("M2231", skeins),))
        for part, skeins in (("main", first), ("sleeves", second))
    ]


def test_parts_together_take_no_more_of_a_lot_than_it_has() -> None:
    yarn = judged(MOSS, replace(MOSS, part="sleeves"))
    assert taken(select(yarn, both(4, 5))) == {
        "main": ("14", {"M2231": 4}),
        "sleeves": ("14", {"M2231": 5}),
    }
    (said,) = refused(*both(5, 5), yarn=yarn)
    assert said.startswith("sleeves.lot: ")
    assert "9" in said


def test_lots_of_one_name_are_counted_by_their_colours() -> None:
    yarn = judged(
        MOSS, replace(RUST, part="sleeves"), lots=(a_lot(6, "A", "14"), a_lot(6, "A", "15"))
    )
    wanted = [
        PartWanted("main", "14", (LotTaken("A", 6),)),
        PartWanted("sleeves", "15", (LotTaken("A", 6),)),
    ]
    assert set(taken(select(yarn, wanted))) == {"main", "sleeves"}


def planned(first: str | None, second: str | None) -> dict[str, tuple[str, dict[str | None, int]]]:
    """Returns what two parts take that plan six skeins each of fourteen of Moss, seven of Rust."""
    parts = (MOSS, RUST, replace(MOSS, part="sleeves"), replace(RUST, part="sleeves"))
    return taken(select(judged(*parts), [PartWanted("main", first), PartWanted("sleeves", second)]))


def test_a_planned_part_takes_what_the_others_leave() -> None:
    """Of Moss 9 and 5 lie there: beside five of the first lot, five more are of both.

    Each needs 1050 m, five skeins of 230 m; together they are ten, and not six each.
    """
    found = planned("Moss", "Moss")
    assert found["main"] == ("14", {"M2231": 5})
    assert found["sleeves"] == ("14", {"M2231": 4, "M2240": 1})


def two(first_m: float, second_m: float) -> JudgedYarn:
    """A yarn judged for two parts, of which whole skeins of 230 m must hold so much."""
    amounts = tuple(
        an_amount(part, 1, need=replace(a_need(part), skein_m=metres))
        for part, metres in (("body", first_m), ("muzzle", second_m))
    )
    colours = tuple(replace(MOSS, part=part) for part in ("body", "muzzle"))
    yarn = a_judged_yarn(an_answer(a_candidate(amounts=amounts, colours=colours)))
    return replace(yarn, shelf={"T-1": a_shelf_yarn(lots=LOTS)})


@pytest.mark.parametrize(
    ("metres", "skeins"),
    [
        # 225 m and 5 m fill one skein of 230 m together, 226 and 5 two.
        ((225, 5), [{"M2240": 1}, {}]),
        ((226, 5), [{"M2240": 1}, {"M2240": 1}]),
        ((190, 25), [{"M2240": 1}, {}]),
        # Three of the lot of five would leave two, which nobody can use.
        ((300, 300), [{"M2231": 2}, {"M2231": 1}]),
        ((0, 100), [{}, {"M2240": 1}]),
    ],
)
def test_parts_in_one_colour_are_rounded_up_together(
    metres: tuple[float, float], skeins: list[dict[str, int]]
) -> None:
    wanted = [PartWanted("body", "Moss"), PartWanted("muzzle", "Moss")]
    found = taken(select(two(*metres), wanted))
    assert [found[part][1] for part in ("body", "muzzle")] == skeins
    # Out of a lot that is named it is the same number.
    named = [PartWanted(part, "Moss", lot="M2231") for part in ("body", "muzzle")]
    sums = [sum(found[1].values()) for found in taken(select(two(*metres), named)).values()]
    assert sums == [sum(lots.values()) for lots in skeins]


def test_what_is_written_for_a_part_is_not_rounded_with_others() -> None:
    wanted = [PartWanted("body", "Moss", skeins=1), PartWanted("muzzle", "Moss")]
    found = taken(select(two(190, 25), wanted))
    # The muzzle takes the six that the answer plans for it alone.
    assert [sum(lots.values()) for _, lots in found.values()] == [1, 6]


def test_a_planned_part_takes_another_colour_where_too_little_is_left() -> None:
    """Of Rust seven lie there, so that one is left, of Moss eight are."""
    assert planned("Rust", None)["sleeves"] == ("14", {"M2231": 6})
    assert planned("Moss", None)["sleeves"][0] == "14"
    with pytest.raises(InputErrors) as refused:
        planned("Rust", "Rust")
    (said,) = str(refused.value).splitlines()
    assert said.startswith("sleeves.colour: ")
    assert "leave 2 skeins" in said
    assert "takes 5" in said


def test_what_is_written_goes_before_what_is_planned() -> None:
    parts = (MOSS, replace(MOSS, part="sleeves"))
    wanted = [PartWanted("main"), PartWanted("sleeves", "14", (LotTaken("M2231", 9),))]
    (said,) = refused(*wanted, yarn=judged(*parts))
    assert said.startswith("main.colour: ")
    wanted[1] = PartWanted("sleeves", "14", (LotTaken("M2231", 3),))
    found = taken(select(judged(*parts), wanted))
    assert list(found) == ["main", "sleeves"]
    assert found["main"] == ("14", {"M2231": 6})


def test_every_part_that_cannot_be_is_told() -> None:
    yarn = judged(MOSS, replace(MOSS, part="sleeves"))
    wanted = PartWanted("main", "blue"), PartWanted("sleeves", lot="M1")
    assert {said.partition(":")[0] for said in refused(*wanted, yarn=yarn)} == {
        "main.colour",
        "sleeves.lot",
    }


def test_what_is_told_stays_with_the_selection() -> None:
    selection = select(judged(MOSS), [PartWanted("main")], ["shedding"])
    assert (selection.sku, selection.told) == ("T-1", frozenset({"shedding"}))


def test_lots_of_one_name_in_two_branches_are_together() -> None:
    lots = (a_lot(3, "A"), a_lot(4, "A", branch="north"), a_lot(0, "B"), a_lot(2, None, "02"))
    assert stock_of(a_shelf_yarn(lots=lots)) == {"01": {"A": 7}, "02": {None: 2}}


def test_what_lies_in_other_branches_is_counted_by_colour(shelf: Engine) -> None:
    stock_shelf(shelf)
    assert stock_elsewhere(Shop(shelf), "T-1") == {}
    with writing(shelf) as session:
        put_yarn(session, "T-2", lots=(a_lot(5, "X", "14"),))
        transfer(session, SLIP_LOT, "north", 8)
        transfer(session, OTHER_LOT, "north", 2)
    assert stock_elsewhere(Shop(shelf), "T-1") == {"14": {"north": 10}}
    assert stock_elsewhere(Shop(shelf, "north"), "T-1") == {"14": {"main": 13}}
    with writing(shelf) as session:
        sell(session, NORTH_LOT, 8)
        sell(session, replace(OTHER_LOT, branch="north"), 2)
    assert stock_elsewhere(Shop(shelf), "T-1") == {}
    assert stock_elsewhere(Shop(shelf), "T-9") == {}
