"""Changing the shelf: a yarn's facts, its stock, and what was measured on it."""

from flask import Blueprint, flash, redirect, render_template, request, url_for
from werkzeug.wrappers import Response

from shopdesk.counter.forms.shelf_forms import ColourForm, MeasureForm, StockForm, YarnForm
from shopdesk.counter.refusals import refuse_page, said_alone, show_problems
from shopdesk.counter.request import asked_branch, known_branches, other_branch, own_branch, shop
from shopdesk.counter.views.shelf import NOT_THERE, view_of
from shopdesk.craft.errors import InputError
from shopdesk.craft.messages import message
from shopdesk.services.asks import new_request_key
from shopdesk.services.sales import SlipUnknown, book_sale
from shopdesk.services.stock_changes import change_stock as change_stock_of
from shopdesk.services.yarn_changes import (
    AlreadyThere,
    YarnChanged,
    add_colour,
    add_measurement,
    add_yarn,
    edit_yarn,
    yarn_texts,
)
from shopdesk.shelf.loading import YarnUnknown

pages = Blueprint("shelf_changes", __name__)

CHANGED_MEANWHILE = message("problem_page.yarn_changed")
Differences = list[tuple[str, str, str]]


@pages.get("/shelf/yarn/new")
def new() -> str:
    """Shows the empty form of a new yarn."""
    return _page(YarnForm(formdata=None, data=yarn_texts(shop()).texts), "")


@pages.post("/shelf/yarn/new")
def add() -> Response | tuple[str, int]:
    """Adds a yarn, unless something cannot be or its article number is taken."""
    form = YarnForm()
    sku = form.sku.typed
    try:
        add_yarn(shop(), sku, form.texts())
    except InputError as refusal:
        form_errors = show_problems(form, refusal.problems)
        return _page(form, "", form_errors), 409 if isinstance(refusal, AlreadyThere) else 422
    flash("The yarn is added.")
    return redirect(url_for("shelf.yarn", sku=sku), 303)


@pages.get("/shelf/yarn/edit")
def edit() -> str:
    """Shows the yarn `?sku=` in boxes."""
    sku = request.args.get("sku", "")
    try:
        found = yarn_texts(shop(), sku)
    except YarnUnknown:
        refuse_page(404, NOT_THERE)
    return _page(YarnForm(formdata=None, data={**found.texts, "seen": found.seen}), sku)


@pages.post("/shelf/yarn/edit")
def save() -> Response | tuple[str, int]:
    """Saves the yarn, unless a box is wrong or somebody else changed it meanwhile."""
    form, sku = YarnForm(), request.args.get("sku", "")
    try:
        edit_yarn(shop(), sku, form.texts(), str(form.seen.data))
    except YarnUnknown:
        refuse_page(404, NOT_THERE)
    except YarnChanged as changed:
        form.seen.data = changed.seen
        differing = [(form[name].label.text, *both) for name, *both in changed.differing]
        return _page(form, sku, [said_alone(CHANGED_MEANWHILE)], differing), 409
    except InputError as refusal:
        return _page(form, sku, show_problems(form, refusal.problems)), 422
    flash("The yarn is saved.")
    return redirect(url_for("shelf.yarn", sku=sku), 303)


@pages.get("/shelf/yarn/colour")
def new_colour() -> str:
    """Shows the empty form of a new colour of the yarn `?sku=`."""
    return _colour_page(ColourForm(formdata=None))


@pages.post("/shelf/yarn/colour")
def colour() -> Response | tuple[str, int]:
    """Adds the colour, unless a box is wrong or the yarn has one of this code."""
    form, sku = ColourForm(), request.args.get("sku", "")
    try:
        add_colour(shop(), sku, form.colour())
    except YarnUnknown:
        refuse_page(404, NOT_THERE)
    except InputError as refusal:
        show_problems(form, refusal.problems)
        return _colour_page(form), 409 if isinstance(refusal, AlreadyThere) else 422
    flash("The colour is added. Its skeins come in as stock.")
    return redirect(url_for("shelf_changes.stock", sku=sku, colour=form.code.typed), 303)


@pages.get("/shelf/yarn/stock")
def stock() -> str:
    """Shows the form to change the stock of the yarn `?sku=`."""
    asked = {name: request.args.get(name, "") for name in ("colour", "lot")}
    form = StockForm(formdata=None, data={"change": "receive", **asked})
    form.key.data, form.branch.data = new_request_key(), request.args.get("branch") or own_branch()
    return _stock_page(form)


@pages.post("/shelf/yarn/stock")
def change_stock() -> Response | tuple[str, int]:
    """Changes the stock of one lot, once however often the form is sent."""
    form, sku = StockForm(), request.args.get("sku", "")
    wanted = form.stock_change(sku)
    if wanted is None:
        return _stock_page(form), 422
    try:
        change_stock_of(shop(), wanted)
    except InputError as refusal:
        return _stock_page(form, [said_alone(refusal)]), 422
    flash("The stock is changed.")
    return redirect(url_for("shelf.yarn", sku=sku), 303)


@pages.get("/shelf/yarn/measure")
def measure() -> str:
    """Shows how to measure the yarn `?sku=`, and the form to note it."""
    kind = request.args.get("kind", "wraps")
    return _measure_page(MeasureForm(formdata=None, data={"kind": kind}))


@pages.post("/shelf/yarn/measure")
def note() -> Response | tuple[str, int]:
    """Keeps a measurement with the yarn; the label stays as it is."""
    form, sku = MeasureForm(), request.args.get("sku", "")
    measured = form.measurement(shop().today())
    if measured is None:
        return _measure_page(form), 422
    try:
        add_measurement(shop(), sku, measured)
    except YarnUnknown:
        refuse_page(404, NOT_THERE)
    except InputError as refusal:
        show_problems(form, refusal.problems)
        return _measure_page(form), 422
    flash("The measurement is kept.")
    return redirect(url_for("shelf.yarn", sku=sku), 303)


@pages.post("/slips/<int:number>/sold")
def sold(number: int) -> Response:
    """Takes what a slip says off the stock, once."""
    branch = asked_branch()
    try:
        book_sale(shop().in_branch(branch), number)
    except SlipUnknown as unknown:
        refuse_page(404, unknown)
    except InputError as refusal:
        refuse_page(409, refusal)
    flash("The skeins are taken off the stock.")
    return redirect(url_for("slips.slip", number=number, branch=other_branch(branch)), 303)


def _page(
    form: YarnForm,
    sku: str,
    form_errors: list[str] | None = None,
    differing: Differences | None = None,
) -> str:
    boxes = [field for field in form if field.name not in ("csrf_token", "seen")]
    return render_template(
        "shelf/edit.html",
        form=form,
        sku=sku,
        boxes=boxes,
        form_errors=form_errors or [],
        differing=differing or [],
    )


def _stock_page(form: StockForm, form_errors: list[str] | None = None) -> str:
    view = view_of(request.args.get("sku", ""))
    form.colour.choices = [(c.code, f"{c.code} {c.name}") for c in view.colours]
    form.branch.choices = [(one.code, one.shown) for one in known_branches()]
    return render_template("shelf/stock.html", form=form, view=view, form_errors=form_errors or [])


def _colour_page(form: ColourForm) -> str:
    yarn = view_of(request.args.get("sku", "")).yarn
    return render_template("shelf/colour.html", form=form, sku=yarn.sku, name=yarn.name)


def _measure_page(form: MeasureForm) -> str:
    view = view_of(request.args.get("sku", ""))
    return render_template("shelf/measure.html", form=form, view=view)
