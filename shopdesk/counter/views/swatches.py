"""Swatches that came back: what was measured, and what it changes."""

from typing import Any

from flask import Blueprint, redirect, render_template, request, url_for
from flask_wtf.csrf import CSRFError
from werkzeug.wrappers import Response

from shopdesk.counter.errors import STALE_PAGE
from shopdesk.counter.evidence import swatch_figures
from shopdesk.counter.forms.after_sale_forms import SwatchFindForm, SwatchForm
from shopdesk.counter.refusals import (
    problem_sentence,
    refuse_page,
    said_alone,
    show_problems,
)
from shopdesk.counter.request import asked_branch, shop
from shopdesk.craft import lengths
from shopdesk.craft.errors import InputError
from shopdesk.craft.messages import message
from shopdesk.craft.yarn import Craft
from shopdesk.services.asks import new_request_key
from shopdesk.services.swatches import (
    SwatchOf,
    SwatchReport,
    SwatchSubject,
    find_subject,
    find_swatch,
    report_swatch,
)
from shopdesk.shop.shop import Shop

pages = Blueprint("swatches", __name__)


@pages.get("/swatches")
def start() -> Response | str | tuple[str, int]:
    """Asks which slip or yarn a swatch is of, and leads to its form."""
    form = SwatchFindForm(formdata=request.args)
    if not (form.slip.typed or form.yarn.typed):
        return _start(form)
    form.validate()
    slip = int(form.slip.number or 0)
    wanted = {"slip": slip} if slip else {"sku": form.yarn.typed, "craft": form.craft.data}
    try:
        if not form.slip.errors:
            find_subject(_slips_shop(), _swatch_of(**wanted))
    except InputError as refusal:
        box = form.slip if slip else form.yarn
        box.errors = [problem_sentence(problem) for problem in refusal.problems]
    if form.slip.errors or form.yarn.errors:
        return _start(form), 422
    return redirect(url_for("swatches.new", **wanted), 303)


@pages.get("/swatches/new")
def new() -> str:
    """Shows the form for a swatch of a slip (?slip=) or of a yarn (?sku=&craft=)."""
    form = SwatchForm(formdata=None)
    form.key.data = new_request_key()
    return _form(form)


@pages.post("/swatches/new")
def keep() -> Response | tuple[str, int]:
    """Keeps the swatch and leads to what it says, or shows what is wrong with what was typed."""
    form = SwatchForm()
    staff = form.staff_read()
    report = SwatchReport(
        _asked(),
        form.entry(),
        staff,
        from_customer=not form.from_shop.data,
        keep=not form.staff.errors,
        request_key=str(form.key.data or "")[: lengths.REQUEST_KEY] or None,
        asked_for=bool(form.asked.data),
    )
    try:
        number = report_swatch(_slips_shop(), report).number
    except InputError as refusal:
        return _form(form, show_problems(form, refusal.problems)), 422
    if form.staff.errors:
        return _form(form), 422
    if number is None:
        return redirect(url_for("swatches.start"), 303)
    return redirect(url_for("swatches.swatch", number=number), 303)


@pages.errorhandler(CSRFError)
def _stale(error: CSRFError) -> tuple[str, int]:
    """Shows what was typed once more, with a form token that is good again."""
    return _form(SwatchForm(), [said_alone(STALE_PAGE)]), 400


@pages.get("/swatches/<int:number>")
def swatch(number: int) -> str:
    """Shows what a kept swatch says."""
    record = find_swatch(shop(), number)
    if record is None:
        refuse_page(404, message("problem_page.no_swatch", number=number))
    return render_template(
        "swatch.html",
        record=record,
        result=record.result,
        figures=swatch_figures(record),
        short=any(part.said.code == "swatch.more_skeins" for part in record.result.parts),
    )


def _slips_shop() -> Shop:
    """Returns the shop as asked from the branch of the slip."""
    return shop().in_branch(asked_branch())


def _swatch_of(slip: int = 0, sku: str = "", craft: str | None = None) -> SwatchOf:
    if slip:
        return SwatchOf(slip)
    known = Craft.CROCHET if craft == Craft.CROCHET.value else Craft.KNIT
    return SwatchOf(sku=sku[: lengths.SKU], craft=known)


def _asked() -> SwatchOf:
    """Returns what the address names."""
    slip = request.args.get("slip", 0, type=int)
    return _swatch_of(max(slip, 0), request.args.get("sku", ""), request.args.get("craft"))


def _subject() -> SwatchSubject:
    """Returns what the address names; ends the request with 404 where it is not there."""
    try:
        return find_subject(_slips_shop(), _asked())
    except InputError as refusal:
        refuse_page(404, refusal)


def _start(form: SwatchFindForm) -> str:
    return render_template("swatches.html", form=form, boxes=[form.slip, form.yarn])


def _form(form: SwatchForm, form_errors: list[str] | None = None) -> str:
    subject = _subject()
    form.offer(subject.craft, subject.usual_pattern)
    more: dict[str, Any] = {"form_errors": form_errors or [], "boxes": form.boxes()}
    return render_template("swatch_new.html", form=form, subject=subject, asked=_address(), **more)


def _address() -> dict[str, str]:
    return {
        name: request.args[name]
        for name in ("slip", "sku", "craft", "branch")
        if name in request.args
    }
