"""Finding slips by number, day or customer's name, which never stands in an address."""

from collections.abc import Sequence
from datetime import date
from decimal import Decimal

from flask_wtf import FlaskForm

from shopdesk.counter.forms.fields import (
    BoundedNumberField,
    PickField,
    TextField,
    check_length,
    day_in,
)
from shopdesk.counter.refusals import refuse_box
from shopdesk.craft import lengths
from shopdesk.craft.messages import message
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
        return day_in(self.day)

    def check(self) -> bool:
        """Reads every box; returns whether something is asked and all of it can be."""
        self.validate()
        self.day_read()
        check_length(self.name, lengths.CUSTOMER_IN_BOX)
        if not (self.number.typed or self.day.typed or self.name.typed):
            nothing = message("problem_reading.nothing")
            refuse_box(self.number, nothing, message("problem_form.write_finding"))
        return not any(field.errors for field in (self.number, self.day, self.name))
