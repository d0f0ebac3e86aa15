"""Changing the stock of one lot, as a form of a yarn's page."""

from flask_wtf import FlaskForm
from wtforms import HiddenField

from shopdesk.counter.forms.fields import (
    NumberField,
    OneOfField,
    PickField,
    TextField,
    request_key,
)
from shopdesk.counter.request import own_branch
from shopdesk.craft.numerals import NumberRefused, read_number
from shopdesk.services.stock_changes import StockChange
from shopdesk.shelf.branch_lots import LotAtBranch

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

    def stock_change(self, sku: str) -> StockChange | None:
        """Returns the change of a yarn's stock, or None with a message at each wrong box."""
        skeins, kind = self._number(), str(self.change.data)
        if kind not in dict(CHANGES):
            self.change.errors = ["This is not one of the list; pick one of it"]
        if skeins is None or self.change.errors:
            return None
        branch, colour = self.branch.data or own_branch(), str(self.colour.data or "")
        where = LotAtBranch(sku, colour, self.lot.typed or None, branch)
        staff, note = self.staff.typed, self.note.typed
        return StockChange(kind, where, skeins, staff, note, request_key(self.key))

    def _number(self) -> int | None:
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
