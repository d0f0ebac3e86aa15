"""Changing the shelf: a yarn's facts, its stock, and what was measured on it."""

from datetime import datetime

from flask import Blueprint, abort, flash, redirect, render_template, request, url_for
from sqlalchemy import select
from sqlalchemy.exc import IntegrityError
from sqlalchemy.orm import Session
from werkzeug.wrappers import Response

from shopdesk.counter.forms.stock_form import MeasureForm, StockForm
from shopdesk.counter.forms.yarn_form import YarnForm, fingerprint, yarn_texts
from shopdesk.counter.request import (
    asked_branch,
    engine,
    known_branches,
    other_branch,
    own_branch,
    settings,
    shop,
)
from shopdesk.counter.views.shelf import view_of
from shopdesk.craft.errors import InputError
from shopdesk.exchange.columns import Values
from shopdesk.exchange.stored_rows import set_yarn, yarn_values
from shopdesk.exchange.yarn_fields import EMPTY
from shopdesk.services.asks import new_request_key
from shopdesk.services.sales import SlipUnknown, book_sale
from shopdesk.services.stock_changes import change_stock as change_stock_of
from shopdesk.shelf.mapping import measurement_values
from shopdesk.shelf.writing import writing
from shopdesk.store.database import reading
from shopdesk.store.models import Yarn, YarnMeasurement
from shopdesk.wording.formatting import capital

pages = Blueprint("shelf_changes", __name__)

CHANGED_MEANWHILE = (
    "Somebody changed this yarn while the page was open. Look at both versions below; "
    "saving now keeps what the boxes say."
)
Differences = list[tuple[str, str, str]]


@pages.get("/shelf/yarn/new")
def new() -> str:
    """Shows the empty form of a new yarn."""
    return _page(YarnForm(formdata=None, data=yarn_texts(EMPTY, _currency())), "")


@pages.post("/shelf/yarn/new")
def add() -> Response | tuple[str, int]:
    """Adds a yarn, unless something cannot be or its article number is taken."""
    form = YarnForm()
    sku = form.sku.typed
    if not 0 < len(sku) <= 40:
        form.sku.errors = ["Write an article number of 1 to 40 characters"]
    values, homeless = form.values(_currency())
    if values is None:
        return _page(form, "", homeless), 422
    try:
        with writing(engine()) as session:
            row = Yarn(sku=sku)
            set_yarn(row, values)
            session.add(row)
    except IntegrityError:
        form.sku.errors = ["There is a yarn of this article number; write another one"]
        return _page(form, ""), 409
    flash("The yarn is added.")
    return redirect(url_for("shelf.yarn", sku=sku), 303)


@pages.get("/shelf/yarn/edit")
def edit() -> str:
    """Shows the yarn `?sku=` in boxes."""
    sku = request.args.get("sku", "")
    with reading(engine()) as session:
        texts = yarn_texts(yarn_values(_row(session, sku)), _currency())
    return _page(YarnForm(formdata=None, data={**texts, "seen": fingerprint(texts)}), sku)


@pages.post("/shelf/yarn/edit")
def save() -> Response | tuple[str, int]:
    """Saves the yarn, unless a box is wrong or somebody else changed it meanwhile."""
    form, sku = YarnForm(), request.args.get("sku", "")
    values, homeless = form.values(_currency())
    with writing(engine()) as session:
        row = _row(session, sku, lock=True)
        stored = yarn_texts(yarn_values(row), _currency())
        if form.seen.data != fingerprint(stored):
            form.seen.data = fingerprint(stored)
            differing = _differences(form, stored, values)
            return _page(form, sku, [CHANGED_MEANWHILE], differing), 409
        if values is None:
            return _page(form, sku, homeless), 422
        set_yarn(row, values)
    flash("The yarn is saved.")
    return redirect(url_for("shelf.yarn", sku=sku), 303)


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
        return _stock_page(form, [capital(str(refusal))]), 422
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
    measured = form.measurement(datetime.now().astimezone().date())
    if measured is None:
        return _measure_page(form), 422
    with writing(engine()) as session:
        yarn = _row(session, sku).id
        session.add(YarnMeasurement(yarn_id=yarn, **measurement_values(measured)))
    flash("The measurement is kept.")
    return redirect(url_for("shelf.yarn", sku=sku), 303)


@pages.post("/slips/<int:number>/sold")
def sold(number: int) -> Response:
    """Takes what a slip says off the stock, once."""
    branch = asked_branch()
    try:
        book_sale(shop().in_branch(branch), number)
    except SlipUnknown as unknown:
        abort(404, str(unknown))
    except InputError as refusal:
        abort(409, f"{capital(str(refusal))}.")
    flash("The skeins are taken off the stock.")
    return redirect(url_for("slips.slip", number=number, branch=other_branch(branch)), 303)


def _currency() -> str:
    return settings().currency


def _row(session: Session, sku: str, lock: bool = False) -> Yarn:
    wanted = select(Yarn).where(Yarn.sku == sku)
    row = session.scalar(wanted.with_for_update() if lock else wanted)
    if row is None:
        abort(404, "There is no yarn of this article number on the shelf.")
    return row


def _differences(form: YarnForm, stored: dict[str, str], values: Values | None) -> Differences:
    """Returns label, stored text and typed text of each box that is not as stored now."""
    typed = form.texts() if values is None else yarn_texts(values, _currency())
    return [
        (form[name].label.text, stored[name], typed[name])
        for name in typed
        if name in stored and typed[name] != stored[name]
    ]


def _page(
    form: YarnForm,
    sku: str,
    homeless: list[str] | None = None,
    differing: Differences | None = None,
) -> str:
    boxes = [field for field in form if field.name not in ("csrf_token", "seen")]
    return render_template(
        "shelf/edit.html",
        form=form,
        sku=sku,
        boxes=boxes,
        homeless=homeless or [],
        differing=differing or [],
    )


def _stock_page(form: StockForm, homeless: list[str] | None = None) -> str:
    view = view_of(request.args.get("sku", ""))
    form.colour.choices = [(c.code, f"{c.code} {c.name}") for c in view.colours]
    form.branch.choices = [(one.code, one.shown) for one in known_branches()]
    return render_template("shelf/stock.html", form=form, view=view, homeless=homeless or [])


def _measure_page(form: MeasureForm) -> str:
    view = view_of(request.args.get("sku", ""))
    return render_template("shelf/measure.html", form=form, view=view)
