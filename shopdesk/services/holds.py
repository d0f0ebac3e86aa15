"""Putting skeins by for a customer, and collecting, releasing or extending what is put by.

The lot's stock is locked before it is looked at (see shopdesk.shelf.stock), so that two counters
can never promise the same skein. Every function works inside a writing session of the caller.
"""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, datetime, timedelta

from sqlalchemy import select, update
from sqlalchemy.orm import Session

from shopdesk.craft.errors import InputError
from shopdesk.services.contacts import NO_CONTACT, ContactDetails, keep_contact
from shopdesk.services.hold_records import (
    HoldRecord,
    HoldState,
    end_of,
    hold,
    holds_with_key,
    state_of,
    today,
)
from shopdesk.shelf.branch_lots import LotAtBranch, branch_id, lot_id
from shopdesk.shelf.stock import MovementKind, MovementNote, free_of, lock, move
from shopdesk.store.models import Hold, Stock
from shopdesk.store.request_keys import first_time
from shopdesk.store.settings import load_settings
from shopdesk.store.types import now

LONGEST_DAYS = 365
MOST_SKEINS = 10_000
LONGEST_STAFF = 60


class HoldRefused(InputError):
    """A hold that cannot be; `field` says which box is wrong."""


@dataclass(frozen=True, slots=True)
class HoldTerms:
    """On what terms skeins are put by.

    `until` None takes the shop's usual number of days. `request_key` is a random word of the form
    that asks: sent twice, it puts by once.
    """

    staff: str = ""
    until: date | None = None
    contact: ContactDetails = NO_CONTACT
    slip_id: int | None = None
    request_key: str | None = None


def put_by(
    session: Session,
    picks: Iterable[tuple[LotAtBranch, int]],
    terms: HoldTerms,
    at: datetime | None = None,
) -> tuple[HoldRecord, ...]:
    """Puts so many skeins of each lot by, all of them or none. Returns a hold for each lot.

    Raises HoldRefused and StockRefused.
    """
    moment = at or now()
    until = _last_day(session, terms.until, moment)
    stocks = _lock_all(session, picks)
    made = holds_with_key(session, terms.request_key) if terms.request_key else ()
    if made:
        return made
    for stock, where, skeins in stocks:
        _require_free(session, stock, where, skeins)
    contact = keep_contact(session, terms.contact, terms.slip_id, moment)
    rows = [_row(stock, skeins, until, terms, contact, moment) for stock, _, skeins in stocks]
    session.add_all(rows)
    session.flush()
    return tuple(_kept(session, row, moment) for row in rows)


def collect(
    session: Session, number: int, staff: str = "", at: datetime | None = None
) -> HoldRecord:
    """Sells what is put by. Collecting again changes nothing. Returns the hold as it then is.

    One that ran out can be collected while its skeins are still free. Raises HoldRefused and
    StockRefused.
    """
    moment = at or now()
    row, stock = _lock_hold(session, number)
    if row.outcome == HoldState.COLLECTED:
        return _kept(session, row, moment)
    _refuse_released(row)
    if state_of(row.outcome, row.ends_at, moment) is HoldState.EXPIRED:
        _require_still_free(session, row, stock, row.skeins)
    _close(row, HoldState.COLLECTED, staff, moment)
    move(
        session,
        stock,
        -row.skeins,
        MovementNote(MovementKind.SOLD, row.closed_by, f"hold {number}"),
    )
    return _kept(session, row, moment)


@dataclass(frozen=True, slots=True)
class PartCollected:
    """Some of a hold's skeins, and whether the rest goes back to the shelf or stays put by.

    `request_key` is a random word of the form that asks: sent twice, it collects once.
    """

    skeins: int
    release_rest: bool = False
    staff: str = ""
    request_key: str | None = None


def collect_part(
    session: Session, number: int, part: PartCollected, at: datetime | None = None
) -> HoldRecord:
    """Sells some of what is put by. Returns the hold of the rest as it then is.

    What is collected becomes a hold of its own that is closed; the rest keeps the number.
    Raises HoldRefused and StockRefused.
    """
    moment = at or now()
    row, stock = _lock_hold(session, number)
    if not first_time(session, part.request_key):
        return _kept(session, row, moment)
    if row.outcome == HoldState.COLLECTED:
        raise HoldRefused(f"hold {number} was collected", "look at the hold again")
    _refuse_released(row)
    _require_part(row, part.skeins)
    if part.skeins == row.skeins:
        return collect(session, number, part.staff, moment)
    if state_of(row.outcome, row.ends_at, moment) is HoldState.EXPIRED:
        _require_still_free(session, row, stock, part.skeins)
    taken = _split(session, row, part.skeins)
    _close(taken, HoldState.COLLECTED, part.staff, moment)
    note = f"hold {taken.id}, part of {number}"
    move(session, stock, -part.skeins, MovementNote(MovementKind.SOLD, taken.closed_by, note))
    if part.release_rest:
        _close(row, HoldState.RELEASED, part.staff, moment)
        session.flush()
    return _kept(session, row, moment)


def release(
    session: Session, number: int, staff: str = "", at: datetime | None = None
) -> HoldRecord:
    """Gives back what is put by. Releasing again changes nothing. Raises HoldRefused."""
    moment = at or now()
    row, _ = _lock_hold(session, number)
    if row.outcome == HoldState.COLLECTED:
        raise HoldRefused(f"hold {number} was collected", "take the skeins back as a return")
    if row.outcome != HoldState.RELEASED:
        _close(row, HoldState.RELEASED, staff, moment)
        session.flush()
    return _kept(session, row, moment)


def extend(
    session: Session, number: int, until: date, staff: str = "", at: datetime | None = None
) -> HoldRecord:
    """Puts the skeins by until another day. Raises HoldRefused.

    A hold that ran out begins again if its skeins are still free.
    """
    moment = at or now()
    until = _last_day(session, until, moment)
    row, stock = _lock_hold(session, number)
    if row.outcome == HoldState.COLLECTED:
        raise HoldRefused(f"hold {number} was collected", "put other skeins by")
    _refuse_released(row)
    if state_of(row.outcome, row.ends_at, moment) is HoldState.EXPIRED:
        _require_still_free(session, row, stock, row.skeins)
    row.until, row.ends_at = until, end_of(until)
    row.outcome = row.closed_at = None
    row.closed_by = ""
    row.made_by = staff[:LONGEST_STAFF] or row.made_by
    session.flush()
    return _kept(session, row, moment)


def sweep_holds(session: Session, at: datetime | None = None) -> int:
    """Notes as expired what ran out. Returns how many; what is free does not change by it."""
    moment = at or now()
    ran_out = (Hold.closed_at.is_(None)) & (Hold.ends_at <= moment)
    swept = (
        update(Hold)
        .where(ran_out)
        .values(closed_at=Hold.ends_at, outcome=HoldState.EXPIRED.value)
        .returning(Hold.id)
    )
    return len(session.scalars(swept, execution_options={"synchronize_session": False}).all())


def _lock_all(
    session: Session, picks: Iterable[tuple[LotAtBranch, int]]
) -> list[tuple[Stock, LotAtBranch, int]]:
    """Locks the stock of every lot, always in the same order, so that no two writers block."""
    wanted: dict[tuple[int, int], tuple[LotAtBranch, int]] = {}
    for where, skeins in picks:
        _require_number(skeins)
        key = lot_id(session, where), branch_id(session, where.branch)
        wanted[key] = where, skeins + wanted.get(key, (where, 0))[1]
    if not wanted:
        raise HoldRefused("there is nothing to put by", "name a lot and how many skeins", "skeins")
    return [(lock(session, *key), *wanted[key]) for key in sorted(wanted)]


def _lock_hold(session: Session, number: int) -> tuple[Hold, Stock]:
    """Returns a hold and its stock, kept from every other writer."""
    keys = session.execute(select(Hold.lot_id, Hold.branch_id).where(Hold.id == number)).first()
    if keys is None:
        raise HoldRefused(f"there is no hold {number}", "look it up in the list of holds")
    stock = lock(session, *keys)
    wanted = select(Hold).where(Hold.id == number).with_for_update()
    return session.scalars(wanted.execution_options(populate_existing=True)).one(), stock


def _require_number(skeins: int) -> None:
    if not 1 <= skeins <= MOST_SKEINS:
        raise HoldRefused(
            f"{skeins} is no number of skeins to put by", f"give 1 to {MOST_SKEINS}", "skeins"
        )


def _require_free(session: Session, stock: Stock, where: LotAtBranch, skeins: int) -> None:
    free = free_of(session, stock)
    if skeins > free:
        right = f"put at most {free} by" if free else "look for another lot"
        raise HoldRefused(
            f"{skeins} skeins of {where} are more than the {free} that are free", right, "skeins"
        )


def _require_part(row: Hold, skeins: int) -> None:
    if not 1 <= skeins <= row.skeins:
        raise HoldRefused(
            f"{skeins} skeins cannot be collected of the {row.skeins} in hold {row.id}",
            f"give 1 to {row.skeins}",
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


def _require_still_free(session: Session, row: Hold, stock: Stock, skeins: int) -> None:
    free = free_of(session, stock)
    if skeins > free:
        raise HoldRefused(
            f"hold {row.id} ended on {row.until.isoformat()}, and of its {row.skeins} skeins "
            f"only {free} are still free",
            "look for another lot",
        )


def _refuse_released(row: Hold) -> None:
    if row.outcome == HoldState.RELEASED:
        raise HoldRefused(f"hold {row.id} was released", "put the skeins by anew")


def _last_day(session: Session, until: date | None, moment: datetime) -> date:
    day = today(moment)
    if until is None:
        return day + timedelta(days=load_settings(session).hold_days)
    last = day + timedelta(days=LONGEST_DAYS)
    if not day <= until <= last:
        raise HoldRefused(
            f"{until.isoformat()} is not between today and a year from now",
            f"give a day from {day.isoformat()} to {last.isoformat()}",
            "until",
        )
    return until


def _row(
    stock: Stock, skeins: int, until: date, terms: HoldTerms, contact: int | None, at: datetime
) -> Hold:
    return Hold(
        lot_id=stock.lot_id,
        branch_id=stock.branch_id,
        skeins=skeins,
        until=until,
        ends_at=end_of(until),
        made_at=at,
        made_by=terms.staff[:LONGEST_STAFF],
        slip_id=terms.slip_id,
        contact_id=contact,
        request_key=terms.request_key,
    )


def _close(row: Hold, outcome: HoldState, staff: str, at: datetime) -> None:
    row.outcome, row.closed_at, row.closed_by = outcome.value, at, staff[:LONGEST_STAFF]


def _kept(session: Session, row: Hold, at: datetime) -> HoldRecord:
    record = hold(session, row.id, at)
    assert record is not None
    return record
