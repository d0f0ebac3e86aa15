"""Everything that a yarn's page shows, and a yarn as JSON-ready data; units stand in names."""

from dataclasses import asdict, dataclass
from datetime import date
from typing import Any

from sqlalchemy import func, select
from sqlalchemy.orm import Session

from shopdesk.craft.yarn import Measurement, ShelfYarn
from shopdesk.shelf.loading import shelf_yarn
from shopdesk.shelf.mapping import CARE_AXES, label_values
from shopdesk.shelf.stock import available_expression
from shopdesk.store.models import Branch, Colourway, DyeLot, Slip, Stock, StockMovement, Yarn

MOST_SLIPS, MOST_MOVEMENTS = 20, 30


@dataclass(frozen=True, slots=True)
class LotStockLine:
    """One lot in one branch: what lies there, and what of it may be promised."""

    lot: str
    branch: str
    on_hand: int
    available: int


@dataclass(frozen=True, slots=True)
class ColourLine:
    """A colour with its lots that have or had stock."""

    code: str
    name: str
    family: str
    gtin: str | None
    retired: bool
    lots: tuple[LotStockLine, ...]

    @property
    def available(self) -> int:
        """Skeins of all lots that may be promised."""
        return sum(lot.available for lot in self.lots)


@dataclass(frozen=True, slots=True)
class MovementLine:
    """One change of stock."""

    at: date
    colour_code: str
    lot: str
    branch: str
    change: int
    reason: str
    staff: str
    note: str


@dataclass(frozen=True, slots=True)
class SoldOnSlip:
    """A slip that this yarn went home with."""

    number: int
    made_on: date
    title: str
    branch: str


@dataclass(frozen=True, slots=True)
class YarnView:
    """One yarn with all that the shop knows of it."""

    yarn: ShelfYarn
    retired: bool
    colours: tuple[ColourLine, ...]
    movements: tuple[MovementLine, ...]
    slips: tuple[SoldOnSlip, ...]
    slip_count: int


def yarn_view(session: Session, sku: str) -> YarnView | None:
    """Returns one yarn's page as data, also of a retired one; None if there is none."""
    yarn = shelf_yarn(session, sku)
    if yarn is None:
        return None
    row = session.execute(select(Yarn.id, Yarn.retired).where(Yarn.sku == sku)).one()
    used = (
        select(Slip.number, Slip.made_on, Slip.title, Branch.code)
        .join(Branch, Branch.id == Slip.branch_id)
        .where(Slip.sku == sku)
    )
    latest = session.execute(used.order_by(Slip.id.desc()).limit(MOST_SLIPS)).all()
    count = session.scalars(select(func.count(Slip.id)).where(Slip.sku == sku)).one()
    return YarnView(
        yarn,
        row.retired,
        _colours(session, row.id),
        _movements(session, row.id),
        tuple(SoldOnSlip(*slip) for slip in latest),
        count,
    )


def _colours(session: Session, yarn: int) -> tuple[ColourLine, ...]:
    lots: dict[int, list[LotStockLine]] = {}
    wanted = (
        select(DyeLot.colourway_id, DyeLot.lot, Branch.code, Stock.on_hand, available_expression())
        .select_from(Stock)
        .join(DyeLot, DyeLot.id == Stock.lot_id)
        .join(Branch, Branch.id == Stock.branch_id)
        .join(Colourway, Colourway.id == DyeLot.colourway_id)
        .where(Colourway.yarn_id == yarn)
        .order_by(DyeLot.lot, Branch.id)
    )
    for colour, lot, branch, on_hand, free in session.execute(wanted):
        lots.setdefault(colour, []).append(LotStockLine(lot, branch, on_hand, free))
    rows = session.scalars(
        select(Colourway).where(Colourway.yarn_id == yarn).order_by(Colourway.code)
    )
    return tuple(
        ColourLine(
            row.code, row.name, row.family, row.gtin, row.retired, tuple(lots.get(row.id, ()))
        )
        for row in rows
    )


def _movements(session: Session, yarn: int) -> tuple[MovementLine, ...]:
    moved = StockMovement
    wanted = (
        select(
            moved.at, Colourway.code, DyeLot.lot, Branch.code,
            moved.change, moved.reason, moved.staff, moved.note,
        )
        .select_from(moved)
        .join(DyeLot, DyeLot.id == moved.lot_id)
        .join(Colourway, Colourway.id == DyeLot.colourway_id)
        .join(Branch, Branch.id == moved.branch_id)
        .where(Colourway.yarn_id == yarn)
        .order_by(moved.id.desc())
        .limit(MOST_MOVEMENTS)
    )  # fmt: skip
    rows = session.execute(wanted).all()
    return tuple(MovementLine(row[0].astimezone().date(), *row[1:]) for row in rows)


def yarn_document(yarn: ShelfYarn) -> dict[str, Any]:
    """Returns the yarn with its label, what was measured on it, and what can be sold."""
    label = label_values(yarn.label)
    return {
        "sku": yarn.sku,
        "name": yarn.name,
        "gtin": yarn.gtin,
        "price": str(yarn.price),
        "hand_dyed": yarn.hand_dyed,
        **{name: value for name, value in label.items() if name not in CARE_AXES},
        "fibres": [{"fibre": s.fibre, "percent": str(s.percent)} for s in yarn.label.fibres],
        "attributes": [{"attribute": word} for word in sorted(yarn.label.attributes)],
        **{axis: label[axis] for axis in CARE_AXES},
        "notes": yarn.notes,
        "measurements": [_measurement(one) for one in yarn.measurements],
        "lots": [lot._asdict() for lot in yarn.lots],
    }


def _measurement(one: Measurement) -> dict[str, Any]:
    facts = asdict(one) | {"kind": one.kind.value, "craft": one.craft.value}
    facts["on"] = one.on.isoformat()
    return {name: value for name, value in facts.items() if value not in (None, "", False)}
