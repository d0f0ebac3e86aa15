"""Holds as plain data, read from storage; nothing is changed here."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, datetime, time, timedelta
from enum import StrEnum
from typing import Any

from sqlalchemy import ColumnElement, Row, Select, select
from sqlalchemy.orm import Session, aliased

from shopdesk.craft.messages import Message, message
from shopdesk.shelf.branch_lots import LotAtBranch
from shopdesk.shop.shop import Shop
from shopdesk.store.models import Branch, Colourway, Contact, DyeLot, Hold, Slip, Yarn
from shopdesk.store.types import can_be_number, now


class HoldState(StrEnum):
    """How a hold stands. One that is not HELD counts no more."""

    HELD = "held"
    EXPIRED = "expired"
    COLLECTED = "collected"
    RELEASED = "released"


@dataclass(frozen=True, slots=True)
class HoldRecord:
    """Skeins of one lot on hold for a customer; `number` names the hold."""

    number: int
    where: LotAtBranch
    yarn: str
    colour: str
    skeins: int
    until: date
    state: HoldState
    made_at: datetime
    made_by: str
    closed_at: datetime | None
    closed_by: str
    slip_number: int | None
    slip_branch: str | None
    name: str
    phone: str


def hold_message(record: HoldRecord) -> Message:
    """Returns how a hold stands, as a sentence."""
    if record.state is HoldState.HELD:
        return message("hold.held", until_date=record.until.isoformat())
    if record.state is HoldState.EXPIRED:
        return message("hold.expired", until_date=record.until.isoformat())
    return message("hold.collected" if record.state is HoldState.COLLECTED else "hold.released")


def list_holds(shop: Shop) -> tuple[HoldRecord, ...]:
    """Returns the holds that count, the one that ends first before the others."""
    with shop.read() as session:
        return open_holds(session, shop.clock())


def find_hold(shop: Shop, number: int) -> HoldRecord | None:
    """Returns one hold by its number, or None if there is none."""
    with shop.read() as session:
        return hold_numbered(session, number, shop.clock())


def end_of(day: date) -> datetime:
    """Returns the moment at which a day is over at the counter."""
    return datetime.combine(day + timedelta(days=1), time.min).astimezone()


def hold_numbered(session: Session, number: int, at: datetime | None = None) -> HoldRecord | None:
    """Returns one hold by its number, or None if there is none."""
    if not can_be_number(number):
        return None
    found = _records(session, _all().where(Hold.id == number), at)
    return found[0] if found else None


def open_holds(session: Session, at: datetime | None = None) -> tuple[HoldRecord, ...]:
    """Returns the holds that count, the one that ends first before the others."""
    return _records(session, _all().where(*is_open(at)), at)


def holds_with_key(
    session: Session, request_key: str, at: datetime | None = None
) -> tuple[HoldRecord, ...]:
    """Returns the holds that one sent form made."""
    return _records(session, _all().where(Hold.request_key == request_key), at)


def holds_ended(
    session: Session, since: datetime, at: datetime | None = None
) -> tuple[HoldRecord, ...]:
    """Returns the holds that ran out since a moment, swept or not: what goes back on the shelf."""
    moment = at or now()
    ran_out = Hold.closed_at.is_(None) | (Hold.outcome == HoldState.EXPIRED.value)
    wanted = _all().where(Hold.ends_at > since, Hold.ends_at <= moment, ran_out)
    return _records(session, wanted, at)


def is_open(at: datetime | None = None) -> tuple[ColumnElement[bool], ...]:
    """Returns the conditions of a hold that counts at a moment (None: now)."""
    return Hold.closed_at.is_(None), Hold.ends_at > (at or now())


def _all() -> Select[*tuple[Any, ...]]:
    of_slip = aliased(Branch)
    return (
        select(Hold.__table__, Yarn.sku, Yarn.name.label("yarn"), Colourway.code,
               Colourway.name.label("colour"), DyeLot.lot, Branch.code.label("branch"),
               Slip.number.label("slip_number"), of_slip.code.label("slip_branch"),
               Contact.name, Contact.phone)
        .select_from(Hold)
        .join(DyeLot, DyeLot.id == Hold.lot_id)
        .join(Colourway, Colourway.id == DyeLot.colourway_id)
        .join(Yarn, Yarn.id == Colourway.yarn_id)
        .join(Branch, Branch.id == Hold.branch_id)
        .outerjoin(Slip, Slip.id == Hold.slip_id)
        .outerjoin(of_slip, of_slip.id == Slip.branch_id)
        .outerjoin(Contact, Contact.id == Hold.contact_id)
        .order_by(Hold.ends_at, Hold.id)
    )  # fmt: skip


def _records(
    session: Session, wanted: Select[*tuple[Any, ...]], at: datetime | None
) -> tuple[HoldRecord, ...]:
    moment = at or now()
    rows: Sequence[Row[Any]] = session.execute(wanted).all()
    return tuple(_record(row, moment) for row in rows)


def _record(row: Row[Any], moment: datetime) -> HoldRecord:
    return HoldRecord(
        number=row.id,
        where=LotAtBranch(row.sku, row.code, row.lot or None, row.branch),
        yarn=row.yarn,
        colour=row.colour,
        skeins=row.skeins,
        until=row.until,
        state=state_of(row.outcome, row.ends_at, moment),
        made_at=row.made_at,
        made_by=row.made_by,
        closed_at=row.closed_at,
        closed_by=row.closed_by,
        slip_number=row.slip_number,
        slip_branch=row.slip_branch,
        name=row.name or "",
        phone=row.phone or "",
    )


def state_of(outcome: str | None, ends_at: datetime, moment: datetime) -> HoldState:
    """Returns how a hold stands at a moment, by what was noted and by the clock."""
    if outcome is not None:
        return HoldState(outcome)
    return HoldState.HELD if ends_at > moment else HoldState.EXPIRED
