"""Changing the stock of one lot, and noting what was measured, as forms of a yarn's page."""

from datetime import date
from decimal import Decimal

from flask_wtf import FlaskForm
from wtforms import HiddenField

from shopdesk.counter.forms.fields import (
    NumberField,
    OneOfField,
    PickField,
    TextField,
    request_key,
)
from shopdesk.counter.forms.units import TOOL_SYSTEM, YARN_LENGTH
from shopdesk.counter.request import own_branch
from shopdesk.craft.gauge import per_10cm
from shopdesk.craft.numerals import NumberRefused, read_number
from shopdesk.craft.tools import ToolRefused, tool_mm
from shopdesk.craft.yarn import Craft, Measurement, MeasurementKind
from shopdesk.parsing.quantities import MASS_UNITS, Quantity, grams, metres, read_quantity
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


KINDS = (("wraps", "Wraps"), ("swatch", "A swatch"), ("length", "A weighed length"))


class MeasureForm(FlaskForm):
    """What the shop measured on a yarn: the boxes of one kind, the others are left alone."""

    kind = OneOfField("What was measured", KINDS, default="wraps")
    on = TextField("Day", render_kw={"type": "date"})
    by = TextField("Who measured", "May be empty.")
    wraps = NumberField("Wraps")
    over_inches = NumberField("Over how many inches", default="1")
    stitches = NumberField("Stitches counted")
    rows = NumberField("Rows counted", "May be empty.")
    over_cm = NumberField("Over how many cm", default="10")
    tool = TextField("Needle")
    tool_system = PickField("Needle’s system", TOOL_SYSTEM)
    washed = PickField("Washed before counting", (("yes", "yes"), ("no", "no")))
    length = NumberField("Length")
    length_unit = PickField("Length’s unit", YARN_LENGTH)
    mass = TextField("Its mass in grams", "Such as 4.4.")

    def measurement(self, today: date) -> Measurement | None:
        """Returns the measurement, or None with a message at each wrong box."""
        on, kind = self._day(today), str(self.kind.data)
        read = {"wraps": self._wraps, "swatch": self._swatch, "length": self._length}.get(kind)
        if read is None:
            self.kind.errors = ["This is not one of the list; pick one of it"]
            return None
        made = read(on or today)
        return None if any(field.errors for field in self) else made

    def _wraps(self, on: date) -> Measurement:
        wraps, inches = self._above(self.wraps, 500), self._above(self.over_inches, 40)
        per_inch = float(wraps / inches)
        return Measurement(MeasurementKind.WRAPS, on, self.by.typed[:60], wraps_per_inch=per_inch)

    def _swatch(self, on: date) -> Measurement:
        stitches, over = self._above(self.stitches, 500), self._above(self.over_cm, 200)
        rows = self._above(self.rows, 500) if self.rows.typed else None
        return Measurement(
            MeasurementKind.SWATCH,
            on,
            self.by.typed[:60],
            stitches=per_10cm(float(stitches), float(over) * 10),
            rows=per_10cm(float(rows), float(over) * 10) if rows else None,
            tool_mm=self._tool(),
            washed=self.washed.data == "yes",
            craft=Craft.KNIT,
        )

    def _length(self, on: date) -> Measurement:
        length = self._above(self.length, 100_000)
        unit = self.length_unit.data if self.length_unit.data in ("m", "yd", "ft") else "m"
        return Measurement(
            MeasurementKind.LENGTH,
            on,
            self.by.typed[:60],
            length_m=metres(Quantity(length, unit)),
            mass_g=self._mass(),
        )

    def _day(self, today: date) -> date | None:
        if not self.on.typed:
            return today
        try:
            day = date.fromisoformat(self.on.typed)
        except ValueError:
            self.on.errors = ["This is not a day; write it as 2026-11-25"]
            return None
        if day > today:
            self.on.errors = ["This day is still to come; write the day of the measurement"]
        return day

    @staticmethod
    def _above(field: NumberField, most: int) -> Decimal:
        """Returns a number above 0; a wrong one gets its message and counts as 1."""
        right = f"write a number above 0 up to {most}"
        try:
            number = read_number(field.typed, right)
        except NumberRefused as refusal:
            field.errors = [f"{refusal.wrong}; {refusal.right}"]
            return Decimal(1)
        if not 0 < number <= most:
            field.errors = [f"{field.typed[:20]} cannot be; {right}"]
            return Decimal(1)
        return number

    def _mass(self) -> float:
        right = "write grams above 0, such as 4.4"
        try:
            found = grams(read_quantity(self.mass.typed, MASS_UNITS, "g"))
        except NumberRefused as refusal:
            self.mass.errors = [f"{refusal.wrong}; {right}"]
            return 1.0
        if not 0 < found <= 100_000:
            self.mass.errors = [f"{self.mass.typed[:20]} cannot be; {right}"]
            return 1.0
        return found

    def _tool(self) -> float | None:
        if not self.tool.typed:
            self.tool.errors = ["A swatch needs its needle; write its size, such as 4"]
            return None
        try:
            return tool_mm(self.tool.typed, str(self.tool_system.data or "mm"), Craft.KNIT)
        except (ToolRefused, NumberRefused) as refusal:
            self.tool.errors = [f"{refusal.wrong}; {refusal.right}"]
            return None
