"""A shelf of as many yarns as wanted, filled fast, for what must hold at any size."""

import random
from collections.abc import Iterable, Iterator
from typing import Any

from sqlalchemy import Engine, Integer, cast, func, insert, literal, select
from sqlalchemy.orm import Session
from stdnum.ean import calc_check_digit

from shopdesk.parsing.gtins import article_key
from shopdesk.shelf.stock import MovementKind
from shopdesk.shelf.writing import writing
from shopdesk.shelf.yarn_index import refresh_index
from shopdesk.store.database import roomy
from shopdesk.store.models import (
    Branch,
    Colourway,
    DyeLot,
    Stock,
    StockMovement,
    Yarn,
    YarnAttribute,
    YarnFibre,
    YarnMeasurement,
    YarnWord,
)
from shopdesk.store.types import Base, now
from tests.house_yarns import COLOURS, HouseYarn, house_yarn, words_of

AT_ONCE = 500
MOST_ON_HAND = 30


def put_big_shelf(
    engine: Engine, yarns: int, colours: int = 20, lots: int = 2, seed: int = 7
) -> None:
    """Puts so many invented yarns on an empty shelf, each in so many colours of so many lots.

    Every lot lies in the first branch with 0 to 30 skeins on hand, and one movement, a count,
    says so. The same numbers and seed give the same shelf.
    """
    chance = random.Random(seed)
    with writing(engine) as session, roomy(session):
        for first in range(1, yarns + 1, AT_ONCE):
            keys = range(first, min(first + AT_ONCE, yarns + 1))
            _put_yarns(session, [house_yarn(chance, key) for key in keys])
            session.execute(insert(Colourway.__table__), list(_colours(chance, keys, colours)))
            _put_stock(session, chance, keys, colours, lots)
        _leave_a_trail(session)
        _set_sequences(session)
        refresh_index(session)


def _put_yarns(session: Session, yarns: Iterable[HouseYarn]) -> None:
    made = list(yarns)
    rows: dict[type[Base], list[dict[str, Any]]] = {
        Yarn: [yarn.row for yarn in made],
        YarnFibre: [
            {"yarn_id": yarn.row["id"], "position": place, "fibre": fibre, "percent": percent}
            for yarn in made
            for place, (fibre, percent) in enumerate(yarn.fibres)
        ],
        YarnAttribute: [
            {"yarn_id": yarn.row["id"], "attribute": word}
            for yarn in made
            for word in yarn.attributes
        ],
        YarnMeasurement: [
            {"yarn_id": yarn.row["id"], **measured} for yarn in made for measured in yarn.measured
        ],
        YarnWord: [
            {"yarn_id": yarn.row["id"], "word": word} for yarn in made for word in words_of(yarn)
        ],
    }
    for model, its in rows.items():
        if its:
            session.execute(insert(model.__table__), its)


def _colours(chance: random.Random, yarns: range, colours: int) -> Iterator[dict[str, Any]]:
    """Every second yarn has a barcode on each of its colours; a few colours are given up."""
    for yarn in yarns:
        start = chance.randrange(len(COLOURS))
        for place in range(colours):
            name, family, dark = COLOURS[(start + place) % len(COLOURS)]
            key = (yarn - 1) * colours + place + 1
            gtin = _number(key) if yarn % 2 else None
            yield {
                "id": key, "yarn_id": yarn, "code": f"{place + 1:02d}", "name": name,
                "family": family, "dark": dark, "retired": chance.random() < 0.02,
                "gtin": gtin, "gtin_key": article_key(gtin) if gtin else None,
            }  # fmt: skip


def _number(place: int) -> str:
    """Returns an in-store article number of 13 digits."""
    digits = f"21{place:010d}"
    return digits + str(calc_check_digit(digits))


def _put_stock(
    session: Session, chance: random.Random, yarns: range, colours: int, lots: int
) -> None:
    keys = range((yarns[0] - 1) * colours * lots + 1, yarns[-1] * colours * lots + 1)
    on_hand = chance.choices(
        range(MOST_ON_HAND + 1), [6, *[1] * MOST_ON_HAND], k=len(keys)
    )  # a sixth of the lots are sold out
    branch = session.scalars(select(Branch.id).order_by(Branch.id)).first()
    made = [
        {"id": key, "colourway_id": (key - 1) // lots + 1, "lot": f"{(key * 7919) % 9000 + 1000}"}
        for key in keys
    ]
    session.execute(insert(DyeLot.__table__), made)
    stock = [
        {"lot_id": key, "branch_id": branch, "on_hand": number}
        for key, number in zip(keys, on_hand, strict=True)
    ]
    session.execute(insert(Stock.__table__), stock)


def _leave_a_trail(session: Session) -> None:
    """Writes the count that each stock goes back to."""
    said = {"at": now(), "reason": MovementKind.COUNTED.value, "staff": "MB", "note": ""}
    columns = StockMovement.__table__.c
    counted = select(
        Stock.lot_id,
        Stock.branch_id,
        Stock.on_hand,
        *(literal(value, columns[name].type) for name, value in said.items()),
    )
    names = ["lot_id", "branch_id", "change", *said]
    session.execute(insert(StockMovement).from_select(names, counted))


def _set_sequences(session: Session) -> None:
    """Lets PostgreSQL go on counting behind the keys that were given here."""
    if session.get_bind().dialect.name != "postgresql":
        return
    for model in (Yarn, Colourway, DyeLot):
        table = model.__table__
        sequence = func.pg_get_serial_sequence(table.name, "id")
        last = select(func.max(table.c.id)).scalar_subquery()
        session.execute(select(func.setval(sequence, cast(last, Integer))))
