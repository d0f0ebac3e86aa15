"""Finding yarns on the shelf: what is typed or scanned, and what the yarn must be."""

from decimal import Decimal

from flask_wtf import FlaskForm
from wtforms import BooleanField

from shopdesk.counter.forms.fields import NumberField, OfferedField, TextField
from shopdesk.craft.fibres import fibres
from shopdesk.craft.numerals import NumberRefused, read_number
from shopdesk.craft.weights import categories
from shopdesk.shelf.search import YarnQuery

_ANY = ("", "any")
_NAMES = {one.key: one.name for one in fibres()}


class ShelfFindingForm(FlaskForm):
    """Sent as an address, so that a list can be kept; nothing in it is about a customer."""

    class Meta:
        csrf = False

    q = TextField(
        "Name, article number or barcode",
        "Begin a word, or scan.",
        render_kw={"autocomplete": "off", "type": "search", "maxlength": 80},
    )
    gauge = NumberField("Stitches over 10 cm", "Give or take one.")
    category = OfferedField(
        "Weight", [_ANY, *((str(c.number), f"{c.number} {c.name}") for c in categories())]
    )
    fibre = OfferedField("Made of", [_ANY, *_NAMES.items()])
    price_to = NumberField("Price up to")
    machine = BooleanField("The band lets it into the machine")
    in_stock = BooleanField("In stock")
    retired = BooleanField("Retired ones too")

    def wish(self) -> YarnQuery | None:
        """Returns what is looked for, or None with messages beside the boxes that are wrong."""
        stitches, price = self._number(self.gauge, 100), self._number(self.price_to, 10_000)
        if self.gauge.errors or self.price_to.errors:
            return None
        gauge = float(stitches) if stitches is not None else None
        number = str(self.category.data or "")
        return YarnQuery(
            text=self.q.typed[:80],
            stitches_low=gauge - 1 if gauge is not None else None,
            stitches_high=gauge + 1 if gauge is not None else None,
            category=int(number) if number in {str(c.number) for c in categories()} else None,
            fibre=self.fibre.data if self.fibre.data in _NAMES else None,
            machine=bool(self.machine.data),
            price_to=price,
            in_stock=bool(self.in_stock.data),
            retired=bool(self.retired.data),
        )

    @staticmethod
    def _number(field: NumberField, most: int) -> Decimal | None:
        if not field.typed:
            return None
        right = f"write a number above 0 up to {most}"
        try:
            number = read_number(field.typed, right)
        except NumberRefused as refusal:
            field.errors = [f"{refusal.wrong}; {refusal.right}"]
            return None
        if not 0 < number <= most:
            field.errors = [f"{field.typed[:20]} cannot be; {right}"]
            return None
        return number
