"""Names and numbers: optional, forgotten on request and by the clock, given out on request."""

import json
from datetime import date, timedelta

import pytest
from sqlalchemy import Engine, select, text, update

from shopdesk.answering.swatch.swatch_reading import SwatchEntry
from shopdesk.craft.errors import InputError
from shopdesk.services.contacts import checked_contact
from shopdesk.services.hold_records import list_holds
from shopdesk.services.holds import HoldOrder, hold_skeins
from shopdesk.services.privacy import (
    Forgotten,
    Person,
    customer_record,
    forget_customer,
    forget_customer_of_slip,
    forget_old_customers,
)
from shopdesk.services.slips import SlipOrder, make_slip, slip
from shopdesk.services.swatches import SwatchOf, SwatchReport, report_swatch
from shopdesk.services.tidying import tidy
from shopdesk.shelf.writing import writing
from shopdesk.shop.shop import Shop
from shopdesk.store.database import reading
from shopdesk.store.models import Base, Contact, Hold, YarnMeasurement
from shopdesk.store.settings import ShopSettings, save_settings
from shopdesk.store.types import now
from shopdesk.upkeep.housekeeping import HourlyTidying
from tests.ask_documents import an_ask_document
from tests.services.slips_at_counter import (
    SLIP_LOT,
    a_judged_yarn,
    a_slip,
    a_swatch,
    shop_on,
    stock_shelf,
)
from tests.slip_factories import A_SLIP_DAY, a_choice

ADA, BEA = "Ada Lambswell", "Bea Otterburn"
ADAS_PHONE, BEAS_PHONE = "+44 1632 960111", "01632 960222"


@pytest.fixture
def visited(shelf: Engine) -> Engine:
    """Two customers with a slip, a hold and a swatch each."""
    stock_shelf(shelf)
    for name, phone in ((ADA, ADAS_PHONE), (BEA, BEAS_PHONE)):
        number = a_slip(shelf, on=date.today(), name=name, phone=phone, ask=True)
        left = checked_contact(name, phone)
        hold_skeins(Shop(shelf), HoldOrder(((SLIP_LOT, 2),), number, contact=left))
        a_swatch(shelf, number, hand=name)
    return shelf


def in_days(engine: Engine, days: int) -> Shop:
    """Returns the shop as it will be after so many days."""
    return Shop(engine, clock=lambda: now() + timedelta(days=days))


def everything(engine: Engine) -> str:
    """Returns the whole database as text, whatever the table."""
    with reading(engine) as session:
        names = Base.metadata.tables
        return "\n".join(
            str(row) for name in names for row in session.execute(text(f"SELECT * FROM {name}"))
        )


@pytest.mark.parametrize(
    "person",
    [Person(ADA), Person(name="  ada  LAMBSWELL"), Person(ADA, "0044 1632 960111")],
)
def test_a_person_is_forgotten_everywhere_and_nobody_else(visited: Engine, person: Person) -> None:
    assert ADA in everything(visited)
    gone = forget_customer(Shop(visited), person)
    assert (gone.contacts, gone.slips, gone.swatches) == (2, 1, 1)
    left = everything(visited)
    for word in ("lambswell", "960111"):
        assert word not in left.casefold()
    assert BEA in left
    assert BEAS_PHONE in left


def test_a_number_alone_finds_the_slip_too(visited: Engine) -> None:
    assert forget_customer(Shop(visited), Person(phone=BEAS_PHONE)).slips == 1
    assert BEAS_PHONE not in everything(visited)


def test_holds_slips_and_swatches_stay(visited: Engine) -> None:
    forget_customer(Shop(visited), Person(ADA))
    holds = list_holds(Shop(visited))
    assert [one.skeins for one in holds] == [2, 2]
    assert {one.name for one in holds} == {"", BEA}
    with reading(visited) as session:
        kept = slip(session, 1)
        assert kept is not None
        assert kept.summary.customer_name is None
        assert len(session.scalars(select(YarnMeasurement.id)).all()) == 2


def test_a_hold_of_a_slip_leads_to_its_slip(visited: Engine) -> None:
    """Of a hold for somebody else the slip that it is of is theirs, not the one who is named."""
    number = a_slip(visited, on=date.today(), name="Cleo Ramsay")
    left = checked_contact("Dot Merrow", "01632 960333")
    hold_skeins(Shop(visited), HoldOrder(((SLIP_LOT, 1),), number, contact=left))
    record = customer_record(Shop(visited), Person("Dot Merrow"))
    assert [(one["slip"], one["branch"]) for one in record["slips"]] == [(number, "main")]
    assert [one["name"] for one in record["contacts"]] == ["Dot Merrow"]
    assert [(one["skeins"], one["lot"], one["state"]) for one in record["holds"]] == [
        (1, SLIP_LOT.lot, "held")
    ]
    assert record["swatches"] == []


def test_a_part_of_a_name_forgets_nobody(visited: Engine) -> None:
    assert forget_customer(Shop(visited), Person("Ada")).places == 0
    assert forget_customer(Shop(visited), Person(phone="960111")).places == 0
    with pytest.raises(InputError) as refused:
        Person("  ", "--")
    assert refused.value.problem.wrong.code == "problem_visit.nobody"


def test_one_slip_is_forgotten_with_its_hold(visited: Engine) -> None:
    assert forget_customer_of_slip(Shop(visited), 1).places == 4
    left = everything(visited)
    assert ADA not in left
    assert BEA in left


def test_the_clock_forgets_when_the_setting_says(visited: Engine) -> None:
    with writing(visited) as session:
        save_settings(session, ShopSettings(keep_names_days=30))
    assert forget_old_customers(in_days(visited, 29)).places == 0
    assert forget_old_customers(in_days(visited, 32)).places == 8
    left = everything(visited)
    assert ADA not in left
    assert BEA not in left


def test_each_place_is_counted_apart() -> None:
    assert Forgotten().places == 0
    assert Forgotten(1, 2, 4).places == 7


@pytest.mark.parametrize("late", [timedelta(0), timedelta(microseconds=1)])
def test_a_name_is_kept_for_just_so_long(shelf: Engine, late: timedelta) -> None:
    """Thirty days from the moment of slip and hold, and from the day of a swatch."""
    stock_shelf(shelf)
    with writing(shelf) as session:
        save_settings(session, ShopSettings(keep_names_days=30))
    a_slip(shelf, name=ADA, phone=ADAS_PHONE)
    report = SwatchReport(SwatchOf(1), SwatchEntry("22", hand=ADA))
    report_swatch(shop_on(shelf), report)
    after = shop_on(shelf, A_SLIP_DAY + timedelta(days=30)).clock() + late
    gone = forget_old_customers(Shop(shelf, clock=lambda: after))
    assert (gone.contacts, gone.slips, gone.swatches) == ((1, 1, 0) if late else (0, 0, 0))
    a_day_on = shop_on(shelf, A_SLIP_DAY + timedelta(days=31))
    assert forget_old_customers(a_day_on).swatches == 1


def test_tidying_sweeps_and_forgets_in_one(visited: Engine) -> None:
    done = tidy(in_days(visited, 400))
    assert (done.holds, done.names.places) == (2, 8)
    with reading(visited) as session:
        assert session.scalars(select(Contact.id)).all() == []
        assert set(session.scalars(select(Hold.outcome))) == {"expired"}


def test_what_is_kept_is_given_out_whole_as_json(visited: Engine) -> None:
    kept = customer_record(Shop(visited), Person(ADA))
    nothing = customer_record(Shop(visited), Person("Cleo"))
    document = json.dumps(kept)
    assert document.count(ADAS_PHONE) == 2
    assert BEA not in document
    assert [one["slip"] for one in kept["slips"]] == [1]
    assert [one["skeins"] for one in kept["holds"]] == [2]
    assert [one["knitter"] for one in kept["swatches"]] == [ADA]
    assert kept["contacts"][0]["kept_until"] == (date.today() + timedelta(days=365)).isoformat()
    assert not any(value for name, value in nothing.items() if name != "kept_for_days")


def test_tidying_runs_by_itself_beside_the_counter(visited: Engine) -> None:
    with writing(visited) as session:
        session.execute(update(Contact).values(left_at=now() - timedelta(days=400)))
    tidying = HourlyTidying(Shop(visited), every_seconds=0.01)
    tidying.start()
    tidying.end()
    with reading(visited) as session:
        assert session.scalars(select(Contact.id)).all() == []


def test_a_slip_of_another_branch_with_the_same_number_keeps_its_swatch(shelf: Engine) -> None:
    stock_shelf(shelf)
    a_slip(shelf)
    order = SlipOrder(an_ask_document(), a_choice(), "CD")
    make_slip(shop_on(shelf, branch="north"), a_judged_yarn(), order)
    a_swatch(shelf, branch="north", hand=ADA)
    assert forget_customer_of_slip(Shop(shelf), 1).swatches == 0
    assert forget_customer_of_slip(Shop(shelf, "north"), 1).swatches == 1
