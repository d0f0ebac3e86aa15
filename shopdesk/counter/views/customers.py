"""What is kept about one customer: given out, or forgotten. Names travel in bodies only."""

import json

from flask import Blueprint, flash, redirect, render_template, request, url_for
from werkzeug.wrappers import Response

from shopdesk.counter.forms.hold_forms import PersonForm
from shopdesk.counter.refusals import said_alone
from shopdesk.counter.request import shop
from shopdesk.craft.errors import InputError
from shopdesk.services.privacy import Person, customer_record, forget_customer

pages = Blueprint("customers", __name__)


@pages.get("/customers")
def customers() -> str:
    """Shows the form."""
    return render_template("customers.html", form=PersonForm(formdata=None), kept=None)


@pages.post("/customers")
def person() -> Response | str | tuple[str, int]:
    """Shows all that is kept about the customer, gives it as a file, or forgets it."""
    form, do = PersonForm(), request.form.get("do", "show")
    try:
        wanted = Person(form.name.typed, form.phone.typed)
    except InputError as refusal:
        form.name.errors = [said_alone(refusal)]
        return render_template("customers.html", form=form, kept=None), 422
    if do == "forget":
        gone = forget_customer(shop(), wanted)
        flash(f"Forgotten in {gone.places} places.")
        return redirect(url_for("customers.customers"), 303)
    kept = customer_record(shop(), wanted)
    if do == "file":
        text = json.dumps(kept, indent=2, ensure_ascii=False)
        named = {"Content-Disposition": 'attachment; filename="kept.json"'}
        return Response(text, mimetype="application/json", headers=named)
    return render_template("customers.html", form=form, kept=kept)
