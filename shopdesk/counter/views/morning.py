"""The morning page: what to look at before the shop opens."""

from flask import Blueprint, render_template

from shopdesk.counter.request import engine
from shopdesk.craft.weights import categories
from shopdesk.services.morning import doubted_labels
from shopdesk.services.morning import morning as morning_of
from shopdesk.store.database import reading

pages = Blueprint("morning", __name__)

MOST_LABELS = 20


@pages.get("/morning")
def morning() -> str:
    """Shows the lists of today."""
    with reading(engine()) as session:
        found = morning_of(session)
        doubted = doubted_labels(session)
    return render_template(
        "morning.html",
        morning=found,
        doubted=doubted[:MOST_LABELS],
        more=len(doubted),
        categories={each.number: each for each in categories()},
    )
