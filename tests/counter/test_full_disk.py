"""A disk without room, at the counter: one clear line, nothing lost, and it goes on answering."""

import sqlite3

from sqlalchemy import Engine, event

from shopdesk.services.slips import slips_found
from shopdesk.store.database import reading
from tests.counter.asks import PULLOVER
from tests.counter.conftest import Counter

ROOM_PAGES = 3
MOST_ASKS = 80


def leave_little_room(engine: Engine) -> None:
    """Lets the database grow by a few pages only, as SQLite itself would on a full disk."""
    engine.dispose()

    @event.listens_for(engine, "connect")
    def bound(connection: sqlite3.Connection, _record: object) -> None:
        pages = connection.execute("PRAGMA page_count").fetchone()[0]
        most = getattr(bound, "most", pages + ROOM_PAGES)
        bound.most = most  # type: ignore[attr-defined]
        connection.execute(f"PRAGMA max_page_count = {most}")


def test_a_full_disk_is_one_clear_line_and_the_counter_goes_on(
    demo_counter: Counter, demo_shelf: Engine
) -> None:
    leave_little_room(demo_shelf)
    kept: list[str] = []
    for number in range(MOST_ASKS):
        answer = demo_counter.fill(**{**PULLOVER, "title": f"{number} " + "x" * 60})
        if answer.status_code != 303:
            break
        kept.append(answer.headers["Location"])
    assert answer.status_code == 503
    assert "is full; nothing was saved" in answer.text
    assert "Traceback" not in answer.text
    assert kept
    for address in kept[:1] + kept[-1:]:
        assert "Birchenfold" in demo_counter.look(address).text
    assert demo_counter.client.get("/health").status_code == 200
    with reading(demo_shelf) as session:
        assert slips_found(session) == ()
