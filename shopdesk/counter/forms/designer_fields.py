"""The yarn that the pattern was designed in, as far as the pattern names it."""

from wtforms import FieldList, Form, FormField

from shopdesk.counter.forms.binding import Binding, Way, follows, quantity
from shopdesk.counter.forms.fields import NumberField, PickField, TextField, choices_of
from shopdesk.counter.forms.units import (
    GAUGE_OVER,
    MASS,
    NOT_SAID,
    TOOL_SYSTEM,
    YARN_LENGTH,
)
from shopdesk.craft.messages import message
from shopdesk.craft.yarn import Construction

FIRST_FIBRES = 2
MOST_FIBRES = 12


class FibreFields(Form):
    """One line of the blend."""

    percent = NumberField("Percent")
    fibre = TextField("Fibre", render_kw={"autocomplete": "off", "list": "fibre-names"})


class DesignerFields(Form):
    """Everything here may stay empty."""

    weight = TextField(
        "Weight name or number",
        "Such as DK, 8-ply or 3; two with a comma.",
        render_kw={"autocomplete": "off", "list": "weight-names"},
    )
    ball_mass = NumberField("One ball weighs")
    ball_mass_unit = PickField("Unit of the ball's weight", MASS, default="g")
    ball_length = NumberField("One ball holds")
    ball_length_unit = PickField("Unit of the ball's length", YARN_LENGTH, default="m")
    strands = PickField(
        "Strands held together",
        [("1", "one"), ("2", "two"), ("3", "three"), ("4", "four")],
        default="1",
    )
    band_stitches = NumberField("Band gauge, stitches", "The lower number of a range.")
    band_stitches_high = NumberField("up to", "Only if the band gives a range.")
    band_rows = NumberField("Band gauge, rows")
    band_over = NumberField("Counted over", default="10")
    band_over_unit = PickField("Unit of the band gauge's length", GAUGE_OVER, default="cm")
    band_tool = TextField("Needle or hook on the band")
    band_tool_system = PickField("System of the band's needle or hook", TOOL_SYSTEM, default="mm")
    wraps = NumberField("Wraps per inch")
    count = TextField("Yarn count", "For a cone: such as 2/28.")
    count_system = TextField(
        "Count system",
        "Needed with a count: such as Nm, Ne or tex.",
        render_kw={"autocomplete": "off", "list": "count-systems"},
    )
    attributes = TextField("Said of the fibre", "Such as superwash, merino.")
    construction = PickField("Construction", [NOT_SAID, *choices_of(Construction)], default="")
    fibres = FieldList(FormField(FibreFields), min_entries=FIRST_FIBRES, max_entries=MOST_FIBRES)


_AT = "designer_yarn"
DESIGNER_BINDINGS: tuple[Binding, ...] = (
    Binding((_AT, "weight"), "weight", Way.NAMES, right=message("problem_form.give_weight")),
    *quantity((_AT, "put_up", "mass"), "ball_mass", right=message("problem_form.give_ball_mass")),
    *quantity(
        (_AT, "put_up", "length"), "ball_length", right=message("problem_form.give_ball_length")
    ),
    Binding((_AT, "strands"), "strands", usual="1"),
    Binding((_AT, "gauge", "stitches"), "band_stitches"),
    Binding((_AT, "gauge", "stitches_high"), "band_stitches_high"),
    Binding((_AT, "gauge", "rows"), "band_rows"),
    follows((_AT, "gauge", "over", "value"), "band_over", up=2),
    follows((_AT, "gauge", "over", "unit"), "band_over_unit", up=2),
    Binding((_AT, "gauge", "tool", "size"), "band_tool"),
    follows((_AT, "gauge", "tool", "system"), "band_tool_system"),
    Binding((_AT, "wraps_per_inch"), "wraps"),
    Binding((_AT, "count", "written"), "count"),
    Binding((_AT, "count", "system"), "count_system"),
    Binding((_AT, "attributes"), "attributes", Way.NAMES),
    Binding((_AT, "construction"), "construction"),
)


def fibre_bindings(place: int, entry: str) -> tuple[Binding, ...]:
    """Returns the bindings of one blend line: `entry` of the form, `place` in the ask."""
    return (
        Binding(
            (_AT, "fibres", place, "percent"),
            f"{entry}-percent",
            right=message("problem_form.give_share"),
        ),
        Binding(
            (_AT, "fibres", place, "fibre"),
            f"{entry}-fibre",
            right=message("problem_form.give_fibre"),
        ),
    )
