"""Skeins put by: the list, putting by, and collecting, releasing or extending one hold."""

from typing import Any

from flask import Blueprint, abort, flash, redirect, render_template, request, url_for
from flask_wtf.csrf import CSRFError
from sqlalchemy.orm import Session
from werkzeug.wrappers import Response

from shopdesk.counter.forms.hold_forms import HoldChange, HoldForm, day_in
from shopdesk.counter.request import asked_branch, engine, own_branch
from shopdesk.services.asks import new_request_key
from shopdesk.services.branches import branches
from shopdesk.services.hold_records import HoldRecord, HoldState, open_holds
from shopdesk.services.hold_records import hold as hold_of
from shopdesk.services.holds import (
    HoldRefused,
    HoldTerms,
    collect,
    collect_part,
    extend,
    put_by,
    release,
)
from shopdesk.services.sales import SlipUnknown, lots_of_slip, slip_row
from shopdesk.shelf.branch_lots import LotAtBranch, StockRefused
from shopdesk.shelf.writing import writing
from shopdesk.store.database import reading

pages = Blueprint("holds", __name__)

LARGEST_KEY = 2**31
_STALE = "This page was open since before the program was last started; press the button again."


@pages.get("/holds")
def holds() -> str:
    """Shows what is put by, the hold that ends first before the others."""
    with reading(engine()) as session:
        return render_template("holds.html", holds=open_holds(session))


@pages.get("/holds/new")
def new() -> str:
    """Shows the form to put by a lot (?sku=&colour=&lot=&branch=) or what a slip says (?slip=)."""
    asked = {name: request.args.get(name, "") for name in ("sku", "colour", "lot", "slip")}
    form = HoldForm(formdata=None, data=asked)
    form.key.data, form.branch.data = new_request_key(), asked_branch()
    return _form(form)


@pages.post("/holds/new")
def keep() -> Response | tuple[str, int]:
    """Puts by, or shows the form with what is wrong. Sent twice it puts by once."""
    form = HoldForm()
    try:
        with writing(engine()) as session:
            made = _put_by(session, form)
    except SlipUnknown as refusal:
        abort(404, str(refusal))
    except (HoldRefused, StockRefused) as refusal:
        return _refused(form, refusal), 422
    if not made:
        return _form(form), 422
    flash(f"Put by until {made[0].until.isoformat()}.")
    if len(made) > 1:
        return redirect(url_for("holds.holds"), 303)
    return redirect(url_for("holds.hold", number=made[0].number), 303)


@pages.errorhandler(CSRFError)
def _stale(error: CSRFError) -> tuple[str, int]:
    """Shows what was typed once more, with a form token that is good again."""
    if request.endpoint == "holds.keep":
        return _form(HoldForm(), [_STALE]), 400
    number = (request.view_args or {}).get("number", 0)
    return _one(number, HoldChange(), [_STALE]), 400


@pages.get("/holds/<int:number>")
def hold(number: int) -> str:
    """Shows one hold and what may be done with it."""
    form = HoldChange(formdata=None)
    form.key.data = new_request_key()
    return _one(number, form)


@pages.post("/holds/<int:number>")
def change(number: int) -> Response | tuple[str, int]:
    """Collects (all or some), releases or extends a hold, as the pressed button says."""
    form = HoldChange()
    try:
        with writing(engine()) as session:
            if not _changed(session, number, form):
                return _one(number, form), 422
    except (HoldRefused, StockRefused) as refusal:
        field = refusal.field
        if field in ("until", "skeins"):
            form[field].errors = [_sentence(refusal)]
            return _one(number, form), 422
        return _one(number, form, [_sentence(refusal)]), 409
    flash(f"Hold {number} is changed.")
    return redirect(url_for("holds.hold", number=number), 303)


def _changed(session: Session, number: int, form: HoldChange) -> bool:
    """Does what the pressed button says; False with a message beside the box that is wrong."""
    do, staff = request.form.get("do", ""), form.staff.typed
    if do == "collect":
        collect(session, number, staff)
    elif do == "release":
        release(session, number, staff)
    elif do in ("part", "part-release"):
        part = form.part(release_rest=do == "part-release")
        if part is None:
            return False
        collect_part(session, number, part)
    elif day := day_in(form.until):
        extend(session, number, day, staff)
    else:
        form.until.errors = form.until.errors or ["No day is written; write the new one"]
        return False
    return True


def _put_by(session: Session, form: HoldForm) -> tuple[HoldRecord, ...]:
    form.offer(branches(session))
    if not form.slip.data:
        terms = form.terms(None)
        return _kept(session, {form.where(): form.number_of_skeins()}, terms)
    row = slip_row(session, _number(form.slip.data), form.branch.data or own_branch())
    return _kept(session, lots_of_slip(session, row), form.terms(row.id))


def _kept(
    session: Session, picks: dict[LotAtBranch, int], terms: HoldTerms | None
) -> tuple[HoldRecord, ...]:
    return put_by(session, picks.items(), terms) if terms else ()


def _number(text: str) -> int:
    return int(text) if text.isascii() and text.isdigit() and len(text) < 10 else 0


def _refused(form: HoldForm, refusal: HoldRefused | StockRefused) -> str:
    field = refusal.field
    if field == "until" or (field == "skeins" and not form.slip.data):
        form[field].errors = [_sentence(refusal)]
        return _form(form)
    return _form(form, [_sentence(refusal)])


def _sentence(refusal: Exception) -> str:
    words = str(refusal)
    return words[:1].upper() + words[1:]


def _form(form: HoldForm, homeless: list[str] | None = None) -> str:
    lots: dict[LotAtBranch, int] = {}
    with reading(engine()) as session:
        form.offer(branches(session))
        if form.slip.data:
            try:
                branch = form.branch.data or own_branch()
                lots = lots_of_slip(session, slip_row(session, _number(form.slip.data), branch))
            except (SlipUnknown, StockRefused) as refusal:
                abort(404, str(refusal))
    return render_template(
        "hold_new.html", form=form, boxes=form.boxes(), lots=lots, homeless=homeless or []
    )


def _one(number: int, form: HoldChange, homeless: list[str] | None = None) -> str:
    with reading(engine()) as session:
        found = hold_of(session, number) if number < LARGEST_KEY else None
    if found is None:
        abort(404, f"There is no hold {number}.")
    more: dict[str, Any] = {"may_change": found.state in (HoldState.HELD, HoldState.EXPIRED)}
    return render_template("hold.html", hold=found, form=form, homeless=homeless or [], **more)
