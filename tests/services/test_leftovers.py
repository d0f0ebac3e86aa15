"""What is left over: the shop's rule for unopened skeins, and the metres in a part-ball."""

from datetime import UTC, date, datetime, timedelta

import pytest
from sqlalchemy import Engine, select

from shopdesk.craft.errors import InputError
from shopdesk.craft.figures import Basis
from shopdesk.services.leftovers import (
    BroughtBack,
    LengthUnknown,
    may_come_back,
    part_ball,
    take_back,
    weigh_remnant,
)
from shopdesk.services.sales import SlipUnknown
from shopdesk.shelf.branch_lots import LotAtBranch
from shopdesk.shelf.stock import available, discrepancies
from shopdesk.shelf.writing import writing
from shopdesk.shop.shop import Shop
from shopdesk.store.database import reading
from shopdesk.store.models import StockMovement
from shopdesk.store.settings import ShopSettings, save_settings
from tests.factories import a_label, a_weighing, a_yarn
from tests.services.slips_at_counter import OTHER_LOT, SLIP_LOT, a_slip, stock_shelf
from tests.shelf.rows import put_yarn
from tests.slip_factories import A_SLIP_DAY

NOON = datetime(A_SLIP_DAY.year, A_SLIP_DAY.month, A_SLIP_DAY.day, 12, tzinfo=UTC)


def noon_of(day: date) -> datetime:
    return datetime(day.year, day.month, day.day, 12, tzinfo=UTC)


@pytest.fixture
def counter(shelf: Engine) -> Engine:
    """A shelf whose shop takes unopened skeins back for 28 days, and slip 1."""
    stock_shelf(shelf)
    with writing(shelf) as session:
        save_settings(session, ShopSettings(return_days=28))
    a_slip(shelf)
    return shelf


def back(
    engine: Engine,
    skeins: int,
    after_days: int = 1,
    where: LotAtBranch = SLIP_LOT,
    into: str = "main",
    **facts: str,
) -> int:
    brought = BroughtBack(
        1, where.colour_code, where.lot, skeins, slip_branch=where.branch, **facts
    )
    shop = Shop(engine, into, lambda: NOON + timedelta(days=after_days))
    return take_back(shop, brought).lines[0].may_come_back


def test_unopened_skeins_go_back_on_the_shelf_with_a_movement(counter: Engine) -> None:
    assert back(counter, 2, staff="MB") == 3
    with reading(counter) as session:
        assert available(session, SLIP_LOT) == 22
        last = session.scalars(select(StockMovement).order_by(StockMovement.id.desc())).first()
        assert last is not None
        assert (last.change, last.reason, last.staff, last.note) == (2, "returned", "MB", "slip 1")
        assert list(discrepancies(session)) == []


def test_a_form_sent_twice_brings_back_once(counter: Engine) -> None:
    assert back(counter, 2, request_key="form 1") == back(counter, 2, request_key="form 1") == 3
    assert back(counter, 2, request_key="form 2") == 1


def test_skeins_may_come_back_to_another_branch(counter: Engine) -> None:
    assert back(counter, 2, into="north") == 3
    with reading(counter) as session:
        assert available(session, LotAtBranch("T-1", "14", "M2231", "north")) == 2


def test_the_last_day_is_the_settings(counter: Engine) -> None:
    assert back(counter, 1, after_days=28) == 4
    with pytest.raises(InputError, match="the last day for slip 1 was 2026-12-23"):
        back(counter, 1, after_days=29)


def test_no_more_comes_back_than_went_home(counter: Engine) -> None:
    back(counter, 4)
    with pytest.raises(InputError, match="2 skeins cannot come back of the 1 that are out"):
        back(counter, 2)
    with pytest.raises(InputError, match="slip 1 has no T-1 colour 14 lot M2240"):
        back(counter, 1, where=OTHER_LOT)


def test_all_that_went_home_may_come_back_one_by_one(counter: Engine) -> None:
    for skeins in (0, -1, 6):
        with pytest.raises(InputError, match=f"{skeins} skeins? cannot come back of the 5") as told:
            back(counter, skeins)
        assert told.value.field == "skeins"
    assert [back(counter, 1), back(counter, 4)] == [4, 0]
    with pytest.raises(InputError, match="of the 0 that are out"):
        back(counter, 1)


def test_what_came_back_counts_for_its_own_slip_and_lot(counter: Engine) -> None:
    a_slip(counter)
    assert back(counter, 2) == 3
    for number, came_back in ((1, 2), (2, 0)):
        (line,) = may_come_back(Shop(counter), number).lines
        assert (line.where, line.sold, line.came_back) == (SLIP_LOT, 5, came_back)


def test_what_may_come_back_is_said_with_its_days(counter: Engine) -> None:
    """28 days after the slip of 25 November is 23 December."""
    last = date(2026, 12, 23)
    for day, in_time in ((A_SLIP_DAY, True), (last, True), (last + timedelta(days=1), False)):
        view = may_come_back(Shop(counter, clock=lambda day=day: noon_of(day)), 1)
        assert (view.slip_number, view.yarn, view.made_on) == (1, "Meadow DK", A_SLIP_DAY)
        assert (view.last_day, view.in_time) == (last, in_time)


def test_a_shop_without_a_rule_takes_nothing_back(counter: Engine) -> None:
    with writing(counter) as session:
        save_settings(session, ShopSettings(return_days=0))
    view = may_come_back(Shop(counter, clock=lambda: NOON), 1)
    assert (view.last_day, view.in_time) == (None, False)
    with pytest.raises(InputError, match="takes nothing back"):
        back(counter, 1)


def test_an_unknown_slip_is_told(counter: Engine) -> None:
    for number in (7, 2**31, 10**30):
        with pytest.raises(SlipUnknown, match=f"there is no slip {number};"):
            may_come_back(Shop(counter), number)


def test_a_part_ball_holds_its_share_of_the_labels_metres() -> None:
    # 50 g of 125 m: 20 g hold 50 m, by proportion.
    left = part_ball(a_yarn(label=a_label(grams=50, metres_per_100g=250)), 20)
    assert left is not None
    assert left.value == pytest.approx(50)
    assert left.basis is Basis.LABEL
    # The damp of the air alone moves wool by 4 % (18.25 against 14 % regain: 1.1825/1.14).
    assert left.low < 50 / 1.037 < 50 < 50 * 1.037 < left.high


def test_a_weighed_length_of_the_shops_outranks_the_label() -> None:
    yarn = a_yarn(label=a_label(metres_per_100g=250), measurements=(a_weighing(10, 5),))
    left = part_ball(yarn, 20)
    assert left is not None
    assert (left.value, left.basis) == (pytest.approx(40), Basis.SHOP)


def test_without_a_length_the_metres_stay_unknown() -> None:
    assert part_ball(a_yarn(label=a_label(metres_per_100g=None)), 20) is None


def test_a_remnant_on_the_shelf_is_weighed(counter: Engine) -> None:
    # 100 g of 230 m: 12.5 g hold 28.75 m, by proportion.
    assert weigh_remnant(Shop(counter), "T-1", "12 1/2").value == pytest.approx(28.75)
    assert weigh_remnant(Shop(counter), "T-1", "10000").value == pytest.approx(23_000)
    assert weigh_remnant(Shop(counter), "T-1", "0.5").value == pytest.approx(1.15)


def test_a_remnant_without_a_length_is_told(shelf: Engine) -> None:
    with writing(shelf) as session:
        put_yarn(session, "T-1", label=a_label(metres_per_100g=None))
    with pytest.raises(LengthUnknown, match="the length of T-1 is not known"):
        weigh_remnant(Shop(shelf), "T-1", "20")


@pytest.mark.parametrize("grams", ["0", "-1", "10001", "10000.5"])
def test_no_part_ball_weighs_that(counter: Engine, grams: str) -> None:
    with pytest.raises(InputError, match="grams: this is no mass of yarn"):
        weigh_remnant(Shop(counter), "T-1", grams)


def test_every_problem_of_a_remnant_is_told_with_its_field(counter: Engine) -> None:
    with pytest.raises(InputError) as refused:
        weigh_remnant(Shop(counter), "T-9", "many")
    assert str(refused.value).splitlines() == [
        "sku: there is no yarn T-9; check the article number",
        "grams: 'many' is not a number; give grams up to 10000, without the core",
    ]
