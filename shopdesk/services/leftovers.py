"""What is left over: unopened skeins that come back, and the metres still in a part-ball."""

from dataclasses import dataclass, replace
from datetime import date, datetime, timedelta

from sqlalchemy import func, select
from sqlalchemy.orm import Session

from shopdesk.answering.profile.profile import shelf_profile
from shopdesk.craft import lengths
from shopdesk.craft.errors import InputError, InputErrors, Problem
from shopdesk.craft.figures import Basis, Figure, product, spread
from shopdesk.craft.messages import message
from shopdesk.craft.numerals import read_number
from shopdesk.craft.yarn import ShelfYarn
from shopdesk.reference.tables import constant
from shopdesk.services.sales import lots_of_slip, slip_row
from shopdesk.shelf.branch_lots import LotAtBranch, branch_id, lot_id
from shopdesk.shelf.loading import shelf_yarn
from shopdesk.shelf.stock import lock
from shopdesk.shelf.stock import take_back as put_back
from shopdesk.shop.shop import Shop
from shopdesk.store.models import Slip, SlipReturn, Stock
from shopdesk.store.settings import load_settings

HEAVIEST_G = 10_000
_MASS = message("problem_visit.write_grams", most=HEAVIEST_G)
_CHECK_ARTICLE = message("problem_visit.check_article")


class LengthUnknown(InputError):
    """Nothing tells how long a yarn is, so that no mass of it can be told in metres."""


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


@dataclass(frozen=True, slots=True)
class BroughtBack:
    """Unopened skeins of one lot that a customer brings back with a slip; `lot` None has no lots.

    `slip_branch` is where the slip was made, None for the branch that takes the skeins back. A
    form sent twice has one `request_key`.
    """

    slip_number: int
    colour_code: str
    lot: str | None
    skeins: int
    staff: str = ""
    slip_branch: str | None = None
    request_key: str | None = None


def may_come_back(shop: Shop, number: int) -> ReturnView:
    """Returns what may come back of a slip of the shop's branch by its rule. Raises SlipUnknown."""
    with shop.read() as session:
        return _view(session, slip_row(session, number, shop.branch), shop.today())


def take_back(shop: Shop, brought: BroughtBack) -> ReturnView:
    """Puts unopened skeins on the shelf of the shop's branch. Returns the slip's view after it.

    Raises SlipUnknown, StockRefused, and InputError whose `field` is lot, skeins or ''.
    """
    with shop.write() as session:
        slip_branch = brought.slip_branch or shop.branch
        slip = slip_row(session, brought.slip_number, slip_branch)
        where = LotAtBranch(slip.sku, brought.colour_code, brought.lot, slip_branch)
        into = replace(where, branch=shop.branch)
        session.execute(select(Slip.id).where(Slip.id == slip.id).with_for_update())
        stock = lock(session, lot_id(session, into), branch_id(session, into.branch))
        if not _done_before(session, brought.request_key):
            _check(_view(session, slip, shop.today()), where, brought.skeins)
            session.add(_noted(brought, slip, stock, shop.clock()))
            put_back(session, into, brought.skeins, brought.staff, f"slip {slip.number}")
        return _view(session, slip, shop.today())


def _view(session: Session, slip: Slip, today: date) -> ReturnView:
    days = load_settings(session).return_days
    last_day = slip.made_on + timedelta(days=days) if days else None
    lines = [
        ReturnLine(where, sold, _came_back(session, slip, where))
        for where, sold in lots_of_slip(session, slip).items()
    ]
    in_time = last_day is not None and today <= last_day
    return ReturnView(slip.number, slip.yarn, slip.made_on, last_day, in_time, tuple(lines))


def _noted(brought: BroughtBack, slip: Slip, stock: Stock, at: datetime) -> SlipReturn:
    return SlipReturn(
        slip_id=slip.id,
        lot_id=stock.lot_id,
        branch_id=stock.branch_id,
        skeins=brought.skeins,
        at=at,
        staff=lengths.staff_name(brought.staff),
        request_key=brought.request_key,
    )


def weigh_remnant(shop: Shop, sku: str, grams: str) -> Figure:
    """Returns the metres in a part-ball that weighs so many `grams`, written as people do.

    Raises InputErrors for an unknown SKU and a mass that cannot be, and LengthUnknown.
    """
    problems: list[Problem] = []
    with shop.read() as session:
        yarn = shelf_yarn(session, sku)
    if yarn is None:
        wrong, right = message("problem_file.no_yarn", sku=sku), _CHECK_ARTICLE
        problems.append(Problem(("sku",), wrong, right))
    try:
        mass = _grams(grams)
    except InputError as refusal:
        problems += [problem.under("grams") for problem in refusal.problems]
    if yarn is None or problems:
        raise InputErrors(problems)
    metres = part_ball(yarn, mass)
    if metres is None:
        raise LengthUnknown(
            message("problem_visit.length_unknown", sku=sku),
            message("problem_visit.weigh_first"),
            "sku",
        )
    return metres


def _grams(written: str) -> float:
    number = float(read_number(written, _MASS))
    if not 0 < number <= HEAVIEST_G:
        raise InputError(message("problem_visit.no_mass"), _MASS)
    return number


def part_ball(yarn: ShelfYarn, grams: float) -> Figure | None:
    """Returns the metres in so many grams of a yarn; None where its length is not known.

    The basis is the shop's own weighed length if there is one, else the label. The interval is
    that of the length and what the damp of the air does to the mass (see amount_models.csv).
    """
    length = shelf_profile(yarn).metres_per_100g
    if length is None:
        return None
    damp = constant("amount_models", "moisture").value
    weighed = spread(grams / 100, damp, Basis.ESTIMATE, message("amount.weighed", mass_g=grams))
    return product(length.basis, length, weighed)


def _came_back(session: Session, row: Slip, where: LotAtBranch) -> int:
    lot = lot_id(session, where)
    wanted = select(func.coalesce(func.sum(SlipReturn.skeins), 0))
    wanted = wanted.where(SlipReturn.slip_id == row.id, SlipReturn.lot_id == lot)
    return session.scalars(wanted).one()


def _done_before(session: Session, request_key: str | None) -> bool:
    if not request_key:
        return False
    wanted = select(SlipReturn.id).where(SlipReturn.request_key == request_key)
    return session.scalar(wanted) is not None


def _check(view: ReturnView, where: LotAtBranch, skeins: int) -> None:
    if view.last_day is None:
        wrong, right = message("problem_visit.none_back"), message("problem_visit.set_return_days")
        raise InputError(wrong, right)
    slip = view.slip_number
    if not view.in_time:
        wrong = message("problem_visit.too_late", number=slip, day=view.last_day.isoformat())
        raise InputError(wrong, message("problem_visit.weigh_left"))
    line = next((line for line in view.lines if line.where == where), None)
    if line is None:
        wrong = message("problem_visit.slip_without", number=slip, lot=where.said)
        raise InputError(wrong, message("problem_visit.compare_band"), "lot")
    out = line.may_come_back
    if not 1 <= skeins <= out:
        give = message("problem_visit.give_1_to", most=out)
        raise InputError(
            message("problem_visit.not_out", number=skeins, out=out),
            give if out else message("problem_visit.other_slip"),
            "skeins",
        )
