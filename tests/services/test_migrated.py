"""A shop of every earlier schema, with data in it, comes to this version with nothing lost.

The shop is filled by this version and taken down to the earlier schema, as that version would
have kept it; what it holds there must be there unchanged after the way up.
"""

import shutil
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from alembic.script import ScriptDirectory
from sqlalchemy import Engine, MetaData, select

from shopdesk.services.holds import HoldOrder, hold_skeins
from shopdesk.services.slips import slip
from shopdesk.shelf.loading import shelf_yarns
from shopdesk.shelf.stock import discrepancies
from shopdesk.shop.shop import Shop
from shopdesk.store import upgrading
from shopdesk.store.database import open_shelf, reading
from shopdesk.store.models import Contact, YarnMeasurement
from shopdesk.store.upgrading import current_revision, downgrade, upgrade
from shopdesk.upkeep.backup import unsound
from tests.services.slips_at_counter import OTHER_LOT, SLIP_LOT, a_slip, a_swatch, stock_shelf

EARLIER = sorted(
    script.revision
    for script in ScriptDirectory(str(upgrading.FOLDER)).walk_revisions()
    if script.revision != upgrading.HEAD
)
OURS = "alembic_version"


@pytest.fixture
def filled(demo_shelf_file: Path, tmp_path: Path) -> Iterator[Engine]:
    """The demo catalogue, a second branch, a slip with a name, and holds."""
    engine = open_shelf(f"sqlite:///{shutil.copy(demo_shelf_file, tmp_path / 'shop.sqlite3')}")
    stock_shelf(engine)
    assert a_slip(engine, name="Ada", phone="0123") == 1
    hold_skeins(Shop(engine), HoldOrder(((SLIP_LOT, 2), (OTHER_LOT, 1)), staff="AB"))
    yield engine
    engine.dispose()


def held(engine: Engine, columns: dict[str, list[str]] | None = None) -> dict[str, list[Any]]:
    """Returns the rows of every table, or those columns of those tables."""
    tables = MetaData()
    tables.reflect(engine)
    found = {}
    with reading(engine) as session:
        for name, table in tables.tables.items():
            if name == OURS or (columns is not None and name not in columns):
                continue
            wanted = [table.c[c] for c in (columns or {}).get(name, table.c.keys())]
            found[name] = sorted(map(repr, session.execute(select(*wanted)).all()))
    return found


def columns_of(engine: Engine) -> dict[str, list[str]]:
    tables = MetaData()
    tables.reflect(engine)
    return {name: list(table.c.keys()) for name, table in tables.tables.items() if name != OURS}


def test_there_are_earlier_schemas_to_test() -> None:
    assert EARLIER[0] == "0001"
    assert len(EARLIER) >= 7


def test_swatches_of_an_older_shop_were_not_asked_for_and_no_hand_is_known(filled: Engine) -> None:
    """Nobody noted before whether a customer had been asked; who brought a swatch stays known."""
    a_swatch(filled)
    downgrade(filled, "0010")
    assert not {"asked_for", "hand_percent"} & {c for t in columns_of(filled).values() for c in t}
    upgrade(filled)
    with reading(filled) as session:
        marks = session.execute(select(YarnMeasurement.asked_for, YarnMeasurement.from_customer))
        assert (False, True) in {tuple(row) for row in marks}
        assert not any(session.scalars(select(YarnMeasurement.asked_for)))
        assert set(session.scalars(select(Contact.hand_percent))) == {None}
        assert session.scalars(select(Contact.name)).all() == ["Ada"]


@pytest.mark.slow
@pytest.mark.parametrize("revision", EARLIER)
def test_a_shop_of_an_earlier_schema_keeps_everything(filled: Engine, revision: str) -> None:
    downgrade(filled, revision)
    assert current_revision(filled) == revision
    columns, before = columns_of(filled), held(filled)
    assert len(before["yarn"]) > 80
    assert before["stock_movement"]
    upgrade(filled)
    assert current_revision(filled) == upgrading.HEAD
    after = held(filled, {name: columns[name] for name in before})
    for name, rows in before.items():
        assert after[name] == rows, name
    with reading(filled) as session:
        assert len(list(shelf_yarns(session))) > 80
        assert list(discrepancies(session)) == []
        assert (slip(session, 1) is not None) == ("slip" in before)
    assert filled.url.database is not None
    assert unsound(Path(filled.url.database)) is None
