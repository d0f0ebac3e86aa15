"""Swatches that came back: what was measured, and what it changes."""

from datetime import datetime
from typing import Any

from flask import Blueprint, abort, redirect, render_template, request, url_for
from flask_wtf.csrf import CSRFError
from sqlalchemy.orm import Session
from werkzeug.wrappers import Response

from shopdesk.answering.swatch.swatch_reading import read_swatch
from shopdesk.counter.errors import STALE_PAGE
from shopdesk.counter.evidence import swatch_figures
from shopdesk.counter.forms.form_problems import show_problems
from shopdesk.counter.forms.swatch_form import SwatchFindForm, SwatchForm
from shopdesk.counter.request import asked_branch, engine
from shopdesk.craft.errors import InputError
from shopdesk.craft.yarn import Craft
from shopdesk.services.asks import new_request_key
from shopdesk.services.sales import SlipUnknown
from shopdesk.services.swatches import (
    SwatchedYarnUnknown,
    SwatchEvent,
    SwatchSubject,
    keep_swatch,
    kept_swatch,
    subject_of_slip,
    subject_of_yarn,
    swatches_of_slip,
)
from shopdesk.shelf.writing import writing
from shopdesk.store.database import reading

pages = Blueprint("swatches", __name__)

LARGEST_KEY = 2**31
LONGEST_KEY = 64
LONGEST_SKU = 40


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
            with reading(engine()) as session:
                _subject(session, **wanted)
    except (SlipUnknown, SwatchedYarnUnknown) as refusal:
        box = form.slip if isinstance(refusal, SlipUnknown) else form.yarn
        message = f"{refusal.wrong}; {refusal.right}"
        box.errors = [message[:1].upper() + message[1:]]
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
    form, subject = SwatchForm(), _asked_subject()
    staff = form.staff_read()
    try:
        measured = read_swatch(form.entry(), subject.craft, subject.usual_pattern)
    except InputError as refusal:
        return _form(form, show_problems(form, refusal.problems)), 422
    if form.staff.errors:
        return _form(form), 422
    key = str(form.key.data or "")[:LONGEST_KEY] or None
    today = datetime.now().astimezone().date()
    event = SwatchEvent(measured, today, staff, not form.from_shop.data, key)
    with writing(engine()) as session:
        number = keep_swatch(session, subject, event) or _latest(session, subject)
    if number is None:
        return redirect(url_for("swatches.start"), 303)
    return redirect(url_for("swatches.swatch", number=number), 303)


@pages.errorhandler(CSRFError)
def _stale(error: CSRFError) -> tuple[str, int]:
    """Shows what was typed once more, with a form token that is good again."""
    return _form(SwatchForm(), [STALE_PAGE]), 400


@pages.get("/swatches/<int:number>")
def swatch(number: int) -> str:
    """Shows what a kept swatch says."""
    with reading(engine()) as session:
        record = kept_swatch(session, number) if number < LARGEST_KEY else None
    if record is None:
        abort(404, f"There is no swatch {number}.")
    return render_template(
        "swatch.html",
        record=record,
        result=record.result,
        figures=swatch_figures(record),
        short=any(part.said.code == "swatch.more_skeins" for part in record.result.parts),
    )


def _latest(session: Session, subject: SwatchSubject) -> int | None:
    """The slip's last swatch, for a form that was sent twice."""
    if subject.slip_number is None:
        return None
    found = swatches_of_slip(session, subject.slip_number, subject.branch)
    return found[0].number if found else None


def _subject(
    session: Session, slip: int = 0, sku: str = "", craft: str | None = None
) -> SwatchSubject:
    if slip:
        if slip >= LARGEST_KEY:
            raise SlipUnknown(slip)
        return subject_of_slip(session, slip, asked_branch())
    known = Craft.CROCHET if craft == Craft.CROCHET.value else Craft.KNIT
    return subject_of_yarn(session, sku[:LONGEST_SKU], known)


def _asked_subject() -> SwatchSubject:
    """Returns what the address names; ends the request with 404 where it is not there."""
    slip = request.args.get("slip", 0, type=int)
    sku, craft = request.args.get("sku", ""), request.args.get("craft")
    try:
        with reading(engine()) as session:
            return _subject(session, max(slip, 0), sku, craft)
    except (SlipUnknown, SwatchedYarnUnknown) as refusal:
        abort(404, str(refusal))


def _start(form: SwatchFindForm) -> str:
    return render_template("swatches.html", form=form, boxes=[form.slip, form.yarn])


def _form(form: SwatchForm, homeless: list[str] | None = None) -> str:
    subject = _asked_subject()
    form.offer(subject.craft, subject.usual_pattern)
    more: dict[str, Any] = {"homeless": homeless or [], "boxes": form.boxes()}
    return render_template("swatch_new.html", form=form, subject=subject, asked=_address(), **more)


def _address() -> dict[str, str]:
    return {
        name: request.args[name]
        for name in ("slip", "sku", "craft", "branch")
        if name in request.args
    }
