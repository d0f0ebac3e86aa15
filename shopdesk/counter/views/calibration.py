"""The owner's page of how well stated gauges held against the swatches that came back."""

from flask import Blueprint, render_template

from shopdesk.counter.pictures.calibration_chart import calibration_chart
from shopdesk.counter.request import shop
from shopdesk.services.calibration import shop_calibration

pages = Blueprint("calibration", __name__)


@pages.get("/calibration")
def calibration() -> str:
    """Shows all swatches beside what was stated of their yarns, with a picture."""
    found = shop_calibration(shop())
    return render_template("calibration.html", found=found, chart=calibration_chart(found.yarns))
