"""What is kept about one customer: given out, or forgotten. Names travel in bodies only."""

import json
from typing import Any

from flask import Blueprint, flash, redirect, render_template, request, url_for
from werkzeug.wrappers import Response

from shopdesk.counter.forms.hold_forms import PersonForm
from shopdesk.counter.refusals import said_alone, show_problems
from shopdesk.counter.request import shop
from shopdesk.craft.errors import InputError
from shopdesk.services.hands import keep_hand
from shopdesk.services.privacy import Person, customer_record, forget_customer

pages = Blueprint("customers", __name__)


@pages.get("/customers")
def customers() -> str:
    """Shows the form."""
    return _page(PersonForm(formdata=None))


@pages.post("/customers")
def person() -> Response | str | tuple[str, int]:
    """Shows all that is kept about the customer, gives it as a file, keeps a hand, or forgets."""
    form, do = PersonForm(), request.form.get("do", "show")
    try:
        wanted = Person(form.name.typed, form.phone.typed)
    except InputError as refusal:
        form.name.errors = [said_alone(refusal)]
        return _page(form), 422
    if do == "hand":
        return _hand(form, wanted)
    if do == "forget":
        gone = forget_customer(shop(), wanted)
        flash(f"Forgotten in {gone.places} places.")
        return redirect(url_for("customers.customers"), 303)
    kept = customer_record(shop(), wanted)
    if do == "file":
        text = json.dumps(kept, indent=2, ensure_ascii=False)
        named = {"Content-Disposition": 'attachment; filename="kept.json"'}
        return Response(text, mimetype="application/json", headers=named)
    return _page(form, kept)


def _hand(form: PersonForm, wanted: Person) -> Response | tuple[str, int]:
    """Keeps the hand and says so, or shows what is wrong beside its box."""
    try:
        keep_hand(shop(), form.note(wanted))
    except InputError as refusal:
        show_problems(form, refusal.problems)
        return _page(form), 422
    flash("The hand is kept.")
    return redirect(url_for("customers.customers"), 303)


def _page(form: PersonForm, kept: dict[str, Any] | None = None) -> str:
    return render_template("customers.html", form=form, boxes=form.boxes(), kept=kept)
