"""Whether the counter works, for a program that watches it; needs no signing in, tells nothing."""

from flask import Blueprint

from shopdesk.counter.request import settings
from shopdesk.store.faults import ShelfFault

pages = Blueprint("health", __name__)


@pages.get("/health")
def health() -> tuple[dict[str, str], int]:
    """Returns 200 while the shelf can be read, else 503."""
    try:
        settings()
    except ShelfFault:
        return {"status": "the shelf cannot be read"}, 503
    return {"status": "ok"}, 200
