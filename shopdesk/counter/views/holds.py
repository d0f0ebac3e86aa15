"""Holds: the list, holding skeins, and collecting, releasing or extending one hold."""

from typing import Any

from flask import Blueprint, flash, redirect, render_template, request, url_for
from flask_wtf.csrf import CSRFError
from werkzeug.wrappers import Response

from shopdesk.counter.errors import STALE_PAGE
from shopdesk.counter.forms.fields import day_in
from shopdesk.counter.forms.hold_forms import HoldChange, HoldForm
from shopdesk.counter.refusals import refuse_box, refuse_page, said_alone
from shopdesk.counter.request import asked_branch, known_branches, own_branch, shop
from shopdesk.craft.errors import InputError
from shopdesk.craft.messages import message
from shopdesk.services.asks import new_request_key
from shopdesk.services.hold_records import HoldState, find_hold, list_holds
from shopdesk.services.holds import (
    collect_hold,
    collect_part,
    extend_hold,
    hold_skeins,
    release_hold,
)
from shopdesk.services.sales import SlipUnknown, lots_on_slip
from shopdesk.shelf.branch_lots import LotAtBranch
from shopdesk.shop.shop import Shop

pages = Blueprint("holds", __name__)


@pages.get("/holds")
def holds() -> str:
    """Shows what is on hold, the hold that ends first before the others."""
    return render_template("holds.html", holds=list_holds(shop()))


@pages.get("/holds/new")
def new() -> str:
    """Shows the form to hold a lot (?sku=&colour=&lot=&branch=) or what a slip says (?slip=)."""
    asked = {name: request.args.get(name, "") for name in ("sku", "colour", "lot", "slip")}
    form = HoldForm(formdata=None, data=asked)
    form.key.data, form.branch.data = new_request_key(), asked_branch()
    return _form(form)


@pages.post("/holds/new")
def keep() -> Response | tuple[str, int]:
    """Holds the skeins, or shows the form with what is wrong. Sent twice it holds once."""
    form = HoldForm()
    order = form.order(_slip(form))
    if order is None:
        return _form(form), 422
    try:
        made = hold_skeins(_shop(form), order)
    except SlipUnknown as refusal:
        refuse_page(404, refusal)
    except InputError as refusal:
        return _refused(form, refusal), 422
    flash(f"On hold until {made[0].until.isoformat()}.")
    if len(made) > 1:
        return redirect(url_for("holds.holds"), 303)
    return redirect(url_for("holds.hold", number=made[0].number), 303)


@pages.errorhandler(CSRFError)
def _stale(error: CSRFError) -> tuple[str, int]:
    """Shows what was typed once more, with a form token that is good again."""
    if request.endpoint == "holds.keep":
        return _form(HoldForm(), [said_alone(STALE_PAGE)]), 400
    number = (request.view_args or {}).get("number", 0)
    return _one(number, HoldChange(), [said_alone(STALE_PAGE)]), 400


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
        if not _changed(number, form):
            return _one(number, form), 422
    except InputError as refusal:
        field = refusal.field
        if field in ("until", "skeins", "staff"):
            form[field].errors = [said_alone(refusal)]
            return _one(number, form), 422
        return _one(number, form, [said_alone(refusal)]), 409
    flash(f"Hold {number} is changed.")
    return redirect(url_for("holds.hold", number=number), 303)


def _changed(number: int, form: HoldChange) -> bool:
    """Does what the pressed button says; False with a message beside the box that is wrong."""
    do, staff = request.form.get("do", ""), form.staff.typed
    if do == "collect":
        collect_hold(shop(), number, staff)
    elif do == "release":
        release_hold(shop(), number, staff)
    elif do in ("part", "part-release"):
        part = form.part(release_rest=do == "part-release")
        if part is None:
            return False
        collect_part(shop(), number, part)
    elif day := day_in(form.until):
        extend_hold(shop(), number, day, staff)
    else:
        if not form.until.errors:
            missing = message("problem_form.day_missing")
            refuse_box(form.until, missing, message("problem_form.write_new_day"))
        return False
    return True


def _shop(form: HoldForm) -> Shop:
    """Returns the shop as asked from the branch of the form, whose slip may be meant."""
    return shop().in_branch(form.branch.data or own_branch())


def _slip(form: HoldForm) -> int | None:
    """Returns the number of the form's slip, 0 for one that is no number, None without one."""
    text = form.slip.data or ""
    if not text:
        return None
    return int(text) if text.isascii() and text.isdigit() and len(text) < 10 else 0


def _refused(form: HoldForm, refusal: InputError) -> str:
    field, words = refusal.field, said_alone(refusal)
    if field == "until" or (field == "skeins" and not form.slip.data):
        form[field].errors = [words]
        return _form(form)
    return _form(form, [words])


def _form(form: HoldForm, form_errors: list[str] | None = None) -> str:
    lots: tuple[tuple[LotAtBranch, int], ...] = ()
    form.offer(known_branches())
    slip = _slip(form)
    if slip is not None:
        try:
            lots = lots_on_slip(_shop(form), slip)
        except InputError as refusal:
            refuse_page(404, refusal)
    return render_template(
        "hold_new.html", form=form, boxes=form.boxes(), lots=lots, form_errors=form_errors or []
    )


def _one(number: int, form: HoldChange, form_errors: list[str] | None = None) -> str:
    found = find_hold(shop(), number)
    if found is None:
        refuse_page(404, message("problem_page.no_hold", number=number))
    more: dict[str, Any] = {"may_change": found.state in (HoldState.HELD, HoldState.EXPIRED)}
    return render_template(
        "hold.html", hold=found, form=form, form_errors=form_errors or [], **more
    )
