"""What the pattern says about the fabric and the item."""

from wtforms import Form

from shopdesk.answering.model.ask import (
    MEASURES,
    OTHER_ITEM,
    STOCKINETTE,
    Feature,
    ItemKind,
    StitchPattern,
)
from shopdesk.counter.forms.binding import Binding, Way, follows, quantity
from shopdesk.counter.forms.fields import (
    NumberField,
    OneOfField,
    PickField,
    SomeOfField,
    TextField,
    choices_of,
)
from shopdesk.counter.forms.units import GAUGE_OVER, ITEM_LENGTH, TOOL_SYSTEM, YES_NO
from shopdesk.craft.messages import message
from shopdesk.craft.yarn import Craft


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
