"""What is kept about customers: forgotten on request and by the clock, given out on request.

Names, numbers, the hand of a customer who agreed to it and the knitter of a customer's swatch are
all there is; slips, holds and swatches themselves stay, without them. A person is found by the
whole name or the whole number, never by a part of it, so that nobody else is forgotten or shown.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta
from typing import Any

from sqlalchemy import ColumnElement, and_, delete, or_, select, update
from sqlalchemy.orm import Session

from shopdesk.craft.errors import InputError
from shopdesk.craft.messages import message
from shopdesk.services.contacts import name_key, phone_key
from shopdesk.services.hold_records import HoldRecord, hold_numbered
from shopdesk.services.sales import slip_row
from shopdesk.shop.shop import Shop, day_of
from shopdesk.store.models import Branch, Contact, Hold, Slip, Swatch, Yarn, YarnMeasurement
from shopdesk.store.settings import load_settings


@dataclass(frozen=True, slots=True)
class Person:
    """Whom a search is for: a whole name, a whole telephone number, or both.

    Raises InputError where neither is given.
    """

    name: str = ""
    phone: str = ""

    def __post_init__(self) -> None:
        if not (name_key(self.name) or phone_key(self.phone)):
            right = message("problem_visit.name_somebody")
            raise InputError(message("problem_visit.nobody"), right)


@dataclass(frozen=True, slots=True)
class Forgotten:
    """In how many places something about a customer stood."""

    contacts: int = 0
    slips: int = 0
    swatches: int = 0

    @property
    def places(self) -> int:
        """All of them."""
        return self.contacts + self.slips + self.swatches


def customer_record(shop: Shop, person: Person) -> dict[str, Any]:
    """Returns, as a JSON document, all that is kept about a customer and until when."""
    with shop.read() as session:
        days = load_settings(session).keep_names_days
        contacts = _contacts(session, person)
        keys = [row.id for row in contacts]
        holds = _holds(session, keys, shop.clock())
        return {
            "kept_for_days": days,
            "contacts": [_contact_document(row, days) for row in contacts],
            "holds": [_hold_document(one) for one in holds],
            "slips": [_slip_document(session, row) for row in _slips(session, person, keys)],
            "swatches": [_swatch_document(row, sku) for row, sku in _swatches(session, person)],
        }


def forget_customer(shop: Shop, person: Person) -> Forgotten:
    """Removes all that is kept about a customer. Returns in how many places it stood."""
    with shop.write() as session:
        contacts = [row.id for row in _contacts(session, person)]
        slips = _slips(session, person, contacts)
        return Forgotten(
            _remove_contacts(session, Contact.id.in_(contacts)),
            _take_off_slips(session, slips),
            _take_off_swatches(session, [row.id for row, _ in _swatches(session, person)]),
        )


def forget_customer_of_slip(shop: Shop, number: int) -> Forgotten:
    """Removes what a customer left with a slip of the shop's branch, and with its holds.

    Returns in how many places it stood. Raises SlipUnknown, and StockRefused for an unknown branch.
    """
    with shop.write() as session:
        row = slip_row(session, number, shop.branch)
        of_holds = select(Hold.contact_id).where(Hold.slip_id == row.id)
        left = or_(Contact.slip_id == row.id, Contact.id.in_(of_holds))
        left = or_(left, *_hands_like(session, row, left))
        swatches = session.scalars(
            select(YarnMeasurement.id)
            .join(Swatch, Swatch.measurement_id == YarnMeasurement.id)
            .where(Swatch.slip_id == row.id, YarnMeasurement.hand.is_not(None))
        )
        return Forgotten(
            _remove_contacts(session, left),
            _take_off_slips(session, [row]),
            _take_off_swatches(session, swatches.all()),
        )


def forget_old_customers(shop: Shop) -> Forgotten:
    """Removes what is older than the shop's setting allows. Returns in how many places it stood."""
    with shop.write() as session:
        return forget_old(session, shop.clock())


def forget_old(session: Session, moment: datetime) -> Forgotten:
    """Removes, in the caller's session, what is older at a moment than the setting allows."""
    days = timedelta(days=load_settings(session).keep_names_days)
    slips = session.scalars(
        select(Slip).where(Slip.made_at < moment - days, Slip.customer_key.is_not(None))
    )
    swatches = session.scalars(
        select(YarnMeasurement.id).where(
            YarnMeasurement.from_customer.is_(True),
            YarnMeasurement.hand.is_not(None),
            YarnMeasurement.taken_on < day_of(moment) - days,
        )
    )
    return Forgotten(
        _remove_contacts(session, Contact.left_at < moment - days),
        _take_off_slips(session, slips.all()),
        _take_off_swatches(session, swatches.all()),
    )


def _contacts(session: Session, person: Person) -> Sequence[Contact]:
    name, phone = name_key(person.name), phone_key(person.phone)
    same: list[ColumnElement[bool]] = [Contact.name_key == name] if name else []
    same += [Contact.phone_key == phone] if phone else []
    return session.scalars(select(Contact).where(or_(*same)).order_by(Contact.id)).all()


def _hands_like(session: Session, slip: Slip, left: ColumnElement[bool]) -> list[Any]:
    """Finds the kept hands of just those names and numbers that were left with a slip."""
    who = {(row.name_key, row.phone_key) for row in session.scalars(select(Contact).where(left))}
    if slip.customer_key:
        who.add((slip.customer_key, ""))
    hands = Contact.hand_percent.is_not(None)
    return [
        and_(hands, Contact.name_key == name, Contact.phone_key == phone) for name, phone in who
    ]


def _slips(session: Session, person: Person, contacts: Sequence[int]) -> Sequence[Slip]:
    """Returns the slips that bear the name, or that a contact or hold of the person belongs to."""
    name = name_key(person.name)
    left = select(Contact.slip_id).where(Contact.id.in_(contacts), Contact.slip_id.is_not(None))
    held = select(Hold.slip_id).where(Hold.contact_id.in_(contacts), Hold.slip_id.is_not(None))
    which: list[ColumnElement[bool]] = [Slip.id.in_(left), Slip.id.in_(held)]
    which += [Slip.customer_key == name] if name else []
    return session.scalars(select(Slip).where(or_(*which)).order_by(Slip.id)).all()


def _holds(session: Session, contacts: Sequence[int], moment: datetime) -> list[HoldRecord]:
    keys = session.scalars(
        select(Hold.id).where(Hold.contact_id.in_(contacts)).order_by(Hold.id)
    ).all()
    found = (hold_numbered(session, key, moment) for key in keys)
    return [record for record in found if record is not None]


def _swatches(session: Session, person: Person) -> list[tuple[YarnMeasurement, str]]:
    """Returns the customers' swatches whose knitter has the name, each with the yarn's SKU."""
    name = name_key(person.name)
    if not name:
        return []
    rows = session.execute(
        select(YarnMeasurement, Yarn.sku)
        .join(Yarn, Yarn.id == YarnMeasurement.yarn_id)
        .where(YarnMeasurement.from_customer.is_(True), YarnMeasurement.hand.is_not(None))
    )
    return [(row, sku) for row, sku in rows if name_key(row.hand or "") == name]


def _remove_contacts(session: Session, which: ColumnElement[bool]) -> int:
    """Removes contacts; holds keep their skeins and lose the customer."""
    keys = session.scalars(select(Contact.id).where(which)).all()
    session.execute(update(Hold).where(Hold.contact_id.in_(keys)).values(contact_id=None))
    session.execute(delete(Contact).where(Contact.id.in_(keys)))
    return len(keys)


def _take_off_slips(session: Session, rows: Sequence[Slip]) -> int:
    named = [row for row in rows if row.customer_name is not None]
    for row in rows:
        row.customer_name = row.customer_key = None
        if "hand" in row.ask:
            row.ask = {name: said for name, said in row.ask.items() if name != "hand"}
    session.flush()
    return len(named)


def _take_off_swatches(session: Session, keys: Sequence[int]) -> int:
    which = YarnMeasurement.id.in_(keys)
    session.execute(update(YarnMeasurement).where(which).values(hand=None))
    return len(keys)


def _contact_document(row: Contact, days: int) -> dict[str, Any]:
    return {
        "name": row.name,
        "phone": row.phone,
        "may_be_asked": row.may_ask,
        "hand_percent_tighter": row.hand_percent,
        "left_at": row.left_at.isoformat(timespec="seconds"),
        "kept_until": day_of(row.left_at + timedelta(days=days)).isoformat(),
    }


def _hold_document(one: HoldRecord) -> dict[str, Any]:
    return {
        "hold": one.number,
        "yarn": one.yarn,
        "colour": one.colour,
        "lot": one.where.lot,
        "skeins": one.skeins,
        "until": one.until.isoformat(),
        "state": one.state.value,
    }


def _slip_document(session: Session, row: Slip) -> dict[str, Any]:
    return {
        "slip": row.number,
        "branch": session.scalars(select(Branch.code).where(Branch.id == row.branch_id)).one(),
        "made_on": row.made_on.isoformat(),
        "name": row.customer_name,
        "ask": row.ask,
        "words": row.words,
    }


def _swatch_document(row: YarnMeasurement, sku: str) -> dict[str, Any]:
    return {
        "yarn": sku,
        "taken_on": row.taken_on.isoformat(),
        "knitter": row.hand,
        "stitches_per_10cm": row.stitches,
        "rows_per_10cm": row.stitch_rows,
        "tool_mm": row.tool_mm,
    }
