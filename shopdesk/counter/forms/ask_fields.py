"""What the pattern says of fabric, item and yarn, and what the customer says: the ask's boxes."""

from wtforms import BooleanField, FieldList, Form, FormField

from shopdesk.answering.model.ask import (
    MEASURES,
    OTHER_ITEM,
    STOCKINETTE,
    Drying,
    Feature,
    ItemKind,
    StitchPattern,
    Washing,
    Wearer,
)
from shopdesk.counter.forms.binding import Binding, Way, follows, quantity
from shopdesk.counter.forms.fields import (
    Choices,
    NumberField,
    OneOfField,
    PickField,
    SomeOfField,
    TextField,
    choices_of,
)
from shopdesk.craft.colours import colour_families
from shopdesk.craft.messages import message
from shopdesk.craft.yarn import Construction, Craft

GAUGE_OVER: Choices = (("cm", "cm"), ("in", "inches"), ("mm", "mm"))
ITEM_LENGTH: Choices = (("cm", "cm"), ("in", "inches"), ("m", "m"), ("mm", "mm"), ("ft", "feet"),
                        ("yd", "yards"))  # fmt: skip
YARN_LENGTH: Choices = (("m", "metres"), ("yd", "yards"), ("ft", "feet"))
MASS: Choices = (("g", "grams"), ("oz", "ounces"), ("kg", "kg"), ("lb", "pounds"))
HAND_WAY: Choices = (("tighter", "% tighter"), ("looser", "% looser"))
TOOL_SYSTEM: Choices = (("mm", "mm"), ("US", "US"), ("UK", "old UK"), ("JP", "Japanese"))
AMOUNT: Choices = (
    ("", "not given"),
    ("balls", "balls or skeins"),
    ("m", "metres"),
    ("yd", "yards"),
    ("g", "grams"),
    ("oz", "ounces"),
    ("kg", "kg"),
    ("lb", "pounds"),
)
NOT_SAID: tuple[str, str] = ("", "not said")
YES_NO: Choices = (NOT_SAID, ("yes", "yes"), ("no", "no"))


class PatternFields(Form):
    """Craft, item, gauge and tool; measurements for a pattern that gives no amount."""

    title = TextField("In your words", "Stands on the slip, such as striped hat.")
    craft = OneOfField("Craft", choices_of(Craft), default=Craft.KNIT.value)
    item = PickField("Item", choices_of(ItemKind), default=OTHER_ITEM.value)
    stitches = NumberField("Stitches", "Such as 22.")
    rows = NumberField("Rows", "Such as 30.")
    over = NumberField("Counted over", default="10")
    over_unit = PickField("Unit of the gauge's length", GAUGE_OVER, default="cm")
    stitch_pattern = PickField(
        "Stitch pattern",
        choices_of(StitchPattern),
        "Crochet stitches in US terms.",
        default=STOCKINETTE.value,
    )
    after_washing = PickField("Counted after washing", YES_NO, default="")
    tool = TextField("Needle or hook", "4.5 mm, or a number such as 7.")
    tool_system = PickField("System of the needle or hook", TOOL_SYSTEM, default="mm")
    features = SomeOfField("It has", choices_of(Feature))
    chest = NumberField("Chest, all around", "Finished, not the body.")
    chest_unit = PickField("Unit of the chest", ITEM_LENGTH, default="cm")
    width = NumberField("Width")
    width_unit = PickField("Unit of the width", ITEM_LENGTH, default="cm")
    length = NumberField("Length")
    length_unit = PickField("Unit of the length", ITEM_LENGTH, default="cm")
    around = NumberField("Around", "Head, hand or leg.")
    around_unit = PickField("Unit of the measure around", ITEM_LENGTH, default="cm")
    foot = NumberField("Foot, heel to toe")
    foot_unit = PickField("Unit of the foot", ITEM_LENGTH, default="cm")


PATTERN_BINDINGS: tuple[Binding, ...] = (
    Binding(("title",), "title"),
    Binding(("craft",), "craft"),
    Binding(("item", "kind"), "item"),
    Binding(("item", "features"), "features", Way.TICKED),
    Binding(("gauge", "stitches"), "stitches", right=message("problem_form.give_stitches")),
    Binding(("gauge", "rows"), "rows", right=message("problem_form.give_rows")),
    follows(("gauge", "over", "value"), "over", up=2, right=message("problem_form.give_over")),
    follows(("gauge", "over", "unit"), "over_unit", up=2),
    follows(("gauge", "stitch_pattern"), "stitch_pattern"),
    follows(("gauge", "after_washing"), "after_washing", way=Way.YES_NO),
    Binding(("tool", "size"), "tool", right=message("problem_form.give_tool")),
    follows(("tool", "system"), "tool_system"),
    *(
        binding
        for measure in MEASURES
        for binding in quantity(
            ("item", "measurements", measure),
            measure,
            right=message("problem_form.give_measure"),
        )
    ),
)


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


_WASHING_LABELS = {
    "machine 60": "Machine at 60 °C",
    "machine 40": "Machine at 40 °C",
    "machine 30": "Machine at 30 °C",
    "wool programme": "Machine, wool programme",
    "hand": "By hand",
    "dry clean": "Dry clean",
    "unknown": "Not said",
}


class CustomerFields(Form):
    """Everything here may stay as it is."""

    wearer = PickField(
        "Who is it for?", choices_of(Wearer, unknown="Not said"), default=Wearer.UNKNOWN.value
    )
    washing = PickField(
        "How will it be washed?",
        choices_of(Washing, **_WASHING_LABELS),
        default=Washing.UNKNOWN.value,
    )
    drying = PickField(
        "How will it be dried?",
        choices_of(Drying, unknown="Not said"),
        default=Drying.UNKNOWN.value,
    )
    avoid = TextField("Fibres to avoid", "Such as wool, mohair.")
    colour = PickField("Colour", [("", "any"), *choices_of(colour_families())], default="")
    price_limit = NumberField("Price limit", "All its yarn.")
    hand = NumberField("The knitter always works", "Percent, such as 4; a kept hand, if agreed.")
    hand_way = PickField(
        "Which way the hand is off",
        HAND_WAY,
        default="tighter",
    )
    avoid_animal_hair = BooleanField("No hair of any animal")
    avoid_silk = BooleanField("No silk")
    one_lot_only = BooleanField("Only if one dye lot has enough")
    in_stock_only = BooleanField("Only what is in stock now")


CUSTOMER_BINDINGS: tuple[Binding, ...] = (
    Binding(("wearer",), "wearer"),
    Binding(("washing",), "washing"),
    Binding(("drying",), "drying"),
    Binding(
        ("wishes", "avoid_fibres"),
        "avoid",
        Way.NAMES,
        right=message("problem_form.give_fibres"),
    ),
    Binding(("wishes", "avoid_animal_hair"), "avoid_animal_hair", Way.FLAG),
    Binding(("wishes", "avoid_silk"), "avoid_silk", Way.FLAG),
    Binding(("wishes", "colour_family"), "colour"),
    Binding(
        ("wishes", "price_limit"),
        "price_limit",
        right=message("problem_form.give_price"),
    ),
    Binding(("hand", "percent"), "hand", right=message("problem_form.give_hand")),
    follows(("hand", "way"), "hand_way"),
    Binding(("wishes", "one_lot_only"), "one_lot_only", Way.FLAG),
    Binding(("wishes", "in_stock_only"), "in_stock_only", Way.FLAG),
)
