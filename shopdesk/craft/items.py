"""The area of all fabric in an item, by its kind and its measurements.

Intervals are about two standard errors wide. The errors are judged; see the tables item_kinds
and item_models in the reference folder.
"""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from enum import StrEnum
from functools import cache

from shopdesk.craft.figures import Basis, Figure, exactly, product, spread
from shopdesk.craft.messages import message, term_code
from shopdesk.reference.tables import Constant, constant, table, yes_or_no


@cache
def members(group: str, kind: str) -> frozenset[str]:
    """Returns the names of a group of reference/item_groups.csv; `kind` is 'wearer' or 'item'."""
    rows = table("item_groups")
    return frozenset(r["name"] for r in rows if (r["group"], r["kind"]) == (group, kind))


def is_in(group: str, item: str, wearer: str) -> bool:
    """True if the wearer or the item belongs to the group."""
    return wearer in members(group, "wearer") or item in members(group, "item")


def only_member(group: str, kind: str) -> str:
    """Returns the name of a group that has just one of this kind. Raises ValueError."""
    (name,) = members(group, kind)
    return name


@dataclass(frozen=True, slots=True)
class Measurements:
    """The finished item's measurements in cm; None is unknown."""

    chest_cm: float | None = None
    width_cm: float | None = None
    length_cm: float | None = None
    around_cm: float | None = None
    foot_cm: float | None = None


class RowGauge(StrEnum):
    """What a row gauge decides for an item: its shape, no more than when to stop, or unknown."""

    SHAPES = "shapes"
    LENGTH = "length"
    UNKNOWN = "unknown"


@dataclass(frozen=True, slots=True)
class ItemModel:
    """What is known of a kind of item.

    The area of `shape`, in cm2, times `factor` is that of all its fabric, with a standard error
    of `error` as a share. `long` items must not grow by their weight; `felted` ones must felt.
    `kind_of` is the wider kind that it may be called by too, as a vest is a pullover. `trim` is
    the yarn of the whole over that of its area: ribs, seams, ends and a swatch. `narrowed_by`
    is what would make its area surer beside the measurements that the shape asks for, or None.
    """

    shape: Callable[[Measurements], Figure | None]
    factor: Figure
    error: float
    row_gauge: RowGauge
    long: bool
    felted: bool
    kind_of: str | None
    trim: Figure
    narrowed_by: str | None


@cache
def item_models() -> Mapping[str, ItemModel]:
    """Returns every kind of item by its name, in the table's order."""
    return {row["kind"]: _item_model(row) for row in table("item_kinds")}


def _item_model(row: Mapping[str, str]) -> ItemModel:
    low, value, high = (float(row[column]) for column in ("low", "factor", "high"))
    return ItemModel(
        shape=_AREAS[row["area"]],
        factor=Figure(value, low, high, Basis.ESTIMATE),
        error=float(row["error"]),
        row_gauge=RowGauge(row["row_gauge"]),
        long=yes_or_no(row, "long"),
        felted=yes_or_no(row, "felted"),
        kind_of=row["kind_of"] or None,
        trim=_share(row["trim"]),
        narrowed_by=row["narrowed_by"] or None,
    )


def row_gauge_of(kind: str) -> RowGauge:
    """Returns whether rows are usually counted in an item of this kind (common practice)."""
    model = item_models().get(kind)
    return RowGauge.UNKNOWN if model is None else model.row_gauge


def item_area_cm2(kind: str, measurements: Measurements) -> Figure | None:
    """Returns the area in cm2 of all fabric in the item, a pair for mitts, socks and bootees.

    None where the kind has no model here or a measurement that it needs is unknown. Notes say
    what was assumed.
    """
    model = item_models().get(kind)
    net = None if model is None else model.shape(measurements)
    if model is None or net is None:
        return None
    return product(Basis.ESTIMATE, net, model.factor, _within(model.error))


def _model(name: str) -> Constant:
    return constant("item_models", name)


def _share(name: str) -> Figure:
    found = _model(name)
    return Figure(found.value, found.low, found.high, Basis.ESTIMATE)


def _within(standard_error: float) -> Figure:
    return spread(1.0, 2 * standard_error, Basis.ESTIMATE)


def _sum(*parts: Figure) -> Figure:
    """Returns the sum of figures that may all be off the same way."""
    return Figure(
        sum(part.value for part in parts),
        sum(part.low for part in parts),
        sum(part.high for part in parts),
        Basis.ESTIMATE,
        tuple(note for part in parts for note in part.notes),
    )


def _assumed(usual: Figure, measure: str = "length") -> Figure:
    term = term_code("measure", measure)
    note = message("amount.usual_length", length_cm=usual.value, measure_term=term)
    return Figure(usual.value, usual.low, usual.high, usual.basis, (note,))


def _usual(
    given_cm: float | None, share_name: str, of_cm: float, measure: str = "length"
) -> Figure:
    """Returns the length in cm that was given, else the usual share of another measurement."""
    if given_cm is not None:
        return exactly(given_cm)
    return _assumed(_share(share_name).scaled(of_cm), measure)


def _body_length(m: Measurements, chest_cm: float) -> Figure:
    if m.length_cm is not None:
        return exactly(m.length_cm)
    return _assumed(_usual_body_length(chest_cm))


def _usual_body_length(chest_cm: float) -> Figure:
    slope, less = _model("child_length_slope"), _model("child_length_less_cm").value
    child = [max(10.0, share * chest_cm - less) for share in (slope.low, slope.value, slope.high)]
    adult = _model("body_length_cm").value
    if chest_cm >= _model("adult_from_chest_cm").value:
        return exactly(adult)
    if chest_cm <= _model("child_up_to_chest_cm").value:
        return Figure(child[1], child[0], child[2], Basis.ESTIMATE)
    return Figure((child[1] + adult) / 2, child[1], adult, Basis.ESTIMATE)


def _body(m: Measurements, chest_cm: float) -> Figure:
    return _body_length(m, chest_cm).scaled(chest_cm)


def _sleeves(chest_cm: float) -> Figure:
    """A sleeve is as wide as the chest asks for, and as long as who has that chest is tall."""
    return _usual_body_length(chest_cm).scaled(_model("sleeve_share").value * chest_cm)


def _neck() -> Figure:
    return exactly(_model("neck_cm2").value)


def _pullover(m: Measurements) -> Figure | None:
    if m.chest_cm is None:
        return None
    body = _body(m, m.chest_cm).scaled(_model("body_left").value)
    return _sum(body, _sleeves(m.chest_cm), _neck())


def _vest(m: Measurements) -> Figure | None:
    if m.chest_cm is None:
        return None
    body = product(Basis.ESTIMATE, _body(m, m.chest_cm), _share("body_left"))
    return _sum(body, _neck())


def _dress(m: Measurements) -> Figure | None:
    if m.chest_cm is None or m.length_cm is None:
        return None
    body = _share("dress_flare").scaled(m.chest_cm * m.length_cm)
    sleeves = _share("dress_sleeves").scaled(_sleeves(m.chest_cm).value)
    noted = Figure(
        sleeves.value,
        sleeves.low,
        sleeves.high,
        sleeves.basis,
        (message("amount.sleeves_unknown"),),
    )
    return _sum(body, noted, _neck())


def _hat(m: Measurements) -> Figure | None:
    if m.around_cm is None:
        return None
    return _usual(m.length_cm, "hat_height", m.around_cm).scaled(m.around_cm)


def _mitts(m: Measurements) -> Figure | None:
    if m.around_cm is None:
        return None
    return _usual(m.length_cm, "mitt_length", m.around_cm).scaled(2 * m.around_cm)


def _socks(m: Measurements) -> Figure | None:
    if m.foot_cm is None:
        return None
    around = _usual(m.around_cm, "sock_around", m.foot_cm, "around")
    heel = _share("sock_heel").scaled(around.value)
    length = _sum(exactly(m.foot_cm), _usual(m.length_cm, "sock_leg", m.foot_cm), heel)
    return product(Basis.ESTIMATE, around, length).scaled(2)


def _rectangle(m: Measurements) -> Figure | None:
    if m.width_cm is None or m.length_cm is None:
        return None
    return exactly(m.width_cm * m.length_cm)


def _square_at_least(m: Measurements) -> Figure | None:
    if m.width_cm is None:
        return None
    if m.length_cm is None:
        return _assumed(exactly(m.width_cm)).scaled(m.width_cm)
    return exactly(m.width_cm * m.length_cm)


def _tube(m: Measurements) -> Figure | None:
    height = m.width_cm if m.length_cm is None else m.length_cm
    if m.around_cm is None or height is None:
        return None
    return exactly(m.around_cm * height)


def _triangle(m: Measurements) -> Figure | None:
    if m.width_cm is None:
        return None
    triangle = _usual(m.length_cm, "shawl_depth", m.width_cm).scaled(m.width_cm / 2)
    notes = (message("amount.shawl_triangle"), *triangle.notes)
    return Figure(triangle.value, triangle.low, triangle.high, triangle.basis, notes)


def _two_sides(m: Measurements) -> Figure | None:
    side = _rectangle(m)
    return None if side is None else side.scaled(2)


def _bootees(m: Measurements) -> Figure | None:
    if m.foot_cm is None:
        return None
    if m.length_cm is None:
        return _share("bootee_area").scaled(m.foot_cm**2)
    around = _usual(m.around_cm, "bootee_around", m.foot_cm, "around")
    heel = _share("sock_heel").scaled(around.value)
    length = _sum(exactly(m.foot_cm + m.length_cm), heel)
    return product(Basis.ESTIMATE, around, length).scaled(2)


def _toy(m: Measurements) -> Figure | None:
    if m.length_cm is None:
        return None
    if m.around_cm is None:
        return _share("toy_area").scaled(m.length_cm**2)
    return _share("toy_limbs").scaled(m.length_cm * m.around_cm)


_AREAS: Mapping[str, Callable[[Measurements], Figure | None]] = {
    "pullover": _pullover,
    "vest": _vest,
    "dress": _dress,
    "hat": _hat,
    "mitts": _mitts,
    "socks": _socks,
    "rectangle": _rectangle,
    "tube": _tube,
    "triangle": _triangle,
    "square at least": _square_at_least,
    "two sides": _two_sides,
    "bootees": _bootees,
    "toy": _toy,
}
"""What the column `area` of item_kinds.csv may name."""
