"""A customer's hand: kept with their consent, moved by, shown, and forgotten with them."""

from datetime import date, timedelta

import pytest
from sqlalchemy import Engine, select

from shopdesk.answering.profile.profile import shelf_profile
from shopdesk.craft.errors import InputError, InputErrors
from shopdesk.services.hands import HandNote, hand_of, keep_hand
from shopdesk.services.privacy import (
    Person,
    customer_record,
    forget_customer,
    forget_customer_of_slip,
    forget_old_customers,
)
from shopdesk.services.slips import SlipOrder, make_slip
from shopdesk.shelf.loading import shelf_yarn
from shopdesk.shop.shop import Shop
from shopdesk.store.database import reading
from shopdesk.store.models import Contact, Slip
from shopdesk.store.types import now
from tests.ask_documents import an_ask_document
from tests.services.slips_at_counter import a_judged_yarn, a_slip, shop_on, stock_shelf
from tests.slip_factories import a_choice

ADA, BEA = Person("Ada Lambswell", "01632 960111"), Person("Bea Otterburn")


def keep(shelf: Engine, person: Person, percent: str = "4", looser: bool = False) -> float:
    return keep_hand(Shop(shelf), HandNote(person, percent, looser, agreed=True))


def kept_rows(shelf: Engine) -> list[float]:
    with reading(shelf) as session:
        hands = session.scalars(select(Contact.hand_percent)).all()
    return [hand for hand in hands if hand is not None]


def test_a_hand_is_found_by_name_or_number(shelf: Engine) -> None:
    assert keep(shelf, ADA) == 4
    assert keep(shelf, BEA, "2,5", looser=True) == -2.5
    shop = Shop(shelf)
    for person in (ADA, Person("ada  lambswell"), Person(phone="01632/960111")):
        assert hand_of(shop, person) == 4
    assert hand_of(shop, BEA) == -2.5
    assert hand_of(shop, Person("Ada")) is None
    assert hand_of(shop, Person("Ada Lambswell", "01632 960999")) is None


def test_a_new_hand_takes_the_place_of_the_old_one(shelf: Engine) -> None:
    keep(shelf, ADA)
    keep(shelf, ADA, "3")
    assert kept_rows(shelf) == [3]
    assert hand_of(Shop(shelf), ADA) == 3


def test_of_two_people_of_one_name_the_number_tells(shelf: Engine) -> None:
    keep(shelf, ADA)
    other = Person(ADA.name, "01632 960222")
    keep(shelf, other, "6")
    with pytest.raises(InputError, match="different hands"):
        hand_of(Shop(shelf), Person(ADA.name))
    assert hand_of(Shop(shelf), other) == 6
    assert hand_of(Shop(shelf), ADA) == 4


@pytest.mark.parametrize(
    ("percent", "agreed", "fields"),
    [
        ("4", False, ["agreed"]),
        ("", True, ["percent"]),
        ("tight", True, ["percent"]),
        ("0", True, ["percent"]),
        ("-4", True, ["percent"]),
        ("25.1", True, ["percent"]),
        ("x", False, ["percent", "agreed"]),
    ],
)
def test_nothing_is_kept_without_consent_or_of_what_no_hand_is(
    shelf: Engine, percent: str, agreed: bool, fields: list[str]
) -> None:
    with pytest.raises(InputErrors) as refused:
        keep_hand(Shop(shelf), HandNote(ADA, percent, agreed=agreed))
    assert [problem.place for problem in refused.value.problems] == fields
    with reading(shelf) as session:
        assert session.scalars(select(Contact)).all() == []


def test_25_percent_is_the_most(shelf: Engine) -> None:
    assert keep(shelf, ADA, "25") == 25


def test_what_is_kept_is_shown(shelf: Engine) -> None:
    keep(shelf, ADA)
    [contact] = customer_record(Shop(shelf), ADA)["contacts"]
    assert (contact["name"], contact["hand_percent_tighter"]) == (ADA.name, 4)


def test_forgetting_the_customer_forgets_the_hand_and_nobody_elses(shelf: Engine) -> None:
    keep(shelf, ADA)
    keep(shelf, BEA)
    assert forget_customer(Shop(shelf), Person(ADA.name)).contacts == 1
    assert hand_of(Shop(shelf), ADA) is None
    assert hand_of(Shop(shelf), BEA) == 4


def test_the_hand_goes_with_the_clock(shelf: Engine) -> None:
    keep(shelf, ADA)
    later = Shop(shelf, clock=lambda: now() + timedelta(days=400))
    assert forget_old_customers(later).contacts == 1
    assert kept_rows(shelf) == []


def test_forgetting_the_customer_of_a_slip_forgets_the_hand(shelf: Engine) -> None:
    stock_shelf(shelf)
    number = a_slip(shelf, on=date.today(), name=ADA.name, phone=ADA.phone, ask=True)
    keep(shelf, ADA)
    keep(shelf, Person(ADA.name, "01632 960222"), "6")
    forget_customer_of_slip(Shop(shelf), number)
    assert hand_of(Shop(shelf), ADA) is None
    assert kept_rows(shelf) == [6]


def test_a_slip_that_was_made_for_a_hand_forgets_it_too(shelf: Engine) -> None:
    stock_shelf(shelf)
    document = an_ask_document(hand={"percent": 4})
    order = SlipOrder(document, a_choice(), "AB", customer_name=BEA.name)
    make_slip(shop_on(shelf), a_judged_yarn(document=document), order)
    with reading(shelf) as session:
        assert session.scalars(select(Slip)).one().ask["hand"] == {"percent": 4}
    forget_customer(Shop(shelf), BEA)
    with reading(shelf) as session:
        row = session.scalars(select(Slip)).one()
        assert row.ask == {name: said for name, said in document.items() if name != "hand"}


def test_a_hand_changes_nothing_of_the_yarn(shelf: Engine) -> None:
    stock_shelf(shelf)
    with reading(shelf) as session:
        before = shelf_yarn(session, "T-1")
    keep(shelf, ADA, "20")
    with reading(shelf) as session:
        after = shelf_yarn(session, "T-1")
    assert before is not None
    assert after is not None
    assert shelf_profile(after) == shelf_profile(before)
