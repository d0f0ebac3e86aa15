"""What is left over: unopened skeins that come back, and the metres still in a part-ball."""

from dataclasses import dataclass
from datetime import date, datetime, timedelta

from sqlalchemy import func, select
from sqlalchemy.orm import Session

from shopdesk.answering.profile.profile import shelf_profile
from shopdesk.craft.errors import InputError
from shopdesk.craft.figures import Basis, Figure, product, spread
from shopdesk.craft.messages import message
from shopdesk.craft.yarn import ShelfYarn
from shopdesk.reference.constants import constant
from shopdesk.services.hold_records import today
from shopdesk.services.sales import lots_of_slip, slip_row
from shopdesk.shelf.branch_lots import LotAtBranch, branch_id, lot_id
from shopdesk.shelf.stock import lock, take_back
from shopdesk.store.models import Slip, SlipReturn
from shopdesk.store.settings import load_settings
from shopdesk.store.tables.stock import FIRST_BRANCH
from shopdesk.store.types import now

HEAVIEST_G = 10_000


class ReturnRefused(InputError):
    """What cannot come back; `field` says which box is wrong."""


@dataclass(frozen=True, slots=True)
class ReturnLine:
    """One lot of a slip: how many went home by it, and how many of them came back."""

    where: LotAtBranch
    sold: int
    came_back: int

    @property
    def may_come_back(self) -> int:
        """Returns how many may still come back."""
        return self.sold - self.came_back


@dataclass(frozen=True, slots=True)
class ReturnView:
    """What the shop's rule says of a slip. `last_day` is None where the shop takes none back."""

    slip_number: int
    yarn: str
    made_on: date
    last_day: date | None
    in_time: bool
    lines: tuple[ReturnLine, ...]


def returns_of(
    session: Session, number: int, branch: str = FIRST_BRANCH, at: datetime | None = None
) -> ReturnView:
    """Returns what may come back of a slip by the shop's rule. Raises SlipUnknown."""
    row = slip_row(session, number, branch)
    days = load_settings(session).return_days
    last_day = row.made_on + timedelta(days=days) if days else None
    lines = [
        ReturnLine(where, sold, _came_back(session, row, where))
        for where, sold in lots_of_slip(session, row).items()
    ]
    in_time = last_day is not None and today(at) <= last_day
    return ReturnView(number, row.yarn, row.made_on, last_day, in_time, tuple(lines))


@dataclass(frozen=True, slots=True)
class BroughtBack:
    """Unopened skeins of one lot that a customer brings back with a slip.

    `into` is the branch that takes them; `request_key` is the form's random word.
    """

    slip_number: int
    where: LotAtBranch
    skeins: int
    staff: str = ""
    into: str | None = None
    request_key: str | None = None


def bring_back(session: Session, brought: BroughtBack, at: datetime | None = None) -> ReturnView:
    """Puts unopened skeins back on the shelf, with a movement. Returns the slip's view after it.

    A form sent twice does it once. Raises SlipUnknown, StockRefused and ReturnRefused.
    """
    row = slip_row(session, brought.slip_number, brought.where.branch)
    into = LotAtBranch(
        brought.where.sku,
        brought.where.colour_code,
        brought.where.lot,
        brought.into or brought.where.branch,
    )
    session.execute(select(Slip.id).where(Slip.id == row.id).with_for_update())
    stock = lock(session, lot_id(session, into), branch_id(session, into.branch))
    if not _done_before(session, brought.request_key):
        _check(returns_of(session, brought.slip_number, brought.where.branch, at), brought)
        session.add(
            SlipReturn(
                slip_id=row.id,
                lot_id=stock.lot_id,
                branch_id=stock.branch_id,
                skeins=brought.skeins,
                at=at or now(),
                staff=brought.staff[:60],
                request_key=brought.request_key,
            )
        )
        note = f"slip {brought.slip_number}"
        take_back(session, into, brought.skeins, brought.staff[:60], note)
    return returns_of(session, brought.slip_number, brought.where.branch, at)


def part_ball(yarn: ShelfYarn, grams: float) -> Figure | None:
    """Returns the metres in so many grams of a yarn; None where its length is not known.

    The basis is the shop's own weighed length if there is one, else the label. The interval is
    that of the length and what the damp of the air does to the mass (see amount_models.csv).
    Raises ReturnRefused for a mass that no part-ball has.
    """
    if not 0 < grams <= HEAVIEST_G:
        raise ReturnRefused(
            "this is no mass of yarn", f"give grams up to {HEAVIEST_G}, without the core", "mass"
        )
    length = shelf_profile(yarn).metres_per_100g
    if length is None:
        return None
    damp = constant("amount_models", "moisture").value
    weighed = spread(grams / 100, damp, Basis.ESTIMATE, message("amount.weighed", mass_g=grams))
    return product(length.basis, length, weighed)


def _came_back(session: Session, row: Slip, where: LotAtBranch) -> int:
    lot = lot_id(session, where)
    wanted = select(func.coalesce(func.sum(SlipReturn.skeins), 0))
    found = session.scalar(wanted.where(SlipReturn.slip_id == row.id, SlipReturn.lot_id == lot))
    return found or 0


def _done_before(session: Session, request_key: str | None) -> bool:
    if not request_key:
        return False
    wanted = select(SlipReturn.id).where(SlipReturn.request_key == request_key)
    return session.scalar(wanted) is not None


def _check(view: ReturnView, brought: BroughtBack) -> None:
    if view.last_day is None:
        raise ReturnRefused(
            "by the settings this shop takes nothing back", "set the days for returns"
        )
    if not view.in_time:
        raise ReturnRefused(
            f"the last day for slip {view.slip_number} was {view.last_day.isoformat()}",
            "weigh what is left, so that the customer knows what it is good for",
        )
    line = next((line for line in view.lines if line.where == brought.where), None)
    if line is None:
        raise ReturnRefused(
            f"slip {view.slip_number} has no {brought.where}", "compare the band", "lot"
        )
    if not 1 <= brought.skeins <= line.may_come_back:
        raise ReturnRefused(
            f"{brought.skeins} skeins cannot come back of the {line.may_come_back} that are out",
            f"give 1 to {line.may_come_back}" if line.may_come_back else "look at another slip",
            "skeins",
        )
