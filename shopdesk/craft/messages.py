"""A sentence as data: a text's code and the values it speaks of, with no language in it."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from decimal import Decimal


@dataclass(frozen=True, slots=True)
class Message:
    """One sentence to be shown, in whatever language and units the reader wants.

    `code` names the text, as 'topic.what' (the topic is the file of texts it stands in).
    The ending of a value's name says how it is shown: `_m` a yarn length given in metres,
    `_g` a mass in grams, `_cm` and `_mm` a length, `_c` a temperature in degrees Celsius,
    `_st` stitches or rows per 10 cm, `_percent` a share of 100, `_price` a Decimal amount of
    money, `_date` a date as '2026-11-25', `_term` the code of another text (a fibre's or a
    stitch pattern's name), `_terms` a tuple of such codes, shown as a list, `_grouped` a large
    whole number with its thousands set apart, `_exact` a number with every place it has. A
    Message as a value is said in its place.
    A whole number named `count` picks singular or plural. Anything else is shown as it is.
    In a text, '{over}' is the length a gauge is counted over: 'to {over}', never 'to 10 cm'.
    """

    code: str
    values: "Mapping[str, MessageValue]" = field(default_factory=dict)

    def __hash__(self) -> int:
        return hash((self.code, frozenset(self.values.items())))


MessageValue = str | int | float | Decimal | tuple[str, ...] | Message


def message(code: str, **values: MessageValue) -> Message:
    """Returns the Message of `code` with these values."""
    return Message(code, values)


def significant(value: float, figures: int) -> Decimal:
    """Returns a number with so many figures that count, as a value that is shown `_exact`."""
    return Decimal(f"{value:.{figures}g}")


def term_code(family: str, key: str | int) -> str:
    """Returns the text's code: term_code('item', 'felted bag') is 'terms.item.felted_bag'.

    Families: fibre, weight, stitch, item, attribute, construction, wearer, washing, drying,
    feature, count, measure.
    """
    return f"terms.{family}.{str(key).replace(' ', '_').replace('-', '_')}"
