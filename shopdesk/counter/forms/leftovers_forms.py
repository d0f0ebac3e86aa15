"""What came back, and a part-ball on the scale."""

from flask_wtf import FlaskForm
from wtforms import HiddenField

from shopdesk.counter.forms.fields import BoundedNumberField, NumberField, PickField, TextField
from shopdesk.services.leftovers import ReturnView


class ReturnForm(FlaskForm):
    """Unopened skeins of one lot of a slip."""

    key = HiddenField()
    lot = PickField("Colour / lot", [])
    skeins = BoundedNumberField("Unopened skeins", low=1, high=10_000, whole=True)
    staff = TextField("Staff", "Who does it; may be empty.")

    def offer(self, view: ReturnView) -> None:
        """Fills the list of lots; a value is the line's place on the slip."""
        self.lot.choices = [
            (str(place), f"{line.where.colour_code} / {line.where.lot or 'no lot'}")
            for place, line in enumerate(view.lines)
        ]


class ScaleForm(FlaskForm):
    """A part-ball; it changes nothing and is sent in the address."""

    class Meta:
        """Nothing is changed, so that no form token is needed."""

        csrf = False

    sku = TextField("Article number", "SKU of the part-ball’s yarn.")
    grams = NumberField("Weight in g", "Without the core.")
