"""Holding: what is held cannot be promised again, by the clock and by everybody's verbs."""

from collections.abc import Callable
from datetime import UTC, date, datetime, timedelta

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from sqlalchemy import Engine, func, select

from shopdesk.craft.errors import InputError
from shopdesk.services.contacts import ContactRefused, checked_contact, phone_key
from shopdesk.services.hold_records import (
    HoldState,
    end_of,
    find_hold,
    holds_ended,
    list_holds,
)
from shopdesk.services.holds import (
    HoldOrder,
    PartCollected,
    collect_hold,
    collect_part,
    extend_hold,
    hold_skeins,
    release_hold,
    sweep_holds,
)
from shopdesk.shelf.branch_lots import LotAtBranch, StockRefused
from shopdesk.shelf.loading import shelf_yarn
from shopdesk.shelf.stock import available, count, discrepancies, receive, sell, transfer
from shopdesk.shelf.writing import writing
from shopdesk.shop.shop import Shop, day_of
from shopdesk.store.database import open_shelf, reading
from shopdesk.store.models import Branch, Contact, Hold, StockMovement
from shopdesk.store.types import now
from tests.factories import a_lot
from tests.machine import examples
from tests.shelf.rows import put_yarn

HERE = LotAtBranch("T-1", "01", "L1")
OTHER = LotAtBranch("T-1", "01", "L2")
LONG_AGO = datetime(2026, 3, 2, 10, 0, tzinfo=UTC)


@pytest.fixture
def stocked_shelf(shelf: Engine) -> Engine:
    """Ten skeins of one lot, three of another, and a second branch."""
    with writing(shelf) as session:
        put_yarn(session, "T-1", lots=(a_lot(10, "L1", "01"), a_lot(3, "L2", "01")))
        session.add(Branch(code="north", name="North"))
    return shelf


def free(engine: Engine, where: LotAtBranch = HERE) -> int:
    with reading(engine) as session:
        return available(session, where)


def shop_at(engine: Engine, at: datetime | None = None) -> Shop:
    """Returns the shop; with a moment, as it is at that moment."""
    return Shop(engine) if at is None else Shop(engine, clock=lambda: at)


def held(engine: Engine, skeins: int = 4, at: datetime | None = None, **terms: object) -> int:
    """Holds skeins and returns the hold's number."""
    order = HoldOrder(((HERE, skeins),), **terms)  # type: ignore[arg-type]
    return hold_skeins(shop_at(engine, at), order)[0].number


def sold(engine: Engine, skeins: int) -> None:
    with writing(engine) as session:
        sell(session, HERE, skeins)


def received(engine: Engine, skeins: int) -> None:
    with writing(engine) as session:
        receive(session, HERE, skeins)


def sent_north(engine: Engine, skeins: int) -> None:
    with writing(engine) as session:
        transfer(session, HERE, "north", skeins)


def test_what_is_on_hold_is_not_free_anywhere(stocked_shelf: Engine) -> None:
    held(stocked_shelf, 4)
    assert free(stocked_shelf) == 6
    with reading(stocked_shelf) as session:
        yarn = shelf_yarn(session, "T-1")
        assert yarn is not None
        assert {lot.lot: lot.available for lot in yarn.lots} == {"L1": 6, "L2": 3}
    for take in (sold, sent_north, held):
        with pytest.raises(InputError, match="more than the 6 that are free"):
            take(stocked_shelf, 7)


def test_collecting_sells_once_and_leaves_a_movement(stocked_shelf: Engine) -> None:
    number = held(stocked_shelf, 4)
    for _ in range(2):
        assert collect_hold(Shop(stocked_shelf), number, "MB").state is HoldState.COLLECTED
    with reading(stocked_shelf) as session:
        last = session.scalars(select(StockMovement).order_by(StockMovement.id.desc())).first()
        assert last is not None
        assert (last.change, last.reason, last.staff) == (-4, "sold", "MB")
        assert last.note == f"hold {number}"
        assert list(discrepancies(session)) == []
    assert free(stocked_shelf) == 6


def test_every_moment_is_the_shops_clock(stocked_shelf: Engine) -> None:
    number = held(stocked_shelf, 4, at=LONG_AGO)
    collected_at = LONG_AGO + timedelta(days=1)
    collect_hold(shop_at(stocked_shelf, collected_at), number)
    record = find_hold(Shop(stocked_shelf), number)
    assert record is not None
    assert (record.made_at, record.closed_at) == (LONG_AGO, collected_at)
    assert record.until == day_of(LONG_AGO) + timedelta(days=14)
    with reading(stocked_shelf) as session:
        sale = session.scalars(select(StockMovement).where(StockMovement.reason == "sold")).one()
        assert sale.at == collected_at


def test_releasing_gives_back(stocked_shelf: Engine) -> None:
    number = held(stocked_shelf, 4)
    assert release_hold(Shop(stocked_shelf), number, "MB").state is HoldState.RELEASED
    assert free(stocked_shelf) == 10
    with pytest.raises(InputError, match="was released"):
        collect_hold(Shop(stocked_shelf), number)


def test_a_collected_hold_is_neither_released_nor_extended(stocked_shelf: Engine) -> None:
    number, shop = held(stocked_shelf), Shop(stocked_shelf)
    collect_hold(shop, number)
    with pytest.raises(InputError, match="was collected"):
        release_hold(shop, number)
    with pytest.raises(InputError, match="was collected"):
        extend_hold(shop, number, date.today())


def test_a_hold_ends_by_the_clock_without_a_sweep(stocked_shelf: Engine) -> None:
    held(stocked_shelf, 4, at=LONG_AGO)
    assert free(stocked_shelf) == 10
    assert list_holds(Shop(stocked_shelf)) == ()
    with reading(stocked_shelf) as session:
        ended = holds_ended(session, LONG_AGO)
    assert [record.state for record in ended] == [HoldState.EXPIRED]


def test_a_hold_counts_to_the_end_of_its_last_day(stocked_shelf: Engine) -> None:
    number = held(stocked_shelf, 4, at=LONG_AGO, until=day_of(LONG_AGO))
    end = end_of(day_of(LONG_AGO))
    before = list_holds(shop_at(stocked_shelf, end - timedelta(seconds=1)))
    assert [record.number for record in before] == [number]
    assert list_holds(shop_at(stocked_shelf, end)) == ()
    assert end.astimezone().time().isoformat() == "00:00:00"


def test_a_sweep_marks_what_ran_out_and_frees_nothing_more(stocked_shelf: Engine) -> None:
    held(stocked_shelf, 4, at=LONG_AGO)
    stays = held(stocked_shelf, 5)
    with writing(stocked_shelf) as session:
        assert sweep_holds(session, now()) == 1
        assert sweep_holds(session, now()) == 0
    assert free(stocked_shelf) == 5
    assert [record.number for record in list_holds(Shop(stocked_shelf))] == [stays]
    with reading(stocked_shelf) as session:
        assert [r.state for r in holds_ended(session, LONG_AGO)] == [HoldState.EXPIRED]


@pytest.mark.parametrize("swept", [False, True])
def test_a_hold_that_ran_out_is_kept_on_while_its_skeins_are_free(
    stocked_shelf: Engine, swept: bool
) -> None:
    number = held(stocked_shelf, 4, at=LONG_AGO)
    if swept:
        with writing(stocked_shelf) as session:
            sweep_holds(session, now())
    again = extend_hold(Shop(stocked_shelf), number, date.today() + timedelta(days=2), "TK")
    assert (again.state, again.made_by) == (HoldState.HELD, "TK")
    assert free(stocked_shelf) == 6


def test_a_hold_that_ran_out_promises_nothing_that_was_promised_since(
    stocked_shelf: Engine,
) -> None:
    number = held(stocked_shelf, 4, at=LONG_AGO)
    held(stocked_shelf, 8)
    shop, told = Shop(stocked_shelf), "of its 4 skeins only 2 are still free"
    with pytest.raises(InputError, match=told):
        collect_hold(shop, number)
    with pytest.raises(InputError, match=told):
        extend_hold(shop, number, date.today())
    assert free(stocked_shelf) == 2


def test_all_lots_are_held_or_none(stocked_shelf: Engine) -> None:
    order = HoldOrder(((HERE, 2), (OTHER, 4)), contact=checked_contact("Ada Lamb"))
    with pytest.raises(InputError, match="4 skeins"):
        hold_skeins(Shop(stocked_shelf), order)
    assert (free(stocked_shelf), free(stocked_shelf, OTHER)) == (10, 3)
    with reading(stocked_shelf) as session:
        assert session.scalar(select(func.count(Contact.id))) == 0


def test_the_same_lot_named_twice_is_one_hold(stocked_shelf: Engine) -> None:
    made = hold_skeins(Shop(stocked_shelf), HoldOrder(((HERE, 2), (OTHER, 1), (HERE, 3))))
    assert {(one.where.lot, one.skeins) for one in made} == {("L1", 5), ("L2", 1)}


def test_a_form_sent_twice_holds_once(stocked_shelf: Engine) -> None:
    first = held(stocked_shelf, 4, request_key="form 1")
    assert held(stocked_shelf, 4, request_key="form 1") == first
    assert held(stocked_shelf, 4, request_key="form 2") != first
    assert free(stocked_shelf) == 2


def test_the_usual_number_of_days_is_the_shops(stocked_shelf: Engine) -> None:
    held(stocked_shelf, 4)
    assert list_holds(Shop(stocked_shelf))[0].until == date.today() + timedelta(days=14)


def test_a_count_below_what_is_held_leaves_none_free(stocked_shelf: Engine) -> None:
    held(stocked_shelf, 4)
    with writing(stocked_shelf) as session:
        count(session, HERE, 3)
    assert free(stocked_shelf) == 0


REFUSALS = {
    "none": ({"skeins": 0}, "0 is no number of skeins to hold; give 1 to 10000"),
    "too many": ({"skeins": 10_001}, "10001 is no number of skeins to hold; give 1 to 10000"),
    "more than a year": ({"until": date(2027, 3, 3)}, "2027-03-03 is not between today"),
    "a day that is over": ({"until": date(2026, 3, 1)}, "2026-03-01 is not between today"),
    "a day far off": ({"until": date(2030, 3, 1)}, "2030-03-01 is not between today"),
}


@pytest.mark.parametrize("why", REFUSALS)
def test_what_cannot_be_is_refused(stocked_shelf: Engine, why: str) -> None:
    facts, words = REFUSALS[why]
    with pytest.raises(InputError) as refused:
        held(stocked_shelf, at=LONG_AGO, **facts)
    assert words in str(refused.value)
    with reading(stocked_shelf) as session:
        assert session.scalar(select(func.count(Hold.id))) == 0


def test_all_that_is_free_may_be_held_for_a_year(stocked_shelf: Engine) -> None:
    """From one skein to 10,000, from today on for 365 days: 2027-03-02 is that many on."""
    held(stocked_shelf, 1, LONG_AGO, until=date(2026, 3, 2))
    held(stocked_shelf, 9, LONG_AGO, until=date(2027, 3, 2))
    with pytest.raises(InputError, match="more than the 0 that are free"):
        held(stocked_shelf, 1, LONG_AGO)
    received(stocked_shelf, 10_000)
    assert held(stocked_shelf, 10_000, LONG_AGO)


def test_a_hold_is_refused_by_what_is_left_to_hold(stocked_shelf: Engine) -> None:
    with pytest.raises(InputError, match="hold at most 10"):
        held(stocked_shelf, 11)
    held(stocked_shelf, 10)
    with pytest.raises(InputError, match="look for another lot"):
        held(stocked_shelf, 1)


def test_each_verb_takes_the_hold_that_is_named(stocked_shelf: Engine) -> None:
    shop = Shop(stocked_shelf)
    first, second, third = (held(stocked_shelf, skeins) for skeins in (1, 2, 3))
    assert release_hold(shop, second).number == second
    assert collect_hold(shop, third).skeins == 3
    until = date.today() + timedelta(days=30)
    extended = extend_hold(shop, first, until)
    assert (extended.number, extended.until) == (first, until)
    states = {one: find_hold(shop, one) for one in (first, second, third)}
    assert [one and one.state for one in states.values()] == ["held", "released", "collected"]


def test_extending_is_noted_by_who_did_it(stocked_shelf: Engine) -> None:
    number = held(stocked_shelf, 1, staff="MB")
    shop = Shop(stocked_shelf)
    assert extend_hold(shop, number, date.today()).made_by == "MB"
    assert extend_hold(shop, number, date.today(), "TK").made_by == "TK"


def test_releasing_again_is_noted_by_who_did_it_first(stocked_shelf: Engine) -> None:
    number = held(stocked_shelf, 1)
    shop = Shop(stocked_shelf)
    assert release_hold(shop, number, "MB").closed_by == "MB"
    assert release_hold(shop, number, "TK").closed_by == "MB"
    with pytest.raises(InputError, match="was released"):
        extend_hold(shop, number, date.today())
    with pytest.raises(InputError, match="was released"):
        collect_hold(shop, number)


def test_what_ran_out_is_kept_on_where_as_many_are_free(stocked_shelf: Engine) -> None:
    """Of ten four are held for a day long past; all but four are sold since."""
    numbers = [held(stocked_shelf, 4, LONG_AGO) for _ in range(2)]
    sold(stocked_shelf, 6)
    shop = Shop(stocked_shelf)
    assert extend_hold(shop, numbers[0], date.today()).state is HoldState.HELD
    with pytest.raises(InputError, match="ended"):
        extend_hold(shop, numbers[1], date.today())
    with pytest.raises(InputError, match="ended"):
        collect_hold(shop, numbers[1])
    assert collect_hold(shop, numbers[0]).state is HoldState.COLLECTED


def test_what_is_held_can_be_held_on_where_nothing_else_is_free(stocked_shelf: Engine) -> None:
    number = held(stocked_shelf, 10)
    shop = Shop(stocked_shelf)
    assert extend_hold(shop, number, date.today()).state is HoldState.HELD
    assert collect_part(shop, number, PartCollected(1)).skeins == 9
    assert collect_hold(shop, number).state is HoldState.COLLECTED


def test_a_sweep_counts_what_ran_out_at_that_moment(stocked_shelf: Engine) -> None:
    held(stocked_shelf, 1, LONG_AGO, until=date(2026, 3, 2))
    held(stocked_shelf, 1, LONG_AGO, until=date(2026, 3, 3))
    end = end_of(date(2026, 3, 2))
    for moment, swept in ((end - timedelta(microseconds=1), 0), (end, 1), (end, 0)):
        with writing(stocked_shelf) as session:
            assert sweep_holds(session, moment) == swept


def test_nothing_to_hold_is_refused(stocked_shelf: Engine) -> None:
    with pytest.raises(InputError, match="nothing to hold"):
        hold_skeins(Shop(stocked_shelf), HoldOrder())


@pytest.mark.parametrize("number", [0, -1, 77, 2**31, 2**70])
def test_an_unknown_hold_is_told(stocked_shelf: Engine, number: int) -> None:
    with pytest.raises(InputError, match=f"there is no hold {number}"):
        collect_hold(Shop(stocked_shelf), number)
    assert find_hold(Shop(stocked_shelf), number) is None


def test_names_and_numbers_are_optional_and_checked() -> None:
    assert checked_contact().empty
    assert checked_contact(" Ada   Lamb ", " 01632 960001 ").name == "Ada Lamb"
    for field, typed in (
        ("name", ("x" * 121, "")),
        ("phone", ("", "ring me")),
        ("phone", ("", "--- ")),
    ):
        with pytest.raises(ContactRefused) as refused:
            checked_contact(*typed)
        assert refused.value.field == field


def test_one_number_written_in_two_ways_is_one() -> None:
    # ITU-T E.123: '+' stands for the international prefix, which is 00 in most countries.
    assert phone_key("+44 (1632) 960-001") == phone_key("0044 1632 960001") == "441632960001"


NOT_TO_BE_HELD = {
    "problem_shelf.not_free",
    "problem_visit.hold_collected",
    "problem_visit.hold_ended",
    "problem_visit.hold_released",
    "problem_visit.no_hold",
}
STEPS = st.lists(
    st.tuples(
        st.sampled_from(["hold", "collect", "release", "sell", "receive", "extend", "lapse"]),
        st.integers(1, 5),
    ),
    max_size=14,
)


@settings(max_examples=examples(25))
@given(STEPS)
def test_any_steps_promise_no_skein_twice(
    tmp_path_factory: pytest.TempPathFactory,
    empty_shelf_file: object,
    steps: list[tuple[str, int]],
) -> None:
    path = tmp_path_factory.mktemp("steps") / "shelf.sqlite3"
    path.write_bytes(empty_shelf_file.read_bytes())  # type: ignore[attr-defined]
    engine = open_shelf(f"sqlite:///{path}")
    with writing(engine) as session:
        put_yarn(session, "T-1", lots=(a_lot(10, "L1", "01"),))
    shop = Shop(engine)
    verbs: dict[str, Callable[[int], object]] = {
        "hold": lambda n: held(engine, n),
        "lapse": lambda n: held(engine, n, LONG_AGO),
        "collect": lambda n: collect_hold(shop, n),
        "release": lambda n: release_hold(shop, n),
        "extend": lambda n: extend_hold(shop, n, date.today()),
        "sell": lambda n: sold(engine, n),
        "receive": lambda n: received(engine, n),
    }
    for verb, number in steps:
        try:
            verbs[verb](number)
        except StockRefused:
            continue
        except InputError as refusal:
            if refusal.problem.wrong.code not in NOT_TO_BE_HELD:
                raise
    promised = sum(record.skeins for record in list_holds(shop))
    with reading(engine) as session:
        on_hand = session.scalar(select(func.sum(StockMovement.change)))
        assert available(session, HERE) == on_hand - promised >= 0
        assert list(discrepancies(session)) == []
    engine.dispose()


@pytest.mark.parametrize("release_rest", [False, True])
def test_some_are_collected_and_the_rest_stays_or_goes_back(
    stocked_shelf: Engine, release_rest: bool
) -> None:
    number = held(stocked_shelf, 5)
    part = PartCollected(2, release_rest, "MB", request_key="one form")
    for _ in range(2):
        rest = collect_part(Shop(stocked_shelf), number, part)
    assert (rest.number, rest.skeins) == (number, 3)
    assert rest.state is (HoldState.RELEASED if release_rest else HoldState.HELD)
    assert free(stocked_shelf) == (8 if release_rest else 5)
    with reading(stocked_shelf) as session:
        sales = session.scalars(select(StockMovement).where(StockMovement.reason == "sold")).all()
        assert [one.change for one in sales] == [-2]
        assert list(discrepancies(session)) == []
        taken = session.scalars(select(Hold).where(Hold.outcome == "collected")).all()
        assert [(one.skeins, one.closed_by) for one in taken] == [(2, "MB")]
    if not release_rest:
        assert collect_hold(Shop(stocked_shelf), number).state is HoldState.COLLECTED
        assert free(stocked_shelf) == 5


def test_all_of_a_hold_collected_as_a_part_closes_it(stocked_shelf: Engine) -> None:
    number = held(stocked_shelf, 4)
    shop = Shop(stocked_shelf)
    assert collect_part(shop, number, PartCollected(4)).state is HoldState.COLLECTED
    with reading(stocked_shelf) as session:
        assert session.scalar(select(func.count(Hold.id))) == 1
    with pytest.raises(InputError, match="was collected"):
        collect_part(shop, number, PartCollected(1))


@pytest.mark.parametrize("skeins", [0, -1, 5])
def test_no_more_is_collected_than_is_held(stocked_shelf: Engine, skeins: int) -> None:
    number = held(stocked_shelf, 4)
    with pytest.raises(InputError) as refusal:
        collect_part(Shop(stocked_shelf), number, PartCollected(skeins))
    assert refusal.value.problem.wrong.code == "problem_visit.not_in_hold"
    assert refusal.value.field == "skeins"
    assert free(stocked_shelf) == 6


def test_a_part_of_a_hold_that_ran_out_needs_only_as_many_free(stocked_shelf: Engine) -> None:
    number = held(stocked_shelf, 4, LONG_AGO)
    sold(stocked_shelf, 8)
    with pytest.raises(InputError, match="only 2"):
        collect_part(Shop(stocked_shelf), number, PartCollected(3))
    rest = collect_part(Shop(stocked_shelf), number, PartCollected(2))
    assert (rest.skeins, rest.state) == (2, HoldState.EXPIRED)
    assert free(stocked_shelf) == 0
