"""What a swatch measured, as a form: its only way out is a SwatchEntry."""

from decimal import Decimal
from typing import Any

from flask_wtf import FlaskForm
from wtforms import BooleanField, HiddenField

from shopdesk.answering.model.ask import StitchPattern
from shopdesk.answering.swatch.swatch_reading import SwatchEntry
from shopdesk.counter.forms.fields import (
    BoundedNumberField,
    NumberField,
    OneOfField,
    PickField,
    TextField,
    check_length,
    choices_of,
)
from shopdesk.counter.forms.units import GAUGE_OVER, MASS, TOOL_SYSTEM, YES_NO
from shopdesk.craft import lengths
from shopdesk.craft.fabric import pattern_fabric
from shopdesk.craft.yarn import Craft


class SwatchForm(FlaskForm):
    """Everything but the stitches may stay empty; `key` tells this form from every other."""

    key = HiddenField()
    stitches = NumberField("Stitches", "Such as 20 or 10½.")
    over = NumberField("Counted over", default="10")
    over_unit = PickField("Unit of the stitches' length", GAUGE_OVER, default="cm")
    rows = NumberField("Rows", "Such as 27.")
    rows_over = NumberField("Rows counted over", "Only where it is another length.")
    rows_over_unit = PickField("Unit of the rows' length", GAUGE_OVER, default="cm")
    washed = OneOfField("Washed and dried as the item will be", YES_NO, default="")
    tool = TextField("Needle or hook")
    tool_system = PickField("System of the needle or hook", TOOL_SYSTEM, default="mm")
    stitch_pattern = PickField("Stitch pattern", choices_of(StitchPattern))
    width = NumberField("Width")
    width_unit = PickField("Unit of the swatch's width", GAUGE_OVER, default="cm")
    height = NumberField("Height")
    height_unit = PickField("Unit of the swatch's height", GAUGE_OVER, default="cm")
    mass = NumberField("Weight")
    mass_unit = PickField("Unit of the swatch's weight", MASS, default="g")
    hand = TextField("Knitter", "Only if wanted; tells one hand from another.")
    staff = TextField("Your initials")
    from_shop = BooleanField("Staff made it, not the customer")

    def boxes(self) -> list[Any]:
        """Returns every field that may hold a message."""
        return [field for field in self if field.name not in ("csrf_token", "key")]

    def entry(self) -> SwatchEntry:
        """Returns what was typed, each length and weight with its unit."""
        return SwatchEntry(
            stitches=self.stitches.typed,
            over=_with_unit(self.over, self.over_unit),
            rows=self.rows.typed,
            rows_over=_with_unit(self.rows_over, self.rows_over_unit),
            washed=str(self.washed.data or ""),
            tool=self.tool.typed,
            tool_system=str(self.tool_system.data or ""),
            width=_with_unit(self.width, self.width_unit),
            height=_with_unit(self.height, self.height_unit),
            mass=_with_unit(self.mass, self.mass_unit),
            hand=self.hand.typed,
            stitch_pattern=str(self.stitch_pattern.data or ""),
        )

    def offer(self, craft: Craft, usual: StitchPattern) -> None:
        """Offers the craft's stitch patterns, the usual one first unless another is chosen."""
        fitting = [each for each in StitchPattern if pattern_fabric(each).is_of(craft)]
        self.stitch_pattern.choices = choices_of(fitting)
        self.stitch_pattern.data = self.stitch_pattern.data or usual.value

    def staff_read(self) -> str:
        """Returns the initials; puts a message to them where they are too long."""
        check_length(self.staff, lengths.INITIALS)
        return self.staff.typed


class SwatchFindForm(FlaskForm):
    """Which slip or yarn the swatch is of."""

    class Meta:
        """It changes nothing and holds nothing about anybody, so it is sent in the address."""

        csrf = False

    slip = BoundedNumberField(
        "Slip", "The number at its top.", low=1, high=10**9, whole=True, empty_is=Decimal(0)
    )
    yarn = TextField("or yarn", "Its article number, for a swatch without a slip.")
    craft = OneOfField("Craft", choices_of(Craft), default=Craft.KNIT.value)


def _with_unit(number: NumberField, unit: PickField) -> str:
    return f"{number.typed} {unit.data or ''}".strip() if number.typed else ""
