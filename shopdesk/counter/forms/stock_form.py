"""Changing the stock of one lot, as a form of a yarn's page."""

from flask_wtf import FlaskForm
from wtforms import HiddenField

from shopdesk.counter.forms.fields import NumberField, OneOfField, PickField, TextField
from shopdesk.craft.numerals import NumberRefused, read_number

CHANGES = (
    ("receive", "Received"),
    ("count", "Counted: so many are there"),
    ("sell", "Sold"),
    ("correct", "Corrected by, such as -2"),
)


class StockForm(FlaskForm):
    """One change of stock; `key` is the form's random word."""

    key = HiddenField()
    change = OneOfField("What happened", CHANGES, default="receive")
    colour = PickField("Colour", [])
    lot = TextField("Dye lot", "Empty for a yarn without lots.")
    branch = PickField("Branch", [])
    skeins = NumberField("Skeins")
    staff = TextField("Staff", "Who does it; may be empty.")
    note = TextField("Note", "A correction needs its reason.")

    def number(self) -> int | None:
        """Returns the skeins, or None with a message at the box."""
        right = "write a whole number"
        try:
            number = read_number(self.skeins.typed, right)
        except NumberRefused as refusal:
            self.skeins.errors = [f"{refusal.wrong}; {refusal.right}"]
            return None
        if number != number.to_integral_value() or abs(number) > 1_000_000:
            self.skeins.errors = [f"{self.skeins.typed[:20]} is no number of skeins; {right}"]
            return None
        return int(number)
