"""Two branches on one shelf: skeins go from one to the other, and none is lost on the way."""

from concurrent.futures import ThreadPoolExecutor

import pytest
from sqlalchemy import Engine, func, select

from shopdesk.craft.errors import InputError
from shopdesk.services.branches import (
    Transfer,
    add_branch,
    list_branches,
    transfer_skeins,
)
from shopdesk.services.holds import HoldOrder, hold_skeins
from shopdesk.shelf.branch_lots import LotAtBranch, StockRefused
from shopdesk.shelf.stock import available, discrepancies
from shopdesk.shelf.writing import writing
from shopdesk.shop.shop import Shop
from shopdesk.store.database import open_shelf, reading
from shopdesk.store.models import StockMovement
from tests.factories import a_lot
from tests.shelf.rows import put_yarn

HERE = LotAtBranch("T-1", "01", "L1")
NORTH = LotAtBranch("T-1", "01", "L1", "north")


@pytest.fixture
def two_branches(shelf: Engine) -> Engine:
    with writing(shelf) as session:
        put_yarn(session, "T-1", lots=(a_lot(10, "L1", "01"),))
    add_branch(Shop(shelf), "north", "North Street")
    return shelf


def test_branches_are_listed_by_name_or_code(two_branches: Engine) -> None:
    assert [one.shown for one in list_branches(Shop(two_branches))] == ["main", "North Street"]


@pytest.mark.parametrize("code", ["", "North", "a b", "x" * 21, "-x", "é"])
def test_a_code_is_small_letters_and_digits(two_branches: Engine, code: str) -> None:
    with pytest.raises(InputError, match="no code"):
        add_branch(Shop(two_branches), code)


def test_a_branch_is_told_by_code_and_name(two_branches: Engine) -> None:
    shop = Shop(two_branches)
    for code, name in (("x" * 20, "y" * 80), ("0-a", "")):
        assert add_branch(shop, code, name).code == code
    assert [(one.code, one.name) for one in list_branches(shop)][1:] == [
        ("north", "North Street"), ("x" * 20, "y" * 80), ("0-a", ""),
    ]  # fmt: skip
    with pytest.raises(InputError, match="80"):
        add_branch(shop, "east", "y" * 81)


def test_of_a_long_code_40_letters_are_told(two_branches: Engine) -> None:
    with pytest.raises(InputError) as refused:
        add_branch(Shop(two_branches), "a" * 39 + "bc")
    assert f"'{'a' * 39}b'" in refused.value.wrong


def test_no_branch_is_there_twice(two_branches: Engine) -> None:
    with pytest.raises(InputError, match="already"):
        add_branch(Shop(two_branches), "north")


def test_a_form_sent_twice_sends_once(two_branches: Engine) -> None:
    for _ in range(2):
        wanted = Transfer(HERE, "north", 4, "MB", "form 1")
        assert transfer_skeins(Shop(two_branches), wanted) == 6
    with reading(two_branches) as session:
        assert (available(session, HERE), available(session, NORTH)) == (6, 4)


def test_a_refused_form_may_be_sent_again(two_branches: Engine) -> None:
    shop = Shop(two_branches)
    with pytest.raises(StockRefused):
        transfer_skeins(shop, Transfer(HERE, "north", 11, request_key="form 1"))
    assert transfer_skeins(shop, Transfer(HERE, "north", 10, request_key="form 1")) == 0


def test_what_is_on_hold_stays(two_branches: Engine) -> None:
    hold_skeins(Shop(two_branches), HoldOrder(((HERE, 8),)))
    with pytest.raises(StockRefused, match="the 2 that are free"):
        transfer_skeins(Shop(two_branches), Transfer(HERE, "north", 3))


def test_each_branch_holds_its_own_skeins(two_branches: Engine) -> None:
    transfer_skeins(Shop(two_branches), Transfer(HERE, "north", 4))
    hold_skeins(Shop(two_branches), HoldOrder(((HERE, 6), (NORTH, 3))))
    with reading(two_branches) as session:
        assert (available(session, HERE), available(session, NORTH)) == (0, 1)


def test_branches_that_send_to_each_other_at_once_lose_nothing(
    two_branches: Engine, shelf_url: str
) -> None:
    transfer_skeins(Shop(two_branches), Transfer(HERE, "north", 5))

    def sends(ways: tuple[LotAtBranch, str]) -> int:
        engine, sent = open_shelf(shelf_url), 0
        for _ in range(25):
            try:
                transfer_skeins(Shop(engine), Transfer(ways[0], ways[1], 2))
                sent += 1
            except StockRefused:
                continue
        engine.dispose()
        return sent

    with ThreadPoolExecutor(4) as pool:
        done = sum(pool.map(sends, [(HERE, "north"), (NORTH, "main")] * 2))
    with reading(two_branches) as session:
        assert available(session, HERE) + available(session, NORTH) == 10
        assert session.scalar(select(func.count(StockMovement.id))) == 1 + 2 + 2 * done
        assert list(discrepancies(session)) == []
