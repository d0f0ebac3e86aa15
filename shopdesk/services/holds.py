"""Holding skeins for a customer, and collecting, releasing or extending what is on hold.

The lot's stock is locked before it is looked at (see shopdesk.shelf.stock), so that two counters
can never promise the same skein. Every verb keeps all of its work in one transaction, or none.
"""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, datetime, timedelta

from sqlalchemy import select, update
from sqlalchemy.orm import Session

from shopdesk.craft import lengths
from shopdesk.craft.errors import InputError
from shopdesk.craft.messages import Message, message
from shopdesk.services.contacts import NO_CONTACT, ContactDetails, keep_contact
from shopdesk.services.hold_records import (
    HoldRecord,
    HoldState,
    end_of,
    hold_numbered,
    holds_with_key,
    state_of,
)
from shopdesk.services.sales import lots_of_slip, slip_row
from shopdesk.shelf.branch_lots import LotAtBranch, branch_id, lot_id
from shopdesk.shelf.stock import MovementKind, MovementNote, free_of, lock, move
from shopdesk.shop.shop import Shop, day_of
from shopdesk.store.models import Hold, Stock
from shopdesk.store.request_keys import first_time
from shopdesk.store.settings import load_settings
from shopdesk.store.types import can_be_number

LONGEST_DAYS = 365
MOST_SKEINS = 10_000


@dataclass(frozen=True, slots=True)
class HoldOrder:
    """What is to be held, and on what terms.

    `lots` says how many skeins of each; with none named, all that the slip says is held. `slip`
    is the number of a slip of the shop's branch. `until` None takes the shop's usual number of
    days. `request_key` is a random word of the form that asks: sent twice, it holds once.
    """

    lots: tuple[tuple[LotAtBranch, int], ...] = ()
    slip: int | None = None
    until: date | None = None
    contact: ContactDetails = NO_CONTACT
    staff: str = ""
    request_key: str | None = None


def hold_skeins(shop: Shop, order: HoldOrder) -> tuple[HoldRecord, ...]:
    """Holds so many skeins of each lot, all of them or none. Returns a hold for each lot.

    Raises InputError, whose `field` says which box is wrong, StockRefused and SlipUnknown.
    """
    moment = shop.clock()
    with shop.write() as session:
        slip = None if order.slip is None else slip_row(session, order.slip, shop.branch)
        slip_id = None if slip is None else slip.id
        lots = order.lots or (() if slip is None else lots_of_slip(session, slip).items())
        until = _last_day(session, order.until, moment)
        stocks = _lock_all(session, lots)
        if order.request_key and (made := holds_with_key(session, order.request_key, moment)):
            return made
        for stock, where, skeins in stocks:
            _require_free(session, stock, where, skeins, moment)
        contact = keep_contact(session, order.contact, slip_id, moment)
        rows = [_row(stock, skeins, until, order, moment) for stock, _, skeins in stocks]
        for row in rows:
            row.slip_id, row.contact_id = slip_id, contact
        session.add_all(rows)
        session.flush()
        return tuple(_kept(session, row, moment) for row in rows)


def collect_hold(shop: Shop, number: int, staff: str = "") -> HoldRecord:
    """Sells what is on hold. Collecting again changes nothing. Returns the hold as it then is.

    One that ran out can be collected while its skeins are still free. Raises InputError and
    StockRefused.
    """
    with shop.write() as session:
        return _collect(session, number, staff, shop.clock())


@dataclass(frozen=True, slots=True)
class PartCollected:
    """Some of a hold's skeins, and whether the rest goes back to the shelf or stays on hold.

    `request_key` is a random word of the form that asks: sent twice, it collects once.
    """

    skeins: int
    release_rest: bool = False
    staff: str = ""
    request_key: str | None = None


def collect_part(shop: Shop, number: int, part: PartCollected) -> HoldRecord:
    """Sells some of what is on hold. Returns the hold of the rest as it then is.

    What is collected becomes a hold of its own that is closed; the rest keeps the number.
    Raises InputError and StockRefused.
    """
    moment = shop.clock()
    with shop.write() as session:
        row, stock = _lock_hold(session, number)
        if not first_time(session, part.request_key):
            return _kept(session, row, moment)
        if row.outcome == HoldState.COLLECTED:
            raise _was_collected(number, message("problem_visit.see_hold_again"))
        _refuse_released(row)
        _require_part(row, part.skeins)
        if part.skeins == row.skeins:
            return _collect(session, number, part.staff, moment)
        if state_of(row.outcome, row.ends_at, moment) is HoldState.EXPIRED:
            _require_still_free(session, row, stock, part.skeins, moment)
        _sell_some(session, row, stock, part, moment)
        if part.release_rest:
            _close(row, HoldState.RELEASED, part.staff, moment)
            session.flush()
        return _kept(session, row, moment)


def release_hold(shop: Shop, number: int, staff: str = "") -> HoldRecord:
    """Gives back what is on hold. Releasing again changes nothing. Raises InputError."""
    moment = shop.clock()
    with shop.write() as session:
        row, _ = _lock_hold(session, number)
        if row.outcome == HoldState.COLLECTED:
            raise _was_collected(number, message("problem_visit.take_as_return"))
        if row.outcome != HoldState.RELEASED:
            _close(row, HoldState.RELEASED, staff, moment)
            session.flush()
        return _kept(session, row, moment)


def extend_hold(shop: Shop, number: int, until: date, staff: str = "") -> HoldRecord:
    """Holds the skeins until another day. Raises InputError.

    A hold that ran out begins again if its skeins are still free.
    """
    moment = shop.clock()
    with shop.write() as session:
        until = _last_day(session, until, moment)
        row, stock = _lock_hold(session, number)
        if row.outcome == HoldState.COLLECTED:
            raise _was_collected(number, message("problem_visit.hold_others"))
        _refuse_released(row)
        if state_of(row.outcome, row.ends_at, moment) is HoldState.EXPIRED:
            _require_still_free(session, row, stock, row.skeins, moment)
        row.until, row.ends_at = until, end_of(until)
        row.outcome = row.closed_at = None
        row.closed_by = ""
        row.made_by = lengths.staff_name(staff) or row.made_by
        session.flush()
        return _kept(session, row, moment)


def sweep_holds(session: Session, moment: datetime) -> int:
    """Notes as expired what ran out. Returns how many; what is free does not change by it."""
    ran_out = (Hold.closed_at.is_(None)) & (Hold.ends_at <= moment)
    swept = (
        update(Hold)
        .where(ran_out)
        .values(closed_at=Hold.ends_at, outcome=HoldState.EXPIRED.value)
        .returning(Hold.id)
    )
    return len(session.scalars(swept, execution_options={"synchronize_session": False}).all())


def _collect(session: Session, number: int, staff: str, moment: datetime) -> HoldRecord:
    row, stock = _lock_hold(session, number)
    if row.outcome == HoldState.COLLECTED:
        return _kept(session, row, moment)
    _refuse_released(row)
    if state_of(row.outcome, row.ends_at, moment) is HoldState.EXPIRED:
        _require_still_free(session, row, stock, row.skeins, moment)
    _close(row, HoldState.COLLECTED, staff, moment)
    sold = MovementNote(MovementKind.SOLD, row.closed_by, f"hold {number}", moment)
    move(session, stock, -row.skeins, sold)
    return _kept(session, row, moment)


def _sell_some(
    session: Session, row: Hold, stock: Stock, part: PartCollected, moment: datetime
) -> None:
    taken = _split(session, row, part.skeins)
    _close(taken, HoldState.COLLECTED, part.staff, moment)
    note = f"hold {taken.id}, part of {row.id}"
    sold = MovementNote(MovementKind.SOLD, taken.closed_by, note, moment)
    move(session, stock, -part.skeins, sold)


def _lock_all(
    session: Session, lots: Iterable[tuple[LotAtBranch, int]]
) -> list[tuple[Stock, LotAtBranch, int]]:
    """Locks the stock of every lot, always in the same order, so that no two writers block."""
    wanted: dict[tuple[int, int], tuple[LotAtBranch, int]] = {}
    for where, skeins in lots:
        _require_number(skeins)
        key = lot_id(session, where), branch_id(session, where.branch)
        wanted[key] = where, skeins + wanted.get(key, (where, 0))[1]
    if not wanted:
        raise InputError(
            message("problem_visit.nothing_to_hold"), message("problem_visit.name_lot"), "skeins"
        )
    return [(lock(session, *key), *wanted[key]) for key in sorted(wanted)]


def _lock_hold(session: Session, number: int) -> tuple[Hold, Stock]:
    """Returns a hold and its stock, kept from every other writer."""
    wanted_keys = select(Hold.lot_id, Hold.branch_id).where(Hold.id == number)
    keys = session.execute(wanted_keys).first() if can_be_number(number) else None
    if keys is None:
        wrong = message("problem_visit.no_hold", number=number)
        raise InputError(wrong, message("problem_visit.find_hold"))
    stock = lock(session, *keys)
    wanted = select(Hold).where(Hold.id == number).with_for_update()
    return session.scalars(wanted.execution_options(populate_existing=True)).one(), stock


def _require_number(skeins: int) -> None:
    if not 1 <= skeins <= MOST_SKEINS:
        raise InputError(
            message("problem_visit.not_to_hold", number=skeins),
            message("problem_visit.give_1_to", most=MOST_SKEINS),
            "skeins",
        )


def _require_free(
    session: Session, stock: Stock, where: LotAtBranch, skeins: int, moment: datetime
) -> None:
    free = free_of(session, stock, moment)
    if skeins > free:
        wrong = message("problem_shelf.not_free", count=skeins, lot=where.said, free=free)
        at_most = message("problem_visit.hold_at_most", free=free)
        right = at_most if free else message("problem_visit.other_lot")
        raise InputError(wrong, right, "skeins")


def _require_part(row: Hold, skeins: int) -> None:
    if not 1 <= skeins <= row.skeins:
        raise InputError(
            message("problem_visit.not_in_hold", number=skeins, there=row.skeins, hold=row.id),
            message("problem_visit.give_1_to", most=row.skeins),
            "skeins",
        )


def _split(session: Session, row: Hold, skeins: int) -> Hold:
    """Takes so many skeins out of a hold into one of their own, with all else alike."""
    taken = Hold(
        lot_id=row.lot_id,
        branch_id=row.branch_id,
        skeins=skeins,
        until=row.until,
        ends_at=row.ends_at,
        made_at=row.made_at,
        made_by=row.made_by,
        slip_id=row.slip_id,
        contact_id=row.contact_id,
    )
    row.skeins -= skeins
    session.add(taken)
    session.flush()
    return taken


def _require_still_free(
    session: Session, row: Hold, stock: Stock, skeins: int, moment: datetime
) -> None:
    free = free_of(session, stock, moment)
    if skeins > free:
        wrong = message(
            "problem_visit.hold_ended",
            number=row.id,
            day=row.until.isoformat(),
            skeins=row.skeins,
            free=free,
        )
        raise InputError(wrong, message("problem_visit.other_lot"))


def _was_collected(number: int, right: Message) -> InputError:
    return InputError(message("problem_visit.hold_collected", number=number), right)


def _refuse_released(row: Hold) -> None:
    if row.outcome == HoldState.RELEASED:
        wrong = message("problem_visit.hold_released", number=row.id)
        raise InputError(wrong, message("problem_visit.hold_anew"))


def _last_day(session: Session, until: date | None, moment: datetime) -> date:
    day = day_of(moment)
    if until is None:
        return day + timedelta(days=load_settings(session).hold_days)
    last = day + timedelta(days=LONGEST_DAYS)
    if not day <= until <= last:
        raise InputError(
            message("problem_visit.day_outside", day=until.isoformat()),
            message("problem_visit.give_day", first=day.isoformat(), last=last.isoformat()),
            "until",
        )
    return until


def _row(stock: Stock, skeins: int, until: date, order: HoldOrder, moment: datetime) -> Hold:
    return Hold(
        lot_id=stock.lot_id,
        branch_id=stock.branch_id,
        skeins=skeins,
        until=until,
        ends_at=end_of(until),
        made_at=moment,
        made_by=lengths.staff_name(order.staff),
        request_key=order.request_key,
    )


def _close(row: Hold, outcome: HoldState, staff: str, at: datetime) -> None:
    row.outcome, row.closed_at, row.closed_by = outcome.value, at, lengths.staff_name(staff)


def _kept(session: Session, row: Hold, at: datetime) -> HoldRecord:
    record = hold_numbered(session, row.id, at)
    assert record is not None
    return record
