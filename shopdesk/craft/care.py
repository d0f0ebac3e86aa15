"""Care in words on its own axes, from the mildest treatment to the most severe.

The axes and values follow ISO 3758, put into words (reference/care_axes.csv). A label states the
most severe treatment that is allowed; anything milder always is, and the most delicate component
decides (GINETEX guidance). What a label does not say is unknown, and stays so.
"""

from collections.abc import Mapping, Sequence
from dataclasses import fields
from functools import cache, lru_cache, reduce

from shopdesk.craft.errors import InputError, InputErrors, Problem
from shopdesk.craft.messages import Message, message
from shopdesk.craft.yarn import CareLabel, FibreShare
from shopdesk.reference.tables import table

AxisValue = int | str
_CategoryRange = tuple[int, int]

AXES = tuple(field.name for field in fields(CareLabel))
WASHED_AXES = ("wash_c", "wash_action", "tumble", "natural_drying", "dry_clean")
"""The axes that decide how an item is washed and dried: the others are only told."""
_IN_DEGREES = frozenset({"wash_c", "iron_c"})
HOTTEST_BY_HAND_C = 40


@cache
def _places(axis: str) -> Mapping[AxisValue, _CategoryRange]:
    """Each value's place: how severe, and within that how strong (in the sun, not mild)."""
    rows = [row for row in table("care_axes") if row["axis"] == axis]
    return {
        int(row["value"]) if axis in _IN_DEGREES else row["value"]: (
            int(row["severity"]),
            int(row["strength"]),
        )
        for row in rows
    }


def axis_values(axis: str) -> tuple[AxisValue, ...]:
    """Returns the values of an axis from the mildest to the most severe."""
    return tuple(sorted(_places(axis), key=_places(axis).__getitem__))


def gentler_value(axis: str, a: AxisValue | None, b: AxisValue | None) -> AxisValue | None:
    """Returns the treatment of one axis that both stand; None if either is unknown.

    Drying keeps 'in shade' and dry cleaning keeps 'mild' whichever of the two asks for it.
    """
    if a is None or b is None:
        return None
    places = _places(axis)
    (severe_a, strong_a), (severe_b, strong_b) = places[a], places[b]
    wanted = (min(severe_a, severe_b), min(strong_a, strong_b))
    found = [value for value, place in places.items() if place == wanted]
    return found[0]


def is_gentler_or_same(axis: str, a: AxisValue, b: AxisValue) -> bool:
    """True if treatment `a` asks no more of the yarn than `b` in any respect."""
    return gentler_value(axis, a, b) == a


def gentler(a: CareLabel, b: CareLabel) -> CareLabel:
    """Returns the care that both stand, axis by axis, temperature and action separately.

    60 mild with 40 normal gives 40 mild (GINETEX: the most delicate component decides). An axis
    that is unknown in either is unknown in the result.
    """
    return _label({axis: gentler_value(axis, getattr(a, axis), getattr(b, axis)) for axis in AXES})


def _label(values: Mapping[str, AxisValue | None]) -> CareLabel:
    return CareLabel(**values)  # type: ignore[arg-type]


def checked_care(document: Mapping[str, object]) -> CareLabel:
    """Returns the label with these values by axis; None and '' are unknown.

    Raises InputErrors with every problem found, under its axis.
    """
    problems = [
        Problem(
            (name,),
            message("problem_yarn.no_axis"),
            message("problem_yarn.known_axes", axes=", ".join(AXES)),
        )
        for name in document
        if name not in AXES
    ]
    values: dict[str, AxisValue | None] = {}
    for axis in AXES:
        try:
            values[axis] = _checked_value(axis, document.get(axis))
        except InputError as refusal:
            problems += refusal.problems
    if not problems:
        problems += _contradictions(values)
    if problems:
        raise InputErrors(problems)
    return _label(values)


def _checked_value(axis: str, given: object) -> AxisValue | None:
    written = "" if given is None else " ".join(str(given).casefold().split())
    if not written:
        return None
    for value in _places(axis):
        if str(value) == written:
            return value
    listed = ", ".join(map(str, reversed(axis_values(axis))))
    raise InputError(
        message("problem_yarn.no_axis_value", text=written[:40]),
        message("problem_yarn.axis_values", values=listed),
        axis,
    )


def _contradictions(values: Mapping[str, AxisValue | None]) -> list[Problem]:
    path, wash_c, action = ("wash_c",), values["wash_c"], values["wash_action"]
    if action == "do not wash" and wash_c is not None:
        right = message("problem_yarn.leave_one_out")
        return [Problem(path, message("problem_yarn.wash_and_not"), right)]
    if action == "hand" and isinstance(wash_c, int) and wash_c > HOTTEST_BY_HAND_C:
        right = message("problem_yarn.write_30_or_40")
        return [Problem(path, message("problem_yarn.hand_hot", wash=wash_c), right)]
    return []


def usual_care(shares: Sequence[FibreShare], attributes: frozenset[str]) -> CareLabel:
    """Returns what is usual for a blend whose band says nothing; unknown where nothing is usual.

    A default from memory, not from a label: show it with `care_sayings(..., by_default=True)`.
    Source: reference/usual_care.csv. The most delicate fibre decides, whatever its share.
    """
    if not shares:
        return CareLabel()
    return reduce(gentler, (_usual_of(share.fibre, attributes) for share in shares))


def _usual_of(fibre: str, attributes: frozenset[str]) -> CareLabel:
    rows = [row for row in table("usual_care") if row["fibre"] == fibre]
    treated = [row for row in rows if row["attribute"] in attributes]
    plain = [row for row in rows if not row["attribute"]]
    row = next(iter(treated + plain), {})
    return checked_care({axis: row.get(axis) for axis in AXES})


@lru_cache(maxsize=4096)
def care_sayings(care: CareLabel, by_default: bool = False) -> tuple[Message, ...]:
    """Returns the care in words, washing first; what is unknown comes last, by name."""
    said = [message("care.usual_not_from_label")] if by_default and care != CareLabel() else []
    said += _wash_sayings(care)
    said += [
        _axis_saying(axis, getattr(care, axis))
        for axis in ("natural_drying", "tumble", "iron_c", "bleach", "dry_clean", "wet_clean")
        if getattr(care, axis) is not None
    ]
    return (*said, *_unknown_sayings(care))


def _wash_sayings(care: CareLabel) -> list[Message]:
    action, wash_c = care.wash_action, care.wash_c
    if action == "do not wash":
        return [message("care.wash_not")]
    if action == "hand":
        return [message("care.wash_hand", wash_c=hand_wash_c())]
    if action is None:
        return [] if wash_c is None else [message("care.wash_action_unknown", wash_c=wash_c)]
    term = text_code("wash_action", action)
    if wash_c is None:
        return [message("care.wash_temperature_unknown", action_term=term)]
    return [message("care.wash_machine", action_term=term, wash_c=wash_c)]


def hand_wash_c() -> int:
    """Returns the temperature a hand wash is safe at: labels differ on 30 or 40, so the lower."""
    return min(value for value in _places("wash_c") if isinstance(value, int))


@cache
def text_code(axis: str, value: AxisValue) -> str:
    """Returns the code of the text that says this value."""
    rows = table("care_axes")
    return next(r["text_code"] for r in rows if (r["axis"], r["value"]) == (axis, str(value)))


def _axis_saying(axis: str, value: AxisValue) -> Message:
    if axis == "iron_c" and value:
        return message("care.iron_up_to", iron_c=value)
    return Message(text_code(axis, value))


def _unknown_sayings(care: CareLabel) -> list[Message]:
    if care == CareLabel():
        return [message("care.nothing_known")]
    unknown = [axis for axis in AXES if getattr(care, axis) is None]
    if care.wash_action in ("do not wash", "hand"):
        unknown = [axis for axis in unknown if axis != "wash_c"]
    if not unknown:
        return []
    return [message("care.not_known", axis_terms=tuple(f"care.axis_{axis}" for axis in unknown))]
