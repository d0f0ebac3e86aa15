"""Adding a colour to a yarn."""

from flask import Blueprint, abort, flash, redirect, render_template, request, url_for
from sqlalchemy import select
from sqlalchemy.exc import IntegrityError
from werkzeug.wrappers import Response

from shopdesk.counter.forms.colour_form import ColourForm
from shopdesk.counter.request import engine
from shopdesk.shelf.writing import writing
from shopdesk.store.database import reading
from shopdesk.store.models import Colourway, Yarn

pages = Blueprint("shelf_colours", __name__)


@pages.get("/shelf/yarn/colour")
def new() -> str:
    """Shows the empty form of a new colour of the yarn `?sku=`."""
    return _page(ColourForm(formdata=None))


@pages.post("/shelf/yarn/colour")
def add() -> Response | tuple[str, int]:
    """Adds the colour, unless a box is wrong or the yarn has one of this code."""
    form, sku = ColourForm(), request.args.get("sku", "")
    values = form.values()
    if values is None:
        return _page(form), 422
    try:
        with writing(engine()) as session:
            yarn = session.scalar(select(Yarn.id).where(Yarn.sku == sku)) or abort(404)
            session.add(Colourway(yarn_id=yarn, code=form.code.typed, **values))
    except IntegrityError:
        form.code.errors = ["This yarn has a colour of this code; write another one"]
        return _page(form), 409
    flash("The colour is added. Its skeins come in as stock.")
    return redirect(url_for("shelf_changes.stock", sku=sku, colour=form.code.typed), 303)


def _page(form: ColourForm) -> str:
    sku = request.args.get("sku", "")
    with reading(engine()) as session:
        name = session.scalar(select(Yarn.name).where(Yarn.sku == sku)) or abort(404)
    return render_template("shelf/colour.html", form=form, sku=sku, name=name)
