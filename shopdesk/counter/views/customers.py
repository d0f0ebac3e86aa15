"""What is kept about one customer: given out, or forgotten. Names travel in bodies only."""

import json

from flask import Blueprint, flash, redirect, render_template, request, url_for
from werkzeug.wrappers import Response

from shopdesk.counter.forms.person_form import PersonForm
from shopdesk.counter.request import engine
from shopdesk.services.privacy import Person, PersonNotSaid, forget_person, remembered
from shopdesk.shelf.writing import writing
from shopdesk.store.database import reading

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
    except PersonNotSaid as refusal:
        form.name.errors = [str(refusal).capitalize()]
        return render_template("customers.html", form=form, kept=None), 422
    if do == "forget":
        with writing(engine()) as session:
            gone = forget_person(session, wanted)
        flash(f"Forgotten in {gone.places} places.")
        return redirect(url_for("customers.customers"), 303)
    with reading(engine()) as session:
        kept = remembered(session, wanted)
    if do == "file":
        text = json.dumps(kept, indent=2, ensure_ascii=False)
        named = {"Content-Disposition": 'attachment; filename="kept.json"'}
        return Response(text, mimetype="application/json", headers=named)
    return render_template("customers.html", form=form, kept=kept)
