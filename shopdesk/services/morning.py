"""What to look at before the shop opens."""

from dataclasses import dataclass
from datetime import date, datetime, timedelta
from typing import Any

from sqlalchemy import ColumnElement, Row, Select, exists, func, select
from sqlalchemy.orm import Session

from shopdesk.answering.label.check import CheckedLabel
from shopdesk.craft.messages import Message, message
from shopdesk.services.hold_records import HoldRecord, end_of, holds_ended, open_holds
from shopdesk.services.labels import shelf_labels
from shopdesk.services.tidying import tidy
from shopdesk.services.unmet_asks import category_counts, fibre_counts, unmet_asks
from shopdesk.shelf.branch_lots import LotAtBranch
from shopdesk.shelf.stock import held_expression
from shopdesk.shop.shop import Shop, day_of
from shopdesk.store.models import (
    Branch,
    Colourway,
    Contact,
    DyeLot,
    Hold,
    Slip,
    Stock,
    Swatch,
    Yarn,
)
from shopdesk.store.settings import load_settings

WEEK = timedelta(days=7)
ASKED_AFTER_WEEKS = 8
MOST_LAST_BALLS = 200


@dataclass(frozen=True, slots=True)
class QuietSlip:
    """A slip of a customer who agreed to be asked, for which no swatch has been measured yet."""

    number: int
    branch: str
    made_on: date
    title: str
    yarn: str
    name: str
    phone: str


@dataclass(frozen=True, slots=True)
class NamedLot:
    """A lot in a branch with the names of its yarn and colour."""

    where: LotAtBranch
    yarn: str
    colour: str


@dataclass(frozen=True, slots=True)
class OverPromise:
    """A lot of which more is on hold than lies on the shelf."""

    lot: NamedLot
    on_hand: int
    held: int

    @property
    def message(self) -> Message:
        """What is wrong and what to do, as a sentence."""
        return message("hold.more_held_than_there", held=self.held, count=self.on_hand)


@dataclass(frozen=True, slots=True)
class Morning:
    """The lists of one morning. `week_begins` is the first day that the unmet asks count from.

    `unmet` counts them by weight category (None: the ask named none), `unmet_fibres` by fibre.
    `doubted` are the bands that the label check contradicts, the worst first.
    """

    day: date
    ending: tuple[HoldRecord, ...]
    ended: tuple[HoldRecord, ...]
    over_promised: tuple[OverPromise, ...]
    quiet_slips: tuple[QuietSlip, ...]
    week_begins: date
    unmet: tuple[tuple[int | None, int], ...]
    unmet_fibres: tuple[tuple[str, int], ...]
    last_balls: tuple[NamedLot, ...]
    doubted: tuple[CheckedLabel, ...]


def morning_list(shop: Shop, tidy_first: bool = False) -> Morning:
    """Returns what there is to look at today.

    Nothing is changed, unless it is asked to tidy first: a counter that is served tidies by the
    hour, a command has nobody else to do it.
    """
    moment = shop.clock()
    if tidy_first:
        tidy(shop)
    with shop.read() as session:
        return _lists(session, moment)


def _lists(session: Session, moment: datetime) -> Morning:
    day = day_of(moment)
    begins = day - WEEK
    unmet = unmet_asks(session, end_of(begins))
    return Morning(
        day=day,
        ending=tuple(one for one in open_holds(session, moment) if one.until == day),
        ended=holds_ended(session, end_of(begins), moment),
        over_promised=_over_promised(session, moment),
        quiet_slips=_quiet_slips(session, day),
        week_begins=begins + timedelta(days=1),
        unmet=category_counts(unmet),
        unmet_fibres=fibre_counts(unmet),
        last_balls=_last_balls(session),
        doubted=_doubted_labels(session),
    )


def _doubted_labels(session: Session) -> tuple[CheckedLabel, ...]:
    checked = shelf_labels(session)
    return tuple(one for one in checked if one.contradicted)


def _over_promised(session: Session, moment: datetime) -> tuple[OverPromise, ...]:
    held = held_expression(moment)
    wanted = (
        _named(Stock.on_hand, held.label("promised"))
        .where(_has_open_hold(), held > Stock.on_hand)
        .order_by(Stock.lot_id, Stock.branch_id)
    )
    return tuple(
        OverPromise(_lot(row), row.on_hand, row.promised) for row in session.execute(wanted)
    )


def _has_open_hold() -> ColumnElement[bool]:
    """Keeps the search to the few lots that are on hold, found by the index of open holds."""
    return Stock.lot_id.in_(select(Hold.lot_id).where(Hold.closed_at.is_(None)))


def _quiet_slips(session: Session, day: date) -> tuple[QuietSlip, ...]:
    """Returns the slips to ask after: old enough for a swatch, not too old to be remembered."""
    waited = day - timedelta(days=load_settings(session).swatch_reminder_days)
    measured = exists().where(Swatch.slip_id == Slip.id)
    later = Slip.__table__.alias("later")
    wanted = (
        select(
            Slip.number, Branch.code, Slip.made_on, Slip.title, Slip.yarn,
            func.max(func.coalesce(func.nullif(Contact.name, ""), Slip.customer_name, "")),
            func.max(Contact.phone),
        )
        .join(Branch, Branch.id == Slip.branch_id)
        .join(Contact, Contact.slip_id == Slip.id)
        .where(Contact.may_ask.is_(True), ~measured)
        .where(~exists().where(later.c.supersedes_id == Slip.id))
        .where(Slip.made_on <= waited, Slip.made_on > waited - WEEK * ASKED_AFTER_WEEKS)
        .group_by(Slip.id, Slip.number, Branch.code, Slip.made_on, Slip.title, Slip.yarn)
        .order_by(Slip.made_on, Slip.number)
    )  # fmt: skip
    return tuple(QuietSlip(*row) for row in session.execute(wanted))


def _last_balls(session: Session) -> tuple[NamedLot, ...]:
    wanted = (
        _named()
        .where(Stock.on_hand == 1)
        .order_by(Stock.lot_id, Stock.branch_id)
        .limit(MOST_LAST_BALLS)
    )
    return tuple(_lot(row) for row in session.execute(wanted))


def _named(*more: Any) -> Select[*tuple[Any, ...]]:
    """Returns a SELECT from Stock with the names of each lot, and `more` columns."""
    return (
        select(Yarn.sku, Colourway.code, DyeLot.lot, Branch.code.label("branch"),
               Yarn.name.label("yarn"), Colourway.name.label("colour"), *more)
        .select_from(Stock)
        .join(DyeLot, DyeLot.id == Stock.lot_id)
        .join(Colourway, Colourway.id == DyeLot.colourway_id)
        .join(Yarn, Yarn.id == Colourway.yarn_id)
        .join(Branch, Branch.id == Stock.branch_id)
    )  # fmt: skip


def _lot(row: Row[Any]) -> NamedLot:
    where = LotAtBranch(row.sku, row.code, row.lot or None, row.branch)
    return NamedLot(where, row.yarn, row.colour)
