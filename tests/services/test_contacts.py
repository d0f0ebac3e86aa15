"""What customers leave of themselves: names and numbers that a column holds, and what they are."""

from datetime import UTC, datetime

import pytest
from sqlalchemy import Engine, select

from shopdesk.services.contacts import (
    NO_CONTACT,
    ContactDetails,
    ContactRefused,
    checked_contact,
    keep_contact,
    name_key,
)
from shopdesk.shelf.writing import writing
from shopdesk.store.database import reading
from shopdesk.store.models import Contact
from shopdesk.store.types import now

MOMENT = datetime(2026, 3, 2, 12, tzinfo=UTC)


def test_a_name_has_120_letters_at_most() -> None:
    assert checked_contact("x" * 120).name == "x" * 120
    with pytest.raises(ContactRefused) as refused:
        checked_contact("x" * 121)
    assert refused.value.field == "name"


@pytest.mark.parametrize("phone", ["", "123", "(01632) 960.111", "+44 1632/960-111", "1" * 40])
def test_numbers_of_three_digits_and_more(phone: str) -> None:
    assert checked_contact(phone=f" {phone} ").phone == phone


@pytest.mark.parametrize("phone", ["12", "(1) 2", "---", "123a", "1" * 41, "12+34"])
def test_what_is_no_number(phone: str) -> None:
    with pytest.raises(ContactRefused) as refused:
        checked_contact(phone=phone)
    assert refused.value.field == "phone"


@pytest.mark.parametrize(
    ("details", "empty"),
    [
        (NO_CONTACT, True),
        (ContactDetails(name="Ada"), False),
        (ContactDetails(phone="123"), False),
        (ContactDetails(may_ask=True), False),
    ],
)
def test_anything_that_is_left_is_kept(shelf: Engine, details: ContactDetails, empty: bool) -> None:
    assert details.empty is empty
    with writing(shelf) as session:
        assert (keep_contact(session, details) is None) is empty
    with reading(shelf) as session:
        assert len(session.scalars(select(Contact)).all()) == (not empty)


def test_it_is_kept_with_its_moment_or_the_present_one(shelf: Engine) -> None:
    before = now()
    with writing(shelf) as session:
        for at in (MOMENT, None):
            keep_contact(session, ContactDetails(" Ada  Lambswell", "0044 12"), at=at)
    with reading(shelf) as session:
        first, second = session.scalars(select(Contact).order_by(Contact.id)).all()
    assert first.left_at == MOMENT
    assert before <= second.left_at <= now()
    assert (first.name_key, first.phone_key) == (name_key("ADA lambswell"), "4412")
