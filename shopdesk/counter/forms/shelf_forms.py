"""Forms of the shelf's pages: finding, a yarn, its colours, its stock, what was measured on it."""

from datetime import date
from decimal import Decimal

from flask_wtf import FlaskForm
from wtforms import BooleanField, HiddenField, TextAreaField

from shopdesk.counter.forms.ask_fields import TOOL_SYSTEM, YARN_LENGTH
from shopdesk.counter.forms.fields import (
    NOT_OF_LIST,
    NumberField,
    OfferedField,
    OneOfField,
    PickField,
    TextField,
    check_length,
    choices_of,
    day_in,
    request_key,
)
from shopdesk.counter.refusals import refuse_box, said_alone
from shopdesk.counter.request import own_branch
from shopdesk.craft import lengths
from shopdesk.craft.care import axis_values
from shopdesk.craft.colours import colour_families
from shopdesk.craft.fibres import fibres
from shopdesk.craft.gauge import per_10cm
from shopdesk.craft.messages import Message, message
from shopdesk.craft.numerals import NumberRefused, read_number
from shopdesk.craft.quantity import MOST_SKEINS
from shopdesk.craft.thickness import wraps_per_inch
from shopdesk.craft.tools import ToolRefused, tool_mm
from shopdesk.craft.weights import categories
from shopdesk.craft.yarn import Construction, Craft, Measurement, MeasurementKind
from shopdesk.parsing.quantities import MASS_UNITS, Quantity, grams, metres, read_quantity
from shopdesk.services.labels import UnlabelledTexts
from shopdesk.services.stock_changes import StockChange
from shopdesk.services.yarn_changes import NewColour
from shopdesk.shelf.branch_lots import LotAtBranch
from shopdesk.shelf.search import YarnQuery

_ANY = ("", "any")


def _above_0(field: NumberField, most: int) -> Decimal | None:
    """Returns a number above 0, or None with a message at a wrong one."""
    right = message("problem_form.write_above_0", most=most)
    try:
        number = read_number(field.typed, right)
    except NumberRefused as refusal:
        field.errors = [said_alone(refusal)]
        return None
    if not 0 < number <= most:
        _refuse_value(field, right)
        return None
    return number


def _refuse_value(field: TextField, right: Message) -> None:
    refuse_box(field, message("problem_form.cannot_be", text=field.typed[:20]), right)


_NAMES = {one.key: one.name for one in fibres()}


class ShelfFindingForm(FlaskForm):
    """Sent as an address, so that a list can be kept; nothing in it is about a customer."""

    class Meta:
        csrf = False

    q = TextField(
        "Name, article number or barcode",
        "Begin a word, or scan.",
        render_kw={"autocomplete": "off", "type": "search", "maxlength": lengths.SEARCH},
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
            text=self.q.typed[: lengths.SEARCH],
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
        return _above_0(field, most) if field.typed else None


class UnlabelledForm(FlaskForm):
    """Sent as an address: nothing is kept, and nothing in it is about a customer."""

    class Meta:
        csrf = False

    length = TextField("Length measured off", "Such as 10 m, or 11 yd.")
    mass = TextField("Its mass", "Such as 4.4 g.")
    whole = TextField("Mass of all that is left", "Such as 63 g; may be empty.")
    wraps = TextField("Wraps per inch", "Each reading: 11, 12, 11.")
    fibres = TextField("Fibres", "If the customer knows: wool 80, nylon 20.")

    def typed(self) -> UnlabelledTexts:
        """Returns what was typed into each box."""
        names = ("length", "mass", "whole", "wraps", "fibres")
        return UnlabelledTexts(**{name: self[name].typed for name in names})


_UNSAID = ("", "not said")
_NO_YES = (("no", "no"), ("yes", "yes"))


def _care(axis: str, label: str) -> PickField:
    values = [(str(value), str(value)) for value in reversed(axis_values(axis))]
    return PickField(label, [_UNSAID, *values])


class YarnForm(FlaskForm):
    """Every box is named as its field in an import and read as strictly as a file's cells.

    `seen` tells what the page was made from.
    """

    seen = HiddenField()
    sku = TextField("Article number", "SKU; it cannot be changed later.")
    name = TextField("Name")
    gtin = TextField("Barcode", "8, 12, 13 or 14 digits; may be empty.")
    price = TextField("Price of one skein")
    weight_name = TextField("Weight name", "As on the band, such as DK.")
    put_up_printed = TextField("Put-up as printed", "Such as 50 g / 125 m.")
    put_up_g = TextField("Mass", "Such as 50, or 1.75 oz.")
    put_up_m = TextField("Length", "Such as 125, or 137 yd.")
    count_written = TextField("Yarn count", "Of a cone, such as 2/28.")
    count_system = TextField("Count’s system", "Such as Nm or worsted.")
    knit_stitches_low = NumberField("Stitches over 10 cm, from")
    knit_stitches_high = NumberField("to")
    knit_rows = NumberField("Rows over 10 cm")
    needle_mm_low = TextField("Needle in mm, from")
    needle_mm_high = TextField("to")
    crochet_stitches_low = NumberField("Crochet stitches over 10 cm, from")
    crochet_stitches_high = NumberField("to")
    crochet_rows = NumberField("Crochet rows over 10 cm")
    hook_mm_low = TextField("Hook in mm, from")
    hook_mm_high = TextField("to")
    plies = NumberField("Plies")
    construction = PickField("How it is made", [_UNSAID, *((c, c) for c in Construction)])
    fibres = TextField("Fibres", "With shares of 100: wool 75, polyamide 25.")
    attributes = TextField("Words about the fibre", "Such as superwash, merino.")
    wash_c = _care("wash_c", "Wash, at most °C")
    wash_action = _care("wash_action", "Way of washing")
    bleach = _care("bleach", "Bleach")
    tumble = _care("tumble", "Tumble drying")
    natural_drying = _care("natural_drying", "Drying in the air")
    iron_c = _care("iron_c", "Iron, at most °C")
    dry_clean = _care("dry_clean", "Dry cleaning")
    wet_clean = _care("wet_clean", "Wet cleaning")
    hand_dyed = PickField("Hand-dyed", _NO_YES)
    retired = PickField("Retired", _NO_YES, "A retired yarn is not offered any more.")
    notes = TextAreaField("Notes")

    def texts(self) -> dict[str, str]:
        """Returns what was typed, by the field's name."""
        return {
            name: str(field.data or "").strip()
            for name, field in self._fields.items()
            if name not in ("seen", "sku", "csrf_token")
        }


class ColourForm(FlaskForm):
    """Code, name and family of a colour, and its own barcode where it has one."""

    code = TextField("Colour’s code", "As on the band, such as 04.")
    colour_name = TextField("Colour’s name")
    family = PickField("Colour", choices_of(colour_families()))
    dark = BooleanField("Dark, or a colour that may bleed")
    gtin = TextField("Barcode", "May be empty.")

    def colour(self) -> NewColour:
        """Returns what was typed, for the shelf to check."""
        dark, family = bool(self.dark.data), str(self.family.data)
        return NewColour(self.code.typed, self.colour_name.typed, family, dark, self.gtin.typed)


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
            refuse_box(self.kind, NOT_OF_LIST.wrong, NOT_OF_LIST.right)
            return None
        made = read(on)
        return None if any(field.errors for field in self) else made

    def _by(self) -> str:
        check_length(self.by, lengths.STAFF)
        return self.by.typed

    def _wraps(self, on: date) -> Measurement:
        wraps, inches = self._above(self.wraps, 500), self._above(self.over_inches, 40)
        per_inch = wraps_per_inch(float(wraps), float(inches))
        return Measurement(MeasurementKind.WRAPS, on, self._by(), wraps_per_inch=per_inch)

    def _swatch(self, on: date) -> Measurement:
        stitches, over = self._above(self.stitches, 500), self._above(self.over_cm, 200)
        rows = self._above(self.rows, 500) if self.rows.typed else None
        return Measurement(
            MeasurementKind.SWATCH,
            on,
            self._by(),
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
            self._by(),
            length_m=metres(Quantity(length, unit)),
            mass_g=self._mass(),
        )

    def _day(self, today: date) -> date:
        return day_in(self.on) or today

    @staticmethod
    def _above(field: NumberField, most: int) -> Decimal:
        """Returns a number above 0; a wrong one gets its message and counts as 1."""
        found = _above_0(field, most)
        return Decimal(1) if found is None else found

    def _mass(self) -> float:
        right = message("problem_form.write_grams")
        try:
            found = grams(read_quantity(self.mass.typed, MASS_UNITS, "g"))
        except NumberRefused as refusal:
            refuse_box(self.mass, refusal.problem.wrong, right)
            return 1.0
        if not 0 < found <= 100_000:
            _refuse_value(self.mass, right)
            return 1.0
        return found

    def _tool(self) -> float | None:
        if not self.tool.typed:
            needle, size = message("problem_form.no_needle"), message("problem_form.write_needle")
            refuse_box(self.tool, needle, size)
            return None
        try:
            return tool_mm(self.tool.typed, str(self.tool_system.data or "mm"), Craft.KNIT)
        except (ToolRefused, NumberRefused) as refusal:
            self.tool.errors = [said_alone(refusal)]
            return None


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
            refuse_box(self.change, NOT_OF_LIST.wrong, NOT_OF_LIST.right)
        if skeins is None or self.change.errors:
            return None
        branch, colour = self.branch.data or own_branch(), str(self.colour.data or "")
        where = LotAtBranch(sku, colour, self.lot.typed or None, branch)
        staff, note = self.staff.typed, self.note.typed
        return StockChange(kind, where, skeins, staff, note, request_key(self.key))

    def _number(self) -> int | None:
        right = message("problem_form.write_whole")
        try:
            number = read_number(self.skeins.typed, right)
        except NumberRefused as refusal:
            self.skeins.errors = [said_alone(refusal)]
            return None
        if number != number.to_integral_value() or abs(number) > MOST_SKEINS:
            wrong = message("problem_form.no_skeins", text=self.skeins.typed[:20])
            refuse_box(self.skeins, wrong, right)
            return None
        return int(number)
