"""The unit boxes that stand beside number boxes."""

from shopdesk.counter.forms.fields import Choices

GAUGE_OVER: Choices = (("cm", "cm"), ("in", "inches"), ("mm", "mm"))
ITEM_LENGTH: Choices = (("cm", "cm"), ("in", "inches"), ("m", "m"), ("mm", "mm"), ("ft", "feet"),
                        ("yd", "yards"))  # fmt: skip
YARN_LENGTH: Choices = (("m", "metres"), ("yd", "yards"), ("ft", "feet"))
MASS: Choices = (("g", "grams"), ("oz", "ounces"), ("kg", "kg"), ("lb", "pounds"))
TOOL_SYSTEM: Choices = (("mm", "mm"), ("US", "US"), ("UK", "old UK"))
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
