"""A shop that is there, one that is not, and one whose set-up was cut short."""

from pathlib import Path

import pytest
from sqlalchemy import func, select

from shopdesk.shelf.yarn_index import stale_index_rows
from shopdesk.shop.location import DataLocation, find_place, prepare
from shopdesk.shop.shop import ShopMissing, open_shop
from shopdesk.store.database import open_shelf
from shopdesk.store.faults import ShelfNotReady
from shopdesk.store.models import Yarn, YarnIndex
from shopdesk.store.upgrading import downgrade, upgrade
from shopdesk.upkeep.setup import set_up_shop


@pytest.fixture
def place(tmp_path: Path) -> DataLocation:
    return find_place(str(tmp_path / "new"), {})


def yarns(place: DataLocation) -> int:
    """Returns how many yarns the shop has."""
    shop = open_shop(place)
    with shop.read() as session:
        number = session.scalar(select(func.count()).select_from(Yarn))
    shop.engine.dispose()
    assert number is not None
    return number


def set_up(place: DataLocation, *, demo: bool) -> bool:
    engine, new = set_up_shop(place, demo=demo)
    engine.dispose()
    return new


def test_looking_for_a_shop_makes_none(place: DataLocation) -> None:
    with pytest.raises(ShopMissing, match="serve"):
        open_shop(place)
    assert not place.folder.exists()


def test_a_shop_is_new_once(place: DataLocation) -> None:
    assert set_up(place, demo=True)
    number = yarns(place)
    assert number >= 80
    assert not set_up(place, demo=True)
    assert yarns(place) == number


def test_an_empty_shop_stays_empty(place: DataLocation) -> None:
    assert set_up(place, demo=False)
    assert not set_up(place, demo=True)
    assert yarns(place) == 0


def test_a_set_up_that_was_cut_short_is_done_again(place: DataLocation) -> None:
    prepare(place)
    engine = open_shelf(place.url)
    upgrade(engine)
    engine.dispose()
    assert set_up(place, demo=True)
    assert yarns(place) >= 80


def test_a_shop_of_an_older_version_gets_its_summaries(place: DataLocation) -> None:
    assert set_up(place, demo=True)
    engine = open_shelf(place.url)
    downgrade(engine, "0008")
    engine.dispose()
    assert not set_up(place, demo=False)
    shop = open_shop(place)
    with shop.read() as session:
        assert session.scalar(select(func.count()).select_from(YarnIndex)) == yarns(place)
        assert stale_index_rows(session) == []
    shop.engine.dispose()


def test_a_database_without_our_tables_is_not_opened(place: DataLocation) -> None:
    prepare(place)
    assert place.database_file is not None
    place.database_file.touch()
    with pytest.raises(ShelfNotReady):
        open_shop(place)


def test_a_shop_on_postgresql_is_set_up_and_opened(postgres_url: str, tmp_path: Path) -> None:
    place = find_place(str(tmp_path), {"SHOPDESK_DATABASE_URL": postgres_url})
    with pytest.raises(ShelfNotReady):
        open_shop(place)
    assert set_up(place, demo=True)
    assert not set_up(place, demo=True)
    assert yarns(place) >= 80
