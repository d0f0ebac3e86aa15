"""Puts the demo catalog of an invented shop on an empty shelf.

The files in seed_catalog are tables that a person can read; their headings are the columns of
the tables they fill, and an empty cell is what the label does not say.
"""

import csv
import json
from collections.abc import Callable, Iterator, Mapping
from datetime import date
from decimal import Decimal
from typing import Any

from sqlalchemy import Engine, exists, insert, select
from sqlalchemy.orm import Session

from shopdesk.bundled import bundled
from shopdesk.shelf.branch_lots import branch_id
from shopdesk.shelf.mapping import to_minor
from shopdesk.shelf.stock import MovementKind
from shopdesk.shelf.writing import writing
from shopdesk.store.models import (
    Colourway,
    DyeLot,
    Setting,
    Stock,
    StockMovement,
    Yarn,
    YarnAttribute,
    YarnFibre,
    YarnMeasurement,
)
from shopdesk.store.settings import load_settings, read_settings, save_settings
from shopdesk.store.tables.stock import FIRST_BRANCH
from shopdesk.store.types import now

READERS: Mapping[str, Callable[[str], Any]] = {
    "FLOAT": float,
    "INTEGER": int,
    "DATE": date.fromisoformat,
    "BOOLEAN": {"yes": True, "no": False}.__getitem__,
}
OTHER_COLUMNS = {"price", "fibres", "attributes", "sku"}
Line = Mapping[str, str]


def seed_demo(engine: Engine) -> bool:
    """Fills an empty shelf and sets the invented shop's settings; returns whether it did.

    A shelf that has any yarn is left as it is, so that this can be called at every start.
    """
    with writing(engine) as session:
        if session.scalar(select(exists().select_from(Yarn))):
            return False
        if not session.scalar(select(exists().select_from(Setting))):
            save_settings(session, read_settings(shop_texts()))
        currency = load_settings(session).currency
        session.add_all(_yarn(line, currency) for line in lines("yarns"))
        session.flush()
        yarns = {row.sku: row.id for row in session.execute(select(Yarn.sku, Yarn.id))}
        session.add_all(_colour(line, yarns) for line in lines("colours"))
        session.add_all(_measurement(line, yarns) for line in lines("measurements"))
        session.flush()
        _stock(session, list(lines("lots")))
    return True


def lines(name: str) -> Iterator[Line]:
    """Yields the lines of one table of the demo catalog, by heading."""
    with open(bundled("seed_catalog") / f"{name}.csv", encoding="utf-8", newline="") as file:
        yield from csv.DictReader(file)


def shop_texts() -> dict[str, str]:
    """Returns the invented shop's settings as texts."""
    path = bundled("seed_catalog") / "shop.json"
    texts: dict[str, str] = json.loads(path.read_text(encoding="utf-8"))
    return texts


def _columns(table: type, line: Line) -> dict[str, Any]:
    """Returns the cells that are filled, read as the type of the column they are named after."""
    kinds = {column.name: str(column.type) for column in table.__table__.columns}  # type: ignore[attr-defined]
    return {
        name: READERS.get(kinds[name], str)(text)
        for name, text in line.items()
        if text and name not in OTHER_COLUMNS
    }


def _yarn(line: Line, currency: str) -> Yarn:
    yarn = Yarn(**_columns(Yarn, line))
    yarn.sku = line["sku"]
    yarn.price_minor = to_minor(Decimal(line["price"]), currency)
    for place, share in enumerate(_words(line["fibres"])):
        fibre, percent = share.rsplit(maxsplit=1)
        yarn.fibres.append(YarnFibre(position=place, fibre=fibre, percent=Decimal(percent)))
    yarn.attributes = [YarnAttribute(attribute=word) for word in _words(line["attributes"])]
    return yarn


def _colour(line: Line, yarns: Mapping[str, int]) -> Colourway:
    return Colourway(yarn_id=yarns[line["sku"]], **_columns(Colourway, line))


def _measurement(line: Line, yarns: Mapping[str, int]) -> YarnMeasurement:
    return YarnMeasurement(yarn_id=yarns[line["sku"]], **_columns(YarnMeasurement, line))


def _stock(session: Session, stocked: list[Line]) -> None:
    """Makes the lots with their stock; the trail begins with a count."""
    found = select(Yarn.sku, Colourway.code, Colourway.id).join_from(Colourway, Yarn)
    colours = {(row.sku, row.code): row.id for row in session.execute(found)}
    lots = [
        DyeLot(colourway_id=colours[line["sku"], line["colour"]], lot=line["lot"])
        for line in stocked
    ]
    session.add_all(lots)
    session.flush()
    branch, moment = branch_id(session, FIRST_BRANCH), now()
    skeins = [(lot.id, int(line["skeins"])) for lot, line in zip(lots, stocked, strict=True)]
    places = [{"lot_id": lot, "branch_id": branch, "on_hand": number} for lot, number in skeins]
    trail = [
        {"lot_id": lot, "branch_id": branch, "change": number, "at": moment}
        for lot, number in skeins
    ]
    session.execute(insert(Stock), places)
    session.execute(insert(StockMovement).values(reason=MovementKind.COUNTED.value), trail)


def _words(text: str) -> list[str]:
    return [word.strip() for word in text.split(",") if word.strip()]
