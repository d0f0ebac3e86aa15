"""One more skein: the same lot here or in another branch, else another lot and how to blend it in.

No number tells how alike two dye lots are. Other lots stand in the order in which they arrived
next to the wanted one, which is a place to begin looking and no promise.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date, datetime
from math import inf

from sqlalchemy import func, select
from sqlalchemy.orm import Session

from shopdesk.craft.errors import InputError
from shopdesk.craft.messages import Message, message
from shopdesk.parsing.gtins import article_key, read_gtin
from shopdesk.services.hold_records import is_open
from shopdesk.services.sales import lots_of_slip, slip_row
from shopdesk.shelf.branch_lots import LotAtBranch
from shopdesk.shelf.stock import available_expression, held_expression
from shopdesk.shop.shop import Shop
from shopdesk.store.models import Branch, Colourway, DyeLot, Hold, Stock, StockMovement, Yarn

FEWEST_BARCODE_DIGITS = 8
MOST_LETTERS = 60


@dataclass(frozen=True, slots=True)
class SkeinSought:
    """What is at hand of the skein: a slip's number, a scanned barcode, or a yarn's SKU.

    Colour and lot are the band's. `slip_branch` is where the slip was made, None for the shop's
    own branch. A barcode or SKU without its colour may stand for several, and leaves the choice
    open. Who cannot be asked says `every_colour`: a barcode is looked for in them all then, and an
    SKU needs its colour.
    """

    slip: int | None = None
    barcode: str | None = None
    sku: str = ""
    colour: str = ""
    lot: str = ""
    slip_branch: str | None = None
    every_colour: bool = False


@dataclass(frozen=True, slots=True)
class BandColour:
    """A colour of a yarn, as its band names it."""

    sku: str
    yarn: str
    colour_code: str
    colour: str
    hand_dyed: bool


@dataclass(frozen=True, slots=True)
class LotAvailability:
    """One lot in one branch: skeins that are free, skeins that are on hold, days between arrivals.

    `days_apart` is how long after or before the wanted lot this one arrived; None if one of the
    two arrivals is not known.
    """

    where: LotAtBranch
    free: int
    held: int
    days_apart: int | None


@dataclass(frozen=True, slots=True)
class OneMore:
    """Where one more skein is to be had. `lots` are those of the customer's band or slip."""

    band: BandColour
    lots: tuple[str, ...]
    same: tuple[LotAvailability, ...]
    other: tuple[LotAvailability, ...]
    advice: tuple[Message, ...]


@dataclass(frozen=True, slots=True)
class SkeinsFound:
    """Where one more skein is, or else the colours to choose from first."""

    found: tuple[OneMore, ...] = ()
    colours: tuple[BandColour, ...] = ()


def skein_sought(
    typed: str, colour: str = "", lot: str = "", slip_branch: str | None = None
) -> SkeinSought:
    """Returns what one box stands for: few digits are a slip, more a barcode, all else is a SKU."""
    typed, colour, lot = (text.strip()[:MOST_LETTERS] for text in (typed, colour, lot))
    digits = typed.replace(" ", "").replace("-", "")
    if not (digits.isascii() and digits.isdigit()):
        return SkeinSought(sku=typed, colour=colour, lot=lot)
    if len(digits) < FEWEST_BARCODE_DIGITS:
        return SkeinSought(slip=int(digits), slip_branch=slip_branch)
    return SkeinSought(barcode=typed, colour=colour, lot=lot)


def find_one_more(shop: Shop, sought: SkeinSought) -> SkeinsFound:
    """Returns where one more skein is, what lies in the shop's branch before all else.

    Raises SlipUnknown, GtinRefused, and InputError whose `field` is find or colour.
    """
    _require_named(sought)
    with shop.read() as session:
        look = _Look(session, shop.branch, shop.clock())
        if sought.slip is not None:
            return SkeinsFound(look.by_slip(sought.slip, sought.slip_branch or shop.branch))
        bands = _bands_of(session, sought)
        open_choice = sought.barcode is None or len(bands) > 1
        if not sought.colour and open_choice and not sought.every_colour:
            return SkeinsFound(colours=bands)
        if sought.colour:
            bands = (_band(session, bands[0].sku, sought.colour),)
        return SkeinsFound(tuple(look.one_more(band, [sought.lot.strip()]) for band in bands))


def _require_named(sought: SkeinSought) -> None:
    if sought.slip is not None or sought.barcode is not None:
        return
    if not sought.sku.strip() or (sought.every_colour and not sought.colour):
        wrong, right = message("problem_visit.no_skein"), message("problem_visit.name_skein")
        raise InputError(wrong, right, "find")


def _bands_of(session: Session, sought: SkeinSought) -> tuple[BandColour, ...]:
    """Returns the colours that a barcode or SKU stands for: of a colour's own number one."""
    if sought.barcode is None:
        return _colours_of(session, sought.sku)
    key = article_key(read_gtin(sought.barcode).digits)
    found = _bands(session, Colourway.gtin_key == key) or _bands(session, Yarn.gtin_key == key)
    if not found:
        wrong, right = message("problem_visit.no_article"), message("problem_visit.type_band")
        raise InputError(wrong, right, "find")
    return found


def _colours_of(session: Session, sku: str) -> tuple[BandColour, ...]:
    found = _bands(session, func.lower(Yarn.sku) == sku.strip().lower())
    if not found:
        wrong = message("problem_file.no_yarn", sku=sku.strip())
        raise InputError(wrong, message("problem_visit.check_article"), "find")
    return found


def _bands(session: Session, *which: object) -> tuple[BandColour, ...]:
    wanted = (
        select(Yarn.sku, Yarn.name.label("yarn"), Colourway.code, Colourway.name, Yarn.hand_dyed)
        .join(Yarn, Yarn.id == Colourway.yarn_id)
        .where(*which)  # type: ignore[arg-type]
        .order_by(Yarn.sku, Colourway.code)
    )
    return tuple(BandColour(*row) for row in session.execute(wanted))


def _band(session: Session, sku: str, colour_code: str) -> BandColour:
    wanted = colour_code.strip().casefold()
    found = [one for one in _colours_of(session, sku) if one.colour_code.casefold() == wanted]
    if not found:
        wrong = message("problem_visit.no_colour", sku=sku.strip(), colour=colour_code.strip())
        raise InputError(wrong, message("problem_visit.check_band"), "colour")
    return found[0]


@dataclass(frozen=True, slots=True)
class _Look:
    """One look at the shelf: from which branch, and when."""

    session: Session
    branch: str
    at: datetime

    def by_slip(self, number: int, slip_branch: str) -> tuple[OneMore, ...]:
        lots: dict[tuple[str, str], list[str]] = {}
        for where in lots_of_slip(self.session, slip_row(self.session, number, slip_branch)):
            lots.setdefault((where.sku, where.colour_code), []).append(where.lot or "")
        return tuple(self.one_more(_band(self.session, *key), its) for key, its in lots.items())

    def one_more(self, band: BandColour, lots: Sequence[str]) -> OneMore:
        arrived = _arrivals(self.session, band)
        since = [arrived[lot] for lot in lots if lot in arrived]
        places = [
            LotAvailability(LotAtBranch(band.sku, band.colour_code, lot or None, at), free, held,
                     _days_apart(arrived.get(lot), since))
            for lot, at, free, held in _stocked(self.session, band)
        ]  # fmt: skip
        same = [one for one in places if (one.where.lot or "") in lots]
        other = [one for one in places if (one.where.lot or "") not in lots and one.free > 0]
        same.sort(key=lambda one: (self._elsewhere(one), -one.free, one.where.branch))
        other.sort(key=lambda one: (self._elsewhere(one), *_nearness(one)))
        ends = _first_end(self.session, band, lots, self.at)
        advice = _advice(band, lots, same, other, self.branch, ends)
        return OneMore(band, tuple(lots), tuple(same), tuple(other), tuple(advice))

    def _elsewhere(self, place: LotAvailability) -> bool:
        return place.where.branch != self.branch


def _nearness(place: LotAvailability) -> tuple[float, int, str]:
    days = inf if place.days_apart is None else abs(place.days_apart)
    return days, -place.free, place.where.lot or ""


def _stocked(session: Session, band: BandColour) -> list[tuple[str, str, int, int]]:
    """Returns lot, branch, free and held skeins of every lot that lies anywhere."""
    wanted = (
        select(DyeLot.lot, Branch.code, available_expression(), held_expression())
        .select_from(Stock)
        .join(DyeLot, DyeLot.id == Stock.lot_id)
        .join(Branch, Branch.id == Stock.branch_id)
        .join(Colourway, Colourway.id == DyeLot.colourway_id)
        .join(Yarn, Yarn.id == Colourway.yarn_id)
        .where(Yarn.sku == band.sku, Colourway.code == band.colour_code, Stock.on_hand > 0)
    )
    return [(lot, at, max(0, free), held) for lot, at, free, held in session.execute(wanted)]


def _arrivals(session: Session, band: BandColour) -> dict[str, date]:
    """Returns the day on which each lot first came to the shop."""
    wanted = (
        select(DyeLot.lot, func.min(StockMovement.at, type_=StockMovement.at.type))
        .select_from(StockMovement)
        .join(DyeLot, DyeLot.id == StockMovement.lot_id)
        .join(Colourway, Colourway.id == DyeLot.colourway_id)
        .join(Yarn, Yarn.id == Colourway.yarn_id)
        .where(Yarn.sku == band.sku, Colourway.code == band.colour_code, StockMovement.change > 0)
        .group_by(DyeLot.lot)
    )
    return {lot: _day(at) for lot, at in session.execute(wanted)}


def _day(moment: datetime) -> date:
    return moment.astimezone().date()


def _days_apart(arrived: date | None, wanted: Iterable[date]) -> int | None:
    if arrived is None:
        return None
    return min(((arrived - day).days for day in wanted), key=abs, default=None)


def _first_end(
    session: Session, band: BandColour, lots: Sequence[str], at: datetime
) -> date | None:
    """Returns the day on which the first hold on the wanted lot ends."""
    return session.scalar(
        select(func.min(Hold.until))
        .join(DyeLot, DyeLot.id == Hold.lot_id)
        .join(Colourway, Colourway.id == DyeLot.colourway_id)
        .join(Yarn, Yarn.id == Colourway.yarn_id)
        .where(Yarn.sku == band.sku, Colourway.code == band.colour_code)
        .where(DyeLot.lot.in_(lots), *is_open(at))
    )


def _advice(
    band: BandColour,
    lots: Sequence[str],
    same: Sequence[LotAvailability],
    other: Sequence[LotAvailability],
    branch: str,
    ends: date | None,
) -> list[Message]:
    here = sum(one.free for one in same if one.where.branch == branch)
    if here:
        told = [message("onemore.same_lot_here", count=here)]
        return [*told, message("lots.hand_dyed_alternate")] if band.hand_dyed else told
    told = [message("onemore.not_here")] if any(lots) else [message("onemore.lot_not_known")]
    told += _elsewhere(same)
    if ends is not None:
        told.append(message("onemore.held", until_date=ends.isoformat()))
    if not other:
        return [*told, message("onemore.no_other_lot")]
    return [*told, *_nearest(other[0]), *_blending(band)]


def _elsewhere(same: Sequence[LotAvailability]) -> list[Message]:
    return [
        message("onemore.same_lot_in_branch", count=one.free, branch=one.where.branch)
        for one in same
        if one.free
    ]


def _nearest(place: LotAvailability) -> list[Message]:
    lot = place.where.lot
    if lot is None:
        return [message("onemore.without_lots")]
    if place.days_apart is None:
        return [message("onemore.another_lot", lot=lot)]
    if place.days_apart == 0:
        return [message("onemore.nearest_same_day", lot=lot)]
    return [message("onemore.nearest_lot", lot=lot, count=abs(place.days_apart))]


def _blending(band: BandColour) -> list[Message]:
    turns = "lots.hand_dyed_alternate" if band.hand_dyed else "lots.alternate_rows"
    return [
        message("onemore.compare"),
        message(turns),
        message("onemore.unravel_to_blend"),
        message("onemore.whole_part"),
    ]
