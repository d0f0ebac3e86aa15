"""What the customer says: who it is for, how it will be washed, and what is wished."""

from wtforms import BooleanField, Form

from shopdesk.answering.model.ask import Drying, Washing, Wearer
from shopdesk.counter.forms.binding import Binding, Way
from shopdesk.counter.forms.fields import NumberField, PickField, TextField, choices_of
from shopdesk.craft.colours import colour_families
from shopdesk.craft.messages import message

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
    Binding(("wishes", "colour_family"), "colour"),
    Binding(
        ("wishes", "price_limit"),
        "price_limit",
        right=message("problem_form.give_price"),
    ),
    Binding(("wishes", "one_lot_only"), "one_lot_only", Way.FLAG),
    Binding(("wishes", "in_stock_only"), "in_stock_only", Way.FLAG),
)
