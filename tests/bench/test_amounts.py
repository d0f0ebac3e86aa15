"""The ways of adding the allowance: their figures are real, and the default keeps both aims."""

from pathlib import Path

import pytest

from shopdesk.craft.yarn import PutUp
from tests.answering.test_amounts import a_pattern_need
from tests.bench.amounts import MOST_OVER, MOST_SHORT, WAYS, Tried, Visit, demo_visits, tried
from tests.bench.shelves import Scale, Shelves

DEFAULT = "three quarters of the way to the most, rounded up"
BEFORE = "the upper part and 10 % on top, rounded up"


@pytest.fixture(scope="module")
def ways(tmp_path_factory: pytest.TempPathFactory) -> dict[str, Tried]:
    """Every way, tried on the demo shelf."""
    shelves = Shelves(tmp_path_factory.mktemp("shelves"), Scale())
    return {one.way: one for one in tried(demo_visits(shelves))}


def test_the_default_keeps_both_aims_and_the_former_way_did_not(ways: dict[str, Tried]) -> None:
    default, before = ways[DEFAULT], ways[BEFORE]
    assert default.over <= MOST_OVER < before.over
    assert default.short <= MOST_SHORT
    assert default.short_if_hands <= MOST_SHORT


def test_of_the_ways_that_keep_both_aims_the_default_buys_least(ways: dict[str, Tried]) -> None:
    within = [
        one for one in ways.values() if one.over <= MOST_OVER and one.short_if_hands <= MOST_SHORT
    ]
    assert min(within, key=lambda one: one.over).way == DEFAULT


def test_what_is_bought_and_what_falls_short_by_hand() -> None:
    # 100 m, 95 % of them within 80 to 120, in balls of 50 m: two balls hold what is likely, and
    # half of all visits take more; a third makes half as much again.
    visit = Visit("a", (a_pattern_need(100, 115, 120),), PutUp(50, 50), 1)
    figures = {one.way: one for one in tried([visit])}
    likely, three = figures["what is likely, rounded up"], figures[DEFAULT]
    assert (likely.over, three.over) == (0, pytest.approx(0.5))
    assert likely.short == pytest.approx(0.5, abs=0.03)
    assert three.short == 0
    assert set(figures) == set(WAYS)


def test_most_example_asks_are_visits(tmp_path: Path) -> None:
    titles = {visit.title for visit in demo_visits(Shelves(tmp_path, Scale()))}
    # What suits a blanket, cloths or a vest from a cone may be sold in no ball of 50 g.
    assert 15 <= len(titles) <= 18
