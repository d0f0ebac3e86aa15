"""The morning page: what to look at before the shop opens."""

from flask import Blueprint, render_template

from shopdesk.answering.label_check import check_labels
from shopdesk.counter.shop import engine
from shopdesk.shelf.database import reading
from shopdesk.shelf.loading import shelf_yarns
from shopdesk.visits.morning import morning as morning_of

pages = Blueprint("morning", __name__)

MOST_LABELS = 20


@pages.get("/morning")
def morning() -> str:
    """Shows the lists of today."""
    with reading(engine()) as session:
        found = morning_of(session)
        checked = check_labels(shelf_yarns(session, with_stock=False))
    doubted = [one for one in checked if one.contradicted]
    return render_template(
        "morning.html", morning=found, doubted=doubted[:MOST_LABELS], more=len(doubted)
    )
