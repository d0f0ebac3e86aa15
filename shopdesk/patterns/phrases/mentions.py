"""What was read: values in the words' own units, where they stand, and how sure it is."""

from dataclasses import dataclass, replace
from decimal import Decimal
from enum import StrEnum

from shopdesk.craft.messages import Message


class Sureness(StrEnum):
    """How sure a reading is: 'unclear' means two readings stand, or none can be preferred."""

    SURE = "sure"
    LIKELY = "likely"
    UNCLEAR = "unclear"


@dataclass(frozen=True, slots=True, order=True)
class Span:
    """Characters [start, end) of the cleaned text."""

    start: int
    end: int


@dataclass(frozen=True, slots=True)
class Measure:
    """One value, or one for each size, in the unit that is written; `unit` 'balls' counts them."""

    values: tuple[Decimal, ...]
    unit: str

    def __str__(self) -> str:
        return f"{' '.join(plain(value) for value in self.values)} {self.unit}"


@dataclass(frozen=True, slots=True)
class Tool:
    """A needle or hook as written: '4' in mm, '8' in US."""

    size: str
    system: str

    def __str__(self) -> str:
        return f"{self.size} mm" if self.system == "mm" else f"{self.system} {self.size}"


@dataclass(frozen=True, slots=True)
class BallPutUp:
    """Mass and length of one ball as written."""

    mass: Decimal
    mass_unit: str
    length: Decimal
    length_unit: str

    def __str__(self) -> str:
        return f"{plain(self.mass)} {self.mass_unit} = {plain(self.length)} {self.length_unit}"


@dataclass(frozen=True, slots=True)
class Share:
    """One fibre's share of 100; the fibre is a key of the fibre table."""

    fibre: str
    percent: Decimal

    def __str__(self) -> str:
        return f"{plain(self.percent)} {self.fibre}"


@dataclass(frozen=True, slots=True)
class WordList:
    """Several words that are one value: size names, weight names, the shares of a blend."""

    items: tuple[str | Share, ...]

    def __str__(self) -> str:
        return " | ".join(str(item) for item in self.items)


Value = str | bool | Decimal | Measure | Tool | BallPutUp | Share | WordList


@dataclass(frozen=True, slots=True)
class Mention:
    """One reading of some words by one phrase.

    `field` names what was read ('stitches', 'amount', 'care.wash_c'); `part` the colour or part
    that an amount belongs to. `others` are other readings of the same words, `says` what is to be
    said of them, `extra` what else the decision needs (the gauge it belongs to, a tool's use).
    """

    field: str
    value: Value
    span: Span
    sure: Sureness
    phrase: str
    at: int
    part: str = ""
    others: tuple[Value, ...] = ()
    says: tuple[Message, ...] = ()
    extra: str = ""


def has_zero(value: Value) -> bool:
    """True if a number of the value is 0."""
    if isinstance(value, Decimal):
        return not value
    if isinstance(value, Measure):
        return not all(value.values)
    return isinstance(value, BallPutUp) and not (value.mass and value.length)


def with_number(value: Value, one: Decimal, other: Decimal) -> Value:
    """Returns an amount, put-up or plain number with `other` wherever it has the number `one`."""
    if isinstance(value, Decimal):
        return other if value == one else value
    if isinstance(value, Measure):
        return replace(value, values=tuple(other if v == one else v for v in value.values))
    if isinstance(value, BallPutUp):
        mass = other if value.mass == one else value.mass
        return replace(value, mass=mass, length=other if value.length == one else value.length)
    return value


def plain(value: Decimal) -> str:
    """Returns a number without an exponent or trailing zeros."""
    text = f"{value:f}"
    return text.rstrip("0").rstrip(".") if "." in text else text


def shown(value: Value) -> str:
    """Returns the value as a short text."""
    if isinstance(value, bool):
        return "yes" if value else "no"
    return plain(value) if isinstance(value, Decimal) else str(value)
