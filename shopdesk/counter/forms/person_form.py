"""Whose data is meant, as a form."""

from flask_wtf import FlaskForm

from shopdesk.counter.forms.fields import TextField


class PersonForm(FlaskForm):
    """A whole name, a whole number, or both; sent in the body only."""

    name = TextField("Customer’s whole name")
    phone = TextField("Whole telephone number", render_kw={"type": "tel", "autocomplete": "off"})
