"""From what was read to the ask document: only what is sure or likely; the rest stays unknown."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal
from typing import Any

from shopdesk.answering.model.ask import MEASURES, OTHER_PATTERN, Wearer
from shopdesk.craft.care import checked_care
from shopdesk.craft.errors import InputError
from shopdesk.craft.messages import Message, message
from shopdesk.craft.weights import categories_named
from shopdesk.patterns.fields.deciding import FieldReading
from shopdesk.patterns.phrases.mentions import (
    BallPutUp,
    Measure,
    Share,
    Sureness,
    Tool,
    Value,
    WordList,
)
from shopdesk.patterns.reading import CARE_AXES, PatternReading

PATHS = {
    "craft": "craft",
    "item": "item.kind",
    "features": "item.features",
    "wearer": "wearer",
    "stitches": "gauge.stitches",
    "rows": "gauge.rows",
    "over": "gauge.over",
    "pattern": "gauge.stitch_pattern",
    "washed": "gauge.after_washing",
    "tool": "tool",
    "weight": "designer_yarn.weight",
    "put_up": "designer_yarn.put_up",
    "ball_mass": "designer_yarn.put_up.mass",
    "ball_length": "designer_yarn.put_up.length",
    "fibres": "designer_yarn.fibres",
    "attributes": "designer_yarn.attributes",
    "strands": "designer_yarn.strands",
    "wraps": "designer_yarn.wraps_per_inch",
    "count": "designer_yarn.count",
    "sizes": "sizes",
    **{name: f"item.measurements.{name}" for name in MEASURES},
    **{f"care.{axis}": f"designer_yarn.care.{axis}" for axis in CARE_AXES},
}
"""Where each field that is read stands in the ask document; amounts stand in parts."""
_AMOUNT = "amount "
_FOR: Mapping[str, str] = {Wearer.BABY: "baby ", Wearer.CHILD: "child's "}


class SizeRefused(InputError):
    """The size asked for is none of the pattern's, or one must be named first."""


@dataclass(frozen=True, slots=True)
class _Usable:
    """The readings that may be filled in, and the place of the chosen size in the lists."""

    readings: Mapping[str, FieldReading]
    chosen: int | None

    def value(self, name: str) -> Value | None:
        reading = self.readings.get(name)
        return reading.value if reading is not None else None


def size_names(reading: PatternReading) -> tuple[str, ...]:
    """Returns the sizes to choose from: as named, else numbered; () if there is one size only."""
    usable = _usable(reading)
    named = usable.get("sizes")
    if named is not None and isinstance(named.value, WordList):
        return tuple(str(item) for item in named.value.items)
    counts = {
        len(each.value.values)
        for each in usable.values()
        if isinstance(each.value, Measure) and len(each.value.values) > 1
    }
    return tuple(str(number + 1) for number in range(counts.pop())) if len(counts) == 1 else ()


def ask_document(reading: PatternReading, size: str | None = None) -> dict[str, Any]:
    """Returns the ask of what was read sure or likely, for one size.

    Without `size`, sizes.names is filled but sizes.chosen is not, so that a form shows the
    choice. What is unclear is left out. Raises SizeRefused for a size the pattern has not.
    """
    names = size_names(reading)
    chosen = _place(size, names) if size is not None else None
    usable = _Usable(_usable(reading), chosen)
    document: dict[str, Any] = {"title": _title(usable)}
    for name in ("craft", "wearer"):
        _put(document, name, usable.value(name))
    document["item"] = _item(usable)
    _put(document, "gauge", _gauge(usable))
    _put(document, "tool", _tool(usable))
    _put(document, "designer_yarn", _designer_yarn(usable))
    if names:
        document["sizes"] = _sizes(usable, names)
    document["parts"] = list(_parts(usable)) or [{"name": "main", "amount": {"kind": "unknown"}}]
    return {name: value for name, value in document.items() if value not in ({}, None)}


def one_size(reading: PatternReading, size: str | None) -> dict[str, Any]:
    """Returns the complete ask; a pattern of several sizes needs one named. Raises SizeRefused."""
    names = size_names(reading)
    if size is None and len(names) > 1:
        raise SizeRefused(message("problem_pattern.sizes", count=len(names)), _name_one(names))
    return ask_document(reading, size if size is not None else (names[0] if names else None))


def _usable(reading: PatternReading) -> dict[str, FieldReading]:
    return {each.name: each for each in reading.readings if each.sure is not Sureness.UNCLEAR}


def _place(size: str, names: tuple[str, ...]) -> int:
    wanted = size.strip().casefold()
    for place, name in enumerate(names):
        if name.casefold() == wanted:
            return place
    raise SizeRefused(
        message("problem_ask.no_size", size=size.strip()[:40]),
        _name_one(names) if names else message("problem_pattern.no_size_at_all"),
    )


def _name_one(names: Sequence[str]) -> Message:
    return message("problem_pattern.name_one", sizes=", ".join(names))


def _put(document: dict[str, Any], name: str, value: object) -> None:
    if value is not None and value != {}:
        document[name] = value


def _title(usable: _Usable) -> str:
    who = _FOR.get(str(usable.value("wearer")), "")
    return f"{who}{usable.value('item') or 'pattern'}"


def _number(value: Decimal) -> int | float:
    return int(value) if value == value.to_integral_value() else float(value)


def _quantity(value: Decimal, unit: str) -> dict[str, Any]:
    return {"value": _number(value), "unit": unit}


def _sizes(usable: _Usable, names: tuple[str, ...]) -> dict[str, Any]:
    """The names, the chosen one, and the finished chest (or width) of each."""
    sizes: dict[str, Any] = {"names": list(names)}
    if usable.chosen is not None:
        sizes["chosen"] = names[usable.chosen]
    for name in ("chest", "width"):
        measure = usable.value(name)
        if isinstance(measure, Measure) and len(measure.values) == len(names) > 1:
            sizes["chest"] = as_json(measure)
            break
    return sizes


def _item(usable: _Usable) -> dict[str, Any]:
    item: dict[str, Any] = {}
    _put(item, "kind", usable.value("item"))
    measurements = {name: _measured(usable, name) for name in MEASURES}
    _put(item, "measurements", {name: each for name, each in measurements.items() if each})
    features = usable.value("features")
    if isinstance(features, WordList):
        item["features"] = [str(feature) for feature in features.items]
    return item


def _measured(usable: _Usable, name: str) -> dict[str, Any] | None:
    """The finished measure of the chosen size, or None while no size is chosen."""
    measure = usable.value(name)
    if not isinstance(measure, Measure):
        return None
    if len(measure.values) == 1:
        return _quantity(measure.values[0], measure.unit)
    if usable.chosen is None or usable.chosen >= len(measure.values):
        return None
    return _quantity(measure.values[usable.chosen], measure.unit)


def _gauge(usable: _Usable) -> dict[str, Any] | None:
    gauge: dict[str, Any] = {}
    for name in ("stitches", "rows"):
        count = usable.value(name)
        _put(gauge, name, _number(count) if isinstance(count, Decimal) else None)
    over = usable.value("over")
    if "stitches" not in gauge or not isinstance(over, Measure):
        return None
    gauge["over"] = _quantity(over.values[0], over.unit)
    pattern = usable.value("pattern")
    if pattern is None and usable.value("craft") == "crochet":
        pattern = OTHER_PATTERN.value
    _put(gauge, "stitch_pattern", pattern)
    _put(gauge, "after_washing", usable.value("washed"))
    return gauge


def _tool(usable: _Usable) -> dict[str, Any] | None:
    tool = usable.value("tool")
    return {"size": tool.size, "system": tool.system} if isinstance(tool, Tool) else None


def _designer_yarn(usable: _Usable) -> dict[str, Any]:
    yarn: dict[str, Any] = {}
    weight, attributes = usable.value("weight"), usable.value("attributes")
    if isinstance(weight, WordList):
        known = [str(name) for name in weight.items if categories_named(str(name))]
        _put(yarn, "weight", known or None)
    if isinstance(attributes, WordList):
        yarn["attributes"] = [str(word) for word in attributes.items]
    _put(yarn, "put_up", _put_up(usable))
    shares = usable.value("fibres")
    if isinstance(shares, WordList):
        yarn["fibres"] = [
            {"fibre": share.fibre, "percent": _number(share.percent)}
            for share in shares.items
            if isinstance(share, Share)
        ]
    for name, key in (("strands", "strands"), ("wraps", "wraps_per_inch")):
        value = usable.value(name)
        _put(yarn, key, _number(value) if isinstance(value, Decimal) else None)
    count = usable.value("count")
    if isinstance(count, str):
        written, _, system = count.rpartition(" ")
        yarn["count"] = {"written": written, "system": system}
    _put(yarn, "care", _care(usable))
    return yarn


def _put_up(usable: _Usable) -> dict[str, Any] | None:
    put_up = usable.value("put_up")
    if not isinstance(put_up, BallPutUp):
        return None
    return {
        "mass": _quantity(put_up.mass, put_up.mass_unit),
        "length": _quantity(put_up.length, put_up.length_unit),
    }


def _care(usable: _Usable) -> dict[str, Any]:
    care: dict[str, Any] = {}
    for axis in CARE_AXES:
        value = usable.value(f"care.{axis}")
        _put(care, axis, int(value) if isinstance(value, Decimal) else value)
    try:
        checked_care(care)
    except InputError as refusal:
        wrong = {problem.place for problem in refusal.problems}
        return {axis: value for axis, value in care.items() if axis not in wrong}
    return care


def _parts(usable: _Usable) -> Iterator[dict[str, Any]]:
    for name, reading in usable.readings.items():
        if name.startswith(_AMOUNT) and isinstance(reading.value, Measure):
            yield {"name": name.removeprefix(_AMOUNT), "amount": _amount(usable, reading.value)}


def _amount(usable: _Usable, measure: Measure) -> dict[str, Any]:
    values = [_number(value) for value in measure.values]
    if measure.unit in ("m", "yd"):
        return {"kind": "length", "values": values, "unit": measure.unit}
    counted = (
        {"kind": "balls"} if measure.unit == "balls" else {"kind": "mass", "unit": measure.unit}
    )
    amount: dict[str, Any] = {**counted, "values": values}
    _put(amount, "put_up", _put_up(usable))
    return amount


def path_of(name: str) -> str:
    """Returns where a field stands in the ask: 'gauge.stitches', 'parts.MC.amount'."""
    if name.startswith(_AMOUNT):
        return f"parts.{name.removeprefix(_AMOUNT)}.amount"
    return PATHS[name]


def as_json(value: Value) -> object:
    """Returns a value that was read as plain JSON."""
    if isinstance(value, Decimal):
        return _number(value)
    if isinstance(value, Measure):
        numbers = [_number(each) for each in value.values]
        return {"values": numbers, "unit": value.unit}
    if isinstance(value, Tool):
        return {"size": value.size, "system": value.system}
    if isinstance(value, BallPutUp | Share):
        return str(value)
    if isinstance(value, WordList):
        return [str(item) for item in value.items]
    return value
