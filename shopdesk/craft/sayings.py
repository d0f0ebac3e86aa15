"""A sentence as data: a text's code and the values it speaks of, with no language in it."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from decimal import Decimal

SayingValue = str | int | float | Decimal | tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Saying:
    """One sentence to be shown, in whatever language and units the reader wants.

    `code` names the text, as 'topic.what' (the topic is the file of texts it stands in).
    The ending of a value's name says how it is shown: `_m` a yarn length given in metres,
    `_g` a mass in grams, `_cm` and `_mm` a length, `_c` a temperature in degrees Celsius,
    `_st` stitches or rows per 10 cm, `_percent` a share of 100, `_price` a Decimal amount of
    money, `_date` a date as '2026-11-25', `_term` the code of another text (a fibre's or a
    stitch pattern's name), `_terms` a tuple of such codes, shown as a list.
    A whole number named `count` picks singular or plural. Anything else is shown as it is.
    In a text, '{over}' is the length a gauge is counted over: 'to {over}', never 'to 10 cm'.
    """

    code: str
    values: Mapping[str, SayingValue] = field(default_factory=dict)

    def __hash__(self) -> int:
        return hash((self.code, tuple(sorted(self.values.items(), key=lambda item: item[0]))))


def saying(code: str, **values: SayingValue) -> Saying:
    """Returns the Saying of `code` with these values."""
    return Saying(code, values)
