"""From stored rows to plain yarns: a few SELECTs for each batch of yarns, whatever its size."""

from collections import defaultdict
from collections.abc import Collection, Iterator, Sequence
from dataclasses import replace
from typing import Any, TypeVar

from sqlalchemy import Row, Select, select
from sqlalchemy.orm import Session

from shopdesk.craft.errors import InputError
from shopdesk.craft.lots import lots_planned_in
from shopdesk.craft.messages import message
from shopdesk.craft.money import from_minor
from shopdesk.craft.yarn import FibreShare, LotStock, Measurement, ShelfYarn
from shopdesk.shelf.mapping import label_of, measurement_of
from shopdesk.shelf.stock import available_expression
from shopdesk.store.settings import load_settings
from shopdesk.store.tables.stock import Branch, Stock
from shopdesk.store.tables.yarns import (
    Colourway,
    DyeLot,
    Yarn,
    YarnAttribute,
    YarnFibre,
    YarnMeasurement,
)

Item = TypeVar("Item")
_Left = tuple[str, int, int]
BATCH = 500
_YARN = Yarn.__table__.c
_COLOUR, _LOT, _STOCK = Colourway.__table__.c, DyeLot.__table__.c, Stock.__table__.c
_BRANCH = Branch.__table__.c
_MEASUREMENT = YarnMeasurement.__table__.c
_SHARE = YarnFibre.__table__.c
_WORD = YarnAttribute.__table__.c


class YarnUnknown(InputError):
    """There is no yarn of this article number on the shelf."""

    def __init__(self, sku: str) -> None:
        right = message("problem_shelf.find_by_name")
        super().__init__(message("problem_file.no_yarn", sku=sku), right)


def shelf_yarns(
    session: Session,
    ids: Collection[int] | None = None,
    with_stock: bool = True,
    currency: str | None = None,
) -> Iterator[ShelfYarn]:
    """Yields the yarns on offer, in the order of their keys, reading a batch at a time.

    `ids` takes only those of these keys. Without stock, `lots` is empty. `currency` is the
    shop's, where it is known already.
    """
    currency = currency or load_settings(session).currency
    for rows in _batches(session, ids):
        keys = [row.id for row in rows]
        lots = lots_by_yarn(session, keys) if with_stock else {}
        yield from _yarns(session, rows, lots, currency)


def shelf_yarn(session: Session, sku: str) -> ShelfYarn | None:
    """Returns one yarn with its stock, also if it is retired; None if there is none."""
    rows = session.execute(select(*_YARN).where(_YARN.sku == sku)).all()
    lots = lots_by_yarn(session, [row.id for row in rows])
    return next(_yarns(session, rows, lots, load_settings(session).currency), None)


def yarns_planned_in(
    session: Session, branch: str, currency: str, ids: Collection[int] | None = None
) -> list[ShelfYarn]:
    """Returns the yarns on offer with the lots that a counter in this branch plans with."""
    return [
        replace(yarn, lots=lots_planned_in(branch, yarn.lots))
        for yarn in shelf_yarns(session, ids, currency=currency)
    ]


def yarn_keys(session: Session, skus: Collection[str]) -> dict[str, int]:
    """Returns the key of each yarn by its SKU; one that is not there is left out."""
    found: dict[str, int] = {}
    for some in _chunks(sorted(skus)):
        rows = session.execute(select(_YARN.sku, _YARN.id).where(_YARN.sku.in_(some)))
        found.update((row.sku, row.id) for row in rows)
    return found


def lots_by_yarn(session: Session, ids: Collection[int]) -> dict[int, tuple[LotStock, ...]]:
    """Returns what may be promised of each yarn, colour by colour and lot by lot.

    A colour of which nothing is left has one entry without a lot and with none available,
    unless the colour is retired. Retired colours stay while some of them is left.
    """
    branches = {row.id: row.code for row in session.execute(select(_BRANCH.id, _BRANCH.code))}
    found: dict[int, tuple[LotStock, ...]] = {}
    for some in _chunks(sorted(ids)):
        left = _left_by_colour(session, some)
        lots: dict[int, list[LotStock]] = defaultdict(list)
        for key, yarn, retired, code, name, family, gtin, dark in session.execute(_colours(some)):
            there = left.get(key)
            if there is not None:
                lots[yarn] += [
                    LotStock(code, name, family, lot or None, number, gtin, branches[branch], dark)
                    for lot, branch, number in sorted(there)
                ]
            elif not retired:
                lots[yarn].append(LotStock(code, name, family, None, 0, gtin, "", dark))
        found.update((yarn, tuple(its)) for yarn, its in lots.items())
    return found


def _batches(session: Session, ids: Collection[int] | None) -> Iterator[Sequence[Row[Any]]]:
    on_offer = select(*_YARN).where(_YARN.retired.is_(False)).order_by(_YARN.id)
    if ids is not None:
        for some in _chunks(sorted(ids)):
            yield session.execute(on_offer.where(_YARN.id.in_(some))).all()
        return
    last = 0
    while rows := session.execute(on_offer.where(_YARN.id > last).limit(BATCH)).all():
        last = rows[-1].id
        yield rows


def _chunks(items: Sequence[Item]) -> Iterator[Sequence[Item]]:
    for start in range(0, len(items), BATCH):
        yield items[start : start + BATCH]


def _yarns(
    session: Session,
    rows: Sequence[Row[Any]],
    lots: dict[int, tuple[LotStock, ...]],
    currency: str,
) -> Iterator[ShelfYarn]:
    keys = [row.id for row in rows]
    fibres, attributes = _fibres(session, keys), _attributes(session, keys)
    measurements = _measurements(session, keys)
    for row in rows:
        yield ShelfYarn(
            sku=row.sku,
            name=row.name,
            label=label_of(row, fibres.get(row.id, ()), attributes.get(row.id, ())),
            price=from_minor(row.price_minor, currency),
            measurements=tuple(measurements.get(row.id, ())),
            lots=lots.get(row.id, ()),
            gtin=row.gtin,
            hand_dyed=row.hand_dyed,
            notes=row.notes,
        )


def _fibres(session: Session, keys: Sequence[int]) -> dict[int, list[FibreShare]]:
    wanted = (
        select(_SHARE.yarn_id, _SHARE.fibre, _SHARE.percent)
        .where(_SHARE.yarn_id.in_(keys))
        .order_by(_SHARE.yarn_id, _SHARE.position)
    )
    found = defaultdict(list)
    for yarn, fibre, percent in session.execute(wanted):
        found[yarn].append(FibreShare(fibre, percent))
    return found


def _attributes(session: Session, keys: Sequence[int]) -> dict[int, list[str]]:
    wanted = select(_WORD.yarn_id, _WORD.attribute).where(_WORD.yarn_id.in_(keys))
    found = defaultdict(list)
    for yarn, attribute in session.execute(wanted):
        found[yarn].append(attribute)
    return found


def _measurements(session: Session, keys: Sequence[int]) -> dict[int, list[Measurement]]:
    wanted = (
        select(*_MEASUREMENT)
        .where(_MEASUREMENT.yarn_id.in_(keys))
        .order_by(_MEASUREMENT.yarn_id, _MEASUREMENT.taken_on, _MEASUREMENT.id)
    )
    found = defaultdict(list)
    for row in session.execute(wanted):
        found[row.yarn_id].append(measurement_of(row))
    return found


def _colours(keys: Sequence[int]) -> Select[*tuple[Any, ...]]:
    return (
        select(
            _COLOUR.id, _COLOUR.yarn_id, _COLOUR.retired,
            _COLOUR.code, _COLOUR.name, _COLOUR.family, _COLOUR.gtin, _COLOUR.dark,
        )
        .where(_COLOUR.yarn_id.in_(keys))
        .order_by(_COLOUR.yarn_id, _COLOUR.code)
    )  # fmt: skip


def _left_by_colour(session: Session, keys: Sequence[int]) -> dict[int, list[_Left]]:
    """Returns for each colour its lots with something left: lot, branch key, skeins."""
    wanted = (
        select(_LOT.colourway_id, _LOT.lot, _STOCK.branch_id, available_expression())
        .select_from(Colourway.__table__)
        .join(DyeLot.__table__, _LOT.colourway_id == _COLOUR.id)
        .join(Stock.__table__, _STOCK.lot_id == _LOT.id)
        .where(_COLOUR.yarn_id.in_(keys), _STOCK.on_hand > 0)
    )
    found: dict[int, list[_Left]] = defaultdict(list)
    for colour, name, branch, left in session.execute(wanted).all():
        if left > 0:
            found[colour].append((name, branch, left))
    return found
