"""Sets a new shop up, or brings one that is there to this version: what serving starts with."""

from sqlalchemy import Engine, exists, select

from shopdesk.shelf.writing import writing
from shopdesk.shop.location import DataLocation, prepare
from shopdesk.store.database import open_shelf, reading
from shopdesk.store.tables.settings import Setting
from shopdesk.store.upgrading import upgrade


def set_up_shop(place: DataLocation, *, demo: bool) -> tuple[Engine, bool]:
    """Returns the engine of a shop, and whether it is a new one that was set up now.

    The database is made or brought to this version's schema. A new shop gets the demo catalog
    if `demo`, else an empty shelf; it stays new until it has settings, so that one whose set-up
    was cut short is set up again. Raises DataFolderRefused and ShelfFault.
    """
    prepare(place)
    engine = open_shelf(place.url)
    try:
        upgrade(engine)
        with reading(engine) as session:
            new = not session.scalar(select(exists().select_from(Setting)))
        if new:
            _fill(engine, demo=demo)
        _refresh_index(engine)
    except BaseException:
        engine.dispose()
        raise
    return engine, new


def _refresh_index(engine: Engine) -> None:
    from shopdesk.shelf.yarn_index import outdated_summaries, refresh_index

    with reading(engine) as session:
        due = outdated_summaries(session)
    if due:
        with writing(engine) as session:
            refresh_index(session)


def _fill(engine: Engine, *, demo: bool) -> None:
    from shopdesk.store.settings import load_settings, save_settings
    from shopdesk.upkeep.seeding import seed_demo

    if demo:
        seed_demo(engine)
        return
    with writing(engine) as session:
        save_settings(session, load_settings(session))
