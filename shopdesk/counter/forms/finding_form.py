"""Finding slips by number, day or customer's name, which never stands in an address."""

from collections.abc import Sequence
from datetime import date
from decimal import Decimal

from flask_wtf import FlaskForm

from shopdesk.counter.forms.fields import BoundedNumberField, PickField, TextField
from shopdesk.craft import lengths
from shopdesk.services.branches import BranchName


class FindingForm(FlaskForm):
    """Any of the three; a number alone leads to its slip."""

    number = BoundedNumberField("Number", low=1, high=10**9, whole=True, empty_is=Decimal(0))
    day = TextField("Day", "Such as 2026-11-25.", render_kw={"type": "date"})
    name = TextField("Customer’s name", "Or a part of it.")
    branch = PickField("Of branch", [])

    def offer(self, branches: Sequence[BranchName]) -> None:
        """Fills the list of branches."""
        self.branch.choices = [(one.code, one.shown) for one in branches]

    def codes(self) -> list[str]:
        """Returns the codes of the branches on offer."""
        return [code for code, *_ in self.branch.iter_choices()]

    def day_read(self) -> date | None:
        """Returns the day, or None if none is written; puts a message to a wrong one."""
        if not self.day.typed:
            return None
        try:
            return date.fromisoformat(self.day.typed)
        except ValueError:
            self.day.errors = ["This is not a day; write it as 2026-11-25"]
            return None

    def check(self) -> bool:
        """Reads every box; returns whether something is asked and all of it can be."""
        self.validate()
        self.day_read()
        if len(self.name.typed) > lengths.CUSTOMER_IN_BOX:
            self.name.errors = [
                f"This is too long; write {lengths.CUSTOMER_IN_BOX} letters at most"
            ]
        if not (self.number.typed or self.day.typed or self.name.typed):
            self.number.errors = ["Nothing is written here; write a number, a day or a name"]
        return not any(field.errors for field in (self.number, self.day, self.name))
