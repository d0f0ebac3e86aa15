"""The morning page: what to look at before the shop opens."""

from flask import Blueprint, render_template

from shopdesk.counter.request import shop
from shopdesk.craft.weights import categories
from shopdesk.services.morning import morning_list

pages = Blueprint("morning", __name__)

MOST_LABELS = 20


@pages.get("/morning")
def morning() -> str:
    """Shows the lists of today."""
    found = morning_list(shop())
    return render_template(
        "morning.html",
        morning=found,
        doubted=found.doubted[:MOST_LABELS],
        more=len(found.doubted),
        categories={each.number: each for each in categories()},
    )
