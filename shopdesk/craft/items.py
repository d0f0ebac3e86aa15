"""How much yarn an item takes when the pattern does not say: its area times yarn per area.

Intervals are about two standard errors wide. The errors are judged; see the tables item_kinds
and item_models in the reference folder.
"""

from collections.abc import Callable
from enum import StrEnum
from functools import cache
from typing import Protocol

from shopdesk.craft.fabric import pattern_metres_per_m2
from shopdesk.craft.figures import Basis, Figure, exactly, product, spread
from shopdesk.craft.messages import message
from shopdesk.reference.constants import Constant, constant
from shopdesk.reference.tables import table


@cache
def members(group: str, kind: str) -> frozenset[str]:
    """Returns the names of a group of reference/item_groups.csv; `kind` is 'wearer' or 'item'."""
    rows = table("item_groups")
    return frozenset(r["name"] for r in rows if (r["group"], r["kind"]) == (group, kind))


def is_in(group: str, item: str, wearer: str) -> bool:
    """True if the wearer or the item belongs to the group."""
    return wearer in members(group, "wearer") or item in members(group, "item")


CM2_PER_M2 = 10000


class Measured(Protocol):
    """The finished item's measurements in cm; None is unknown."""

    @property
    def chest_cm(self) -> float | None: ...
    @property
    def width_cm(self) -> float | None: ...
    @property
    def length_cm(self) -> float | None: ...
    @property
    def around_cm(self) -> float | None: ...
    @property
    def foot_cm(self) -> float | None: ...


class RowGauge(StrEnum):
    """What a row gauge decides for an item: its shape, no more than when to stop, or unknown."""

    SHAPES = "shapes"
    LENGTH = "length"
    UNKNOWN = "unknown"


def row_gauge_of(kind: str) -> RowGauge:
    """Returns whether rows are usually counted in an item of this kind (common practice)."""
    row = _kind(kind)
    return RowGauge.UNKNOWN if row is None else RowGauge(row["row_gauge"])


def item_area_cm2(kind: str, measurements: Measured) -> Figure | None:
    """Returns the area in cm2 of all fabric in the item, a pair for mitts, socks and bootees.

    None where the kind has no model here or a measurement that it needs is unknown. Notes say
    what was assumed.
    """
    row, shape = _kind(kind), _SHAPES.get(kind)
    if row is None or shape is None:
        return None
    net = shape(measurements)
    if net is None:
        return None
    low, value, high = float(row["low"]), float(row["factor"]), float(row["high"])
    factor = Figure(value, low, high, Basis.ESTIMATE)
    return product(Basis.ESTIMATE, net, factor, _within(float(row["error"])))


def need_from_item(
    kind: str, measurements: Measured, stitches: float, rows: float | None, stitch_pattern: str
) -> Figure | None:
    """Returns the metres of yarn that an item takes, with ribs, seams and ends.

    `stitches` and `rows` per 10 cm are counted in `stitch_pattern`. The interval is about two
    standard errors each way; plan by `quantity.planning_m`. None as in `item_area_cm2`. Sources:
    Munden (1959) for yarn per area, common practice and judgement for the shapes.
    """
    area = item_area_cm2(kind, measurements)
    if area is None:
        return None
    per_m2 = pattern_metres_per_m2(stitch_pattern, stitches, rows)
    model = _within(_model("yarn_model").value)
    need = product(Basis.ESTIMATE, area.scaled(1 / CM2_PER_M2), per_m2, _share("trim"), model)
    note = message("amount.published_spread")
    return Figure(need.value, need.low, need.high, need.basis, (note, *need.notes))


def _kind(kind: str) -> dict[str, str] | None:
    return next((dict(row) for row in table("item_kinds") if row["kind"] == kind), None)


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


def _assumed(usual: Figure) -> Figure:
    note = message("amount.usual_length", length_cm=usual.value)
    return Figure(usual.value, usual.low, usual.high, usual.basis, (note,))


def _usual(given_cm: float | None, share_name: str, of_cm: float) -> Figure:
    """Returns the length in cm that was given, else the usual share of another measurement."""
    if given_cm is not None:
        return exactly(given_cm)
    return _assumed(_share(share_name).scaled(of_cm))


def _body_length(m: Measured, chest_cm: float) -> Figure:
    if m.length_cm is not None:
        return exactly(m.length_cm)
    slope, less = _model("child_length_slope"), _model("child_length_less_cm").value
    child = [max(10.0, share * chest_cm - less) for share in (slope.low, slope.value, slope.high)]
    adult = _model("body_length_cm").value
    if chest_cm >= _model("adult_from_chest_cm").value:
        return _assumed(exactly(adult))
    if chest_cm <= _model("child_up_to_chest_cm").value:
        return _assumed(Figure(child[1], child[0], child[2], Basis.ESTIMATE))
    return _assumed(Figure((child[1] + adult) / 2, child[1], adult, Basis.ESTIMATE))


def _body(m: Measured, chest_cm: float) -> Figure:
    return _body_length(m, chest_cm).scaled(chest_cm)


def _sleeves_cm2(chest_cm: float) -> float:
    return _model("sleeve_share").value * chest_cm**2


def _neck() -> Figure:
    return exactly(_model("neck_cm2").value)


def _pullover(m: Measured) -> Figure | None:
    if m.chest_cm is None:
        return None
    return _sum(_body(m, m.chest_cm), exactly(_sleeves_cm2(m.chest_cm)), _neck())


def _vest(m: Measured) -> Figure | None:
    if m.chest_cm is None:
        return None
    body = product(Basis.ESTIMATE, _body(m, m.chest_cm), _share("vest_body"))
    return _sum(body, _neck())


def _dress(m: Measured) -> Figure | None:
    if m.chest_cm is None or m.length_cm is None:
        return None
    body = _share("dress_flare").scaled(m.chest_cm * m.length_cm)
    sleeves = _share("dress_sleeves").scaled(_sleeves_cm2(m.chest_cm))
    noted = Figure(
        sleeves.value,
        sleeves.low,
        sleeves.high,
        sleeves.basis,
        (message("amount.sleeves_unknown"),),
    )
    return _sum(body, noted, _neck())


def _hat(m: Measured) -> Figure | None:
    if m.around_cm is None:
        return None
    return _usual(m.length_cm, "hat_height", m.around_cm).scaled(m.around_cm)


def _mitts(m: Measured) -> Figure | None:
    if m.around_cm is None:
        return None
    return _usual(m.length_cm, "mitt_length", m.around_cm).scaled(2 * m.around_cm)


def _socks(m: Measured) -> Figure | None:
    if m.foot_cm is None:
        return None
    around = _usual(m.around_cm, "sock_around", m.foot_cm)
    heel = _share("sock_heel").scaled(m.foot_cm)
    length = _sum(exactly(m.foot_cm), _usual(m.length_cm, "sock_leg", m.foot_cm), heel)
    return product(Basis.ESTIMATE, around, length).scaled(2)


def _rectangle(m: Measured) -> Figure | None:
    if m.width_cm is None or m.length_cm is None:
        return None
    return exactly(m.width_cm * m.length_cm)


def _square_at_least(m: Measured) -> Figure | None:
    if m.width_cm is None:
        return None
    if m.length_cm is None:
        return _assumed(exactly(m.width_cm)).scaled(m.width_cm)
    return exactly(m.width_cm * m.length_cm)


def _cowl(m: Measured) -> Figure | None:
    height = m.width_cm if m.length_cm is None else m.length_cm
    if m.around_cm is None or height is None:
        return None
    return exactly(m.around_cm * height)


def _shawl(m: Measured) -> Figure | None:
    if m.width_cm is None:
        return None
    triangle = _usual(m.length_cm, "shawl_depth", m.width_cm).scaled(m.width_cm / 2)
    notes = (message("amount.shawl_triangle"), *triangle.notes)
    return Figure(triangle.value, triangle.low, triangle.high, triangle.basis, notes)


def _bag(m: Measured) -> Figure | None:
    side = _rectangle(m)
    return None if side is None else side.scaled(2)


def _bootees(m: Measured) -> Figure | None:
    return None if m.foot_cm is None else _share("bootee_area").scaled(m.foot_cm**2)


def _toy(m: Measured) -> Figure | None:
    return None if m.length_cm is None else _share("toy_area").scaled(m.length_cm**2)


_SHAPES: dict[str, Callable[[Measured], Figure | None]] = {
    "pullover": _pullover,
    "cardigan": _pullover,
    "vest": _vest,
    "dress": _dress,
    "hat": _hat,
    "mitts": _mitts,
    "socks": _socks,
    "scarf": _rectangle,
    "cowl": _cowl,
    "shawl": _shawl,
    "blanket": _rectangle,
    "bib": _rectangle,
    "cloth": _rectangle,
    "cushion": _square_at_least,
    "bag": _bag,
    "felted bag": _bag,
    "bootees": _bootees,
    "toy": _toy,
}
