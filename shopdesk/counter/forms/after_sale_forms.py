"""What comes after the sale: a swatch as measured, wool that came back, one more skein."""

from decimal import Decimal
from typing import Any

from flask_wtf import FlaskForm
from wtforms import BooleanField, HiddenField

from shopdesk.answering.model.ask import StitchPattern
from shopdesk.answering.swatch.swatch_reading import SwatchEntry
from shopdesk.counter.forms.ask_fields import GAUGE_OVER, MASS, TOOL_SYSTEM, YES_NO
from shopdesk.counter.forms.fields import (
    BoundedNumberField,
    NumberField,
    OneOfField,
    PickField,
    TextField,
    check_length,
    choices_of,
)
from shopdesk.craft import lengths
from shopdesk.craft.fabric import pattern_fabric
from shopdesk.craft.yarn import Craft
from shopdesk.services.leftovers import ReturnView
from shopdesk.services.one_more import SkeinSought, skein_sought


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
    asked = BooleanField("We had asked how it came out")

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


class OneMoreForm(FlaskForm):
    """`find` takes what is at hand: a slip's number, a scanned barcode or an article number."""

    class Meta:
        """It changes nothing and holds nothing about anybody, so it is sent in the address."""

        csrf = False

    find = TextField("Slip number, barcode or article number", render_kw={"autocomplete": "off"})
    colour = TextField("Colour’s code", "With an article number.")
    lot = TextField("Dye lot", "As on the band.")

    def sought(self, slip_branch: str) -> SkeinSought:
        """Returns what is looked for; a slip is one of `slip_branch`."""
        return skein_sought(self.find.typed, self.colour.typed, self.lot.typed, slip_branch)
