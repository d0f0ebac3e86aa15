"""What a shortlist finds through the index: windows with their ends, companions, wishes."""

from decimal import Decimal
from typing import Any

import pytest
from sqlalchemy import Engine, update

from shopdesk.answering.answer.candidates import prepare
from shopdesk.answering.model.answer import RuledOut
from shopdesk.answering.model.ask import ItemKind, Wishes
from shopdesk.answering.shortlist.windows import SearchWindow
from shopdesk.shelf.writing import writing
from shopdesk.shelf.yarn_index import bits_of, numbers_in
from shopdesk.shelf.yarn_index_search import YarnIndexSearch
from shopdesk.store.database import reading
from shopdesk.store.models import YarnIndex
from tests.factories import a_label, an_ask, shop_terms
from tests.shelf.rows import put_yarn


@pytest.fixture
def three(shelf: Engine) -> Engine:
    """Yarns of 100, 200 and 400 tex with 16, 20 and 30 stitches, the last of unknown density."""
    figures = {
        "A": {"tex": 100.0, "stitches": 30.0, "categories": 1, "density": None},
        "B": {"tex": 200.0, "stitches": 20.0, "categories": 0b11000, "density": 2.0},
        "C": {"tex": 400.0, "stitches": 16.0, "categories": 0b10000, "density": 1.0},
    }
    with writing(shelf) as session:
        for sku in figures:
            put_yarn(session, sku)
    with writing(shelf) as session:
        for sku, values in figures.items():
            stitches = values["stitches"]
            ends = {"stitches_low": stitches - 1, "stitches_high": stitches + 1}
            session.execute(update(YarnIndex).where(YarnIndex.sku == sku).values(**values, **ends))
    return shelf


def in_window(shelf: Engine, **window: Any) -> str:
    with reading(shelf) as session:
        search = YarnIndexSearch(session, prepare(an_ask(), shop_terms()), "main")
        return "".join(sorted(row.sku for row in search.window(SearchWindow((0, 0.0), **window))))


@pytest.mark.parametrize(
    ("window", "found"),
    [
        ({}, "ABC"),
        ({"stitches": (20.0, 30.0)}, "AB"),
        ({"stitches": (20.1, 29.9)}, ""),
        ({"meets": (21.0, 29.0)}, "AB"),
        ({"meets": (21.1, 28.9)}, ""),
        ({"meets": (17.0, 19.0)}, "BC"),
        ({"tex": (200.0, 400.0)}, "BC"),
        ({"tex": (200.1, 399.9)}, ""),
        ({"volume": (100.0, 100.0)}, "AB"),
        ({"volume": (400.0, 400.0)}, "AC"),
        ({"volume": (100.1, 399.9)}, "A"),
        ({"categories": (3,)}, "B"),
        ({"categories": (0, 4)}, "ABC"),
        ({"categories": (1, 2)}, ""),
        ({"stitches": (16.0, 20.0), "tex": (100.0, 200.0)}, "B"),
        ({"no_stitches": True}, ""),
        ({"no_tex": True}, ""),
    ],
)
def test_a_window_takes_in_its_ends(three: Engine, window: dict[str, Any], found: str) -> None:
    assert in_window(three, **window) == found


@pytest.mark.parametrize(("column", "open_"), [("stitches", "no_stitches"), ("tex", "no_tex")])
def test_a_window_may_want_a_figure_unknown(three: Engine, column: str, open_: str) -> None:
    with writing(three) as session:
        session.execute(update(YarnIndex).where(YarnIndex.sku == "B").values({column: None}))
    assert in_window(three, **{open_: True}) == "B"


@pytest.mark.parametrize("numbers", [(), (0,), (7,), (0, 1, 5), (2, 3, 4, 6)])
def test_categories_are_bits_each_of_its_own(numbers: tuple[int, ...]) -> None:
    assert bits_of(numbers) == sum(2**number for number in numbers)
    assert numbers_in(bits_of(numbers)) == numbers


def test_a_yarn_of_500_m_in_100_g_is_just_fine_enough_to_be_held_along(shelf: Engine) -> None:
    """So the table has it. 500 m in 100 g are 100,000 / 500 = 200 tex."""
    with writing(shelf) as session:
        for metres in (499, 500, 900):
            put_yarn(session, f"T-{metres}", label=a_label("lace", metres), lots=())
        put_yarn(session, "T-0", label=a_label("lace", None), lots=())
    with reading(shelf) as session:
        search = YarnIndexSearch(session, prepare(an_ask(), shop_terms()), "main")
        assert {one.sku for one in search.companions()} == {"T-500", "T-900"}


def searched(
    shelf: Engine, wishes: Wishes, metres: float | None = 1000
) -> tuple[str, list[RuledOut]]:
    """Returns the SKUs that wishes leave for an ask of so many metres, and what they take away."""
    terms = shop_terms(allowance_percent=Decimal(0))
    with reading(shelf) as session:
        asked = prepare(an_ask(metres=metres, item=ItemKind.SCARF, wishes=wishes), terms)
        search = YarnIndexSearch(session, asked, "main")
        left = "".join(sorted(row.sku for row in search.window(SearchWindow((0, 0.0)))))
        return left, list(search.ruled_out())


def lines_of(ruled_out: list[RuledOut]) -> set[tuple[str, object, int]]:
    """Returns of each line the wish, the fibre it names if any, and how many it takes away."""
    return {(one.wish.code, one.wish.values.get("fibre_term"), one.count) for one in ruled_out}


def test_a_yarn_with_a_fibre_to_avoid_counts_for_the_first_it_has(shelf: Engine) -> None:
    """By name: alpaca before wool. What is of no known fibre is ruled out too."""
    blends = {
        "A": "wool 50, alpaca 50",
        "B": "wool 100",
        "C": "cotton 100",
        "D": "",
        "E": "wool 100",
    }
    with writing(shelf) as session:
        for sku, fibres in blends.items():
            put_yarn(session, sku, label=a_label(fibres=fibres))
    left, lines = searched(shelf, Wishes(avoid_fibres=frozenset({"wool", "alpaca"})))
    assert left == "C"
    assert lines_of(lines) == {
        ("wishes.avoid_fibre", "terms.fibre.alpaca", 1),
        ("wishes.avoid_fibre", "terms.fibre.wool", 2),
        ("wishes.fibres_unknown", None, 1),
    }
    assert searched(shelf, Wishes()) == ("ABCDE", [])


@pytest.fixture
def priced(shelf: Engine) -> Engine:
    """Balls of 100 m for 5.00 and 5.01, one of unknown length, and a wool for 9.00."""
    with writing(shelf) as session:
        put_yarn(session, "A", 500, label=a_label(metres_per_100g=200, fibres="cotton 100"))
        put_yarn(session, "B", 501, label=a_label(metres_per_100g=200, fibres="cotton 100"))
        put_yarn(session, "C", 100, label=a_label(metres_per_100g=None, fibres="cotton 100"))
        put_yarn(session, "D", 900, label=a_label(metres_per_100g=200))
    return shelf


def test_yarns_whose_skeins_in_one_strand_cost_more_are_too_dear(priced: Engine) -> None:
    """1,000 m are ten balls: 50.00 of the first, 50.10 of the second, 90.00 of the wool."""
    left, lines = searched(priced, Wishes(price_limit=Decimal(50)))
    assert left == "A"
    assert sorted(line.count for line in lines) == [1, 2]
    assert searched(priced, Wishes(price_limit=Decimal("49.99")))[0] == ""
    assert searched(priced, Wishes(price_limit=Decimal(90)))[0] == "ABD"


def test_a_begun_skein_is_paid_for_and_a_millimetre_is_none(priced: Engine) -> None:
    """1,001 m are eleven balls of 100 m at 5.00; 1,000 m and half a millimetre are ten."""
    fifty = Wishes(price_limit=Decimal(50))
    assert searched(priced, fifty, 1001)[0] == ""
    assert searched(priced, Wishes(price_limit=Decimal(55)), 1001)[0] == "A"
    assert searched(priced, fifty, 1000.0005)[0] == "A"


def test_a_window_leaves_out_what_lies_in_others(shelf: Engine) -> None:
    with writing(shelf) as session:
        for sku, metres in (("A", 200), ("B", 220), ("C", 240), ("D", None)):
            put_yarn(session, sku, label=a_label(metres_per_100g=metres))
    fine, all_of_them = SearchWindow((0, 0.0), tex=(0, 460)), SearchWindow((0, 0.0))
    with reading(shelf) as session:
        search = YarnIndexSearch(session, prepare(an_ask(), shop_terms()), "main")

        def found(*windows: SearchWindow) -> str:
            return "".join(sorted(row.sku for row in search.window(*windows[:1], windows[1:])))

        assert found(all_of_them) == "ABCD"
        assert found(fine) == "BC"
        # A yarn whose figure is unknown lies in no window of that figure.
        assert found(all_of_them, fine) == "AD"
        assert found(all_of_them, fine, SearchWindow((0, 0.0), no_tex=True)) == "A"
        assert found(fine, all_of_them) == ""


def test_a_yarn_with_a_fibre_to_avoid_is_not_told_to_be_dear_too(priced: Engine) -> None:
    wishes = Wishes(avoid_fibres=frozenset({"wool"}), price_limit=Decimal("0.01"))
    left, lines = searched(priced, wishes)
    assert left == ""
    counts = {line.wish.code: line.count for line in lines}
    assert counts.pop("wishes.avoid_fibre") == 1
    assert sorted(counts.values()) == [1, 2]


def test_where_no_amount_is_known_every_price_is_unknown(priced: Engine) -> None:
    left, lines = searched(priced, Wishes(price_limit=Decimal(1000)), None)
    assert (left, [line.count for line in lines]) == ("", [4])
