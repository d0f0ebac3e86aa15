"""How much the pattern asks for: sizes, and one count for each part or colour."""

from collections.abc import Iterator, Mapping
from typing import Any

from wtforms import Form

from shopdesk.counter.forms.ask_fields import AMOUNT, ITEM_LENGTH, MASS, NOT_SAID, YARN_LENGTH
from shopdesk.counter.forms.binding import Binding, Tree, Way, follows, quantity, value_at
from shopdesk.counter.forms.fields import Choices, NumberField, PickField, TextField
from shopdesk.craft.errors import Path, Problem
from shopdesk.craft.messages import message
from shopdesk.parsing.quantities import numbers_listed

MOST_PARTS = 12
OWN_STRANDS: Choices = (
    ("", "as in the pattern"), ("1", "one strand"), ("2", "two strands"), ("3", "three strands"),
    ("4", "four strands"),
)  # fmt: skip
OWN_WASH: Choices = (
    NOT_SAID, ("normal", "machine"), ("mild", "machine, gentle"),
    ("very mild", "machine, very gentle"), ("hand", "by hand"), ("do not wash", "do not wash"),
)  # fmt: skip
OWN_WASH_C: Choices = (NOT_SAID, ("30", "30 °C"), ("40", "40 °C"), ("60", "60 °C"))
FIBRE_BOX = {"autocomplete": "off", "list": "fibre-names"}
_COUNT = message("problem_form.give_count")
_CHESTS = message("problem_form.give_chests")
_UNIT_OF_COUNT = message("problem_form.give_unit")
_OWN = message("problem_form.give_own")
_SIZES = message("problem_form.give_sizes")
_CHOSEN = message("problem_form.give_chosen")
_PART_NAME = message("problem_form.give_part_name")
_KINDS = {"": "unknown", "balls": "balls", "m": "length", "yd": "length"}
_PUT_UP = message("problem_form.give_put_up")


class SizesFields(Form):
    """The pattern's sizes; empty for a pattern in one size."""

    sizes = TextField("Sizes in the pattern", "In order, such as S, M, L or 5 (6, 7, 9).")
    chosen_size = TextField(
        "Size to make", render_kw={"autocomplete": "off", "list": "sizes-listed"}
    )
    chests = NumberField("Chest of each size", "Finished, such as 96 (101, 106); may be empty.")
    chests_unit = PickField("Unit of the chests", ITEM_LENGTH, default="cm")


class PartFields(Form):
    """One part or colour. The ball may be left empty if the designer's yarn gives it."""

    name = TextField("Part or colour", "Such as main colour or sleeves.")
    count = NumberField("How much", "For this size, or 5 (6, 7, 9).")
    counted_in = PickField("Counted in", AMOUNT, default="")
    ball_mass = NumberField("One ball weighs")
    ball_mass_unit = PickField("Unit of the ball's weight", MASS, default="g")
    ball_length = NumberField("One ball holds")
    ball_length_unit = PickField("Unit of the ball's length", YARN_LENGTH, default="m")
    own_length = NumberField("Length in hand")
    own_length_unit = PickField("Unit of the length in hand", YARN_LENGTH, default="m")
    own_mass = NumberField("or weight in hand")
    own_mass_unit = PickField("Unit of the weight in hand", MASS, default="g")
    own_ball_mass = NumberField("A full ball of it weighs")
    own_ball_mass_unit = PickField("Unit of the full ball's weight", MASS, default="g")
    own_ball_length = NumberField("and holds")
    own_ball_length_unit = PickField("Unit of the full ball's length", YARN_LENGTH, default="m")
    own_sku = TextField("Its article number", "Only if it is one of ours.")
    own_strands = PickField("Held in", OWN_STRANDS, default="")
    own_percent = NumberField("Percent")
    own_fibre = TextField("Fibre", render_kw=FIBRE_BOX)
    own_second_percent = NumberField("Percent of the second fibre")
    own_second_fibre = TextField("Second fibre", render_kw=FIBRE_BOX)
    own_attributes = TextField("Said of the fibre", "Such as superwash.")
    own_wash = PickField("Its label says of washing", OWN_WASH, default="")
    own_wash_c = PickField("at most", OWN_WASH_C, default="")


SIZES_BINDINGS = (
    Binding(("sizes", "names"), "sizes", Way.NAMES, right=_SIZES),
    Binding(("sizes", "chosen"), "chosen_size", right=_CHOSEN),
    Binding(("sizes", "chest", "values"), "chests", Way.NUMBERS, right=_CHESTS),
    follows(("sizes", "chest", "unit"), "chests_unit"),
)


def part_bindings(place: int, entry: str) -> tuple[Binding, ...]:
    """Returns the bindings of one part but its amount: `entry` of the form, `place` in the ask."""
    at, field = ("parts", place), f"{entry}-"
    own = (*at, "own")
    return (
        Binding((*at, "name"), f"{field}name", right=_PART_NAME),
        *quantity((*own, "length"), f"{field}own_length"),
        *quantity((*own, "mass"), f"{field}own_mass"),
        *quantity((*own, "put_up", "mass"), f"{field}own_ball_mass"),
        *quantity((*own, "put_up", "length"), f"{field}own_ball_length"),
        Binding((*own, "sku"), f"{field}own_sku"),
        Binding((*own, "strands"), f"{field}own_strands"),
        Binding((*own, "attributes"), f"{field}own_attributes", Way.NAMES),
        Binding((*own, "care", "wash_action"), f"{field}own_wash"),
        Binding((*own, "care", "wash_c"), f"{field}own_wash_c"),
        *(
            Binding((*own, "fibres", line, name), f"{field}own_{which}{name}")
            for line, which in enumerate(("", "second_"))
            for name in ("percent", "fibre")
        ),
    )


def amount_places(place: int, entry: str, ball_in: str) -> tuple[Binding, ...]:
    """Returns where problems of a part's amount are shown; its ball stands in `ball_in-...`."""
    at, field = ("parts", place), f"{entry}-"
    amount = (*at, "amount")
    return (
        Binding(amount, f"{field}counted_in", right=_UNIT_OF_COUNT),
        Binding((*amount, "values"), f"{field}count", right=_COUNT),
        *quantity((*amount, "put_up", "mass"), f"{ball_in}-ball_mass", right=_PUT_UP),
        *quantity((*amount, "put_up", "length"), f"{ball_in}-ball_length", right=_PUT_UP),
        Binding((*at, "own"), f"{field}own_length", right=_OWN),
    )


def put_amount(
    tree: Tree, place: int, part: Mapping[str, str], ball: Mapping[str, str]
) -> Iterator[Problem]:
    """Puts one part's amount into the document. Yields what the document could not say."""
    amount = ("parts", place, "amount")
    numbers, unit = numbers_listed(part["count"]), part["counted_in"]
    if not unit and numbers:
        yield Problem(amount, message("problem_form.unit_missing"), _UNIT_OF_COUNT)
    tree.put((*amount, "kind"), _KINDS.get(unit, "mass"))
    if not unit:
        return
    if numbers:
        tree.put((*amount, "values"), numbers)
    if unit != "balls":
        tree.put((*amount, "unit"), unit)
    if unit not in ("m", "yd"):
        _put_ball(tree, (*amount, "put_up"), ball)


def _put_ball(tree: Tree, at: Path, ball: Mapping[str, str]) -> None:
    for side in ("mass", "length"):
        if ball[f"ball_{side}"]:
            tree.put((*at, side, "value"), ball[f"ball_{side}"])
            tree.put((*at, side, "unit"), ball[f"ball_{side}_unit"])


def amount_data(amount: Any) -> dict[str, str]:
    """Returns what the amount's boxes hold so that they say this amount of a document."""
    kind = value_at(amount, ("kind",))
    data = {"counted_in": "balls" if kind == "balls" else value_at(amount, ("unit",)) or ""}
    values = value_at(amount, ("values",))
    if isinstance(values, list):
        data["count"] = "; ".join(str(value) for value in values)
    for side in ("mass", "length"):
        for name, box in (("value", f"ball_{side}"), ("unit", f"ball_{side}_unit")):
            found = value_at(amount, ("put_up", side, name))
            if found is not None:
                data[box] = str(found)
    return data
