"""Whether the counter works, for a program that watches it; needs no signing in, tells nothing."""

from flask import Blueprint
from sqlalchemy import text

from shopdesk.counter.request import engine
from shopdesk.store.database import reading
from shopdesk.store.faults import ShelfFault

pages = Blueprint("health", __name__)


@pages.get("/health")
def health() -> tuple[dict[str, str], int]:
    """Returns 200 while the shelf can be read, else 503."""
    try:
        with reading(engine()) as session:
            session.execute(text("SELECT count(*) FROM setting"))
    except ShelfFault:
        return {"status": "the shelf cannot be read"}, 503
    return {"status": "ok"}, 200
