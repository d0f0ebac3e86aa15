"""A stored yarn or colour as plain values, and the reverse."""

from typing import cast

from shopdesk.exchange.blends import Pair
from shopdesk.exchange.columns import Values
from shopdesk.exchange.yarn_fields import EMPTY
from shopdesk.store.models import Colourway, Yarn, YarnAttribute, YarnFibre

_BESIDE = ("fibres", "attributes")
COLOUR_VALUES = ("name", "family", "dark", "gtin", "retired")


def yarn_values(yarn: Yarn) -> Values:
    """Returns what is stored of a yarn, by the names of EMPTY."""
    values: dict[str, object] = {name: getattr(yarn, name) for name in EMPTY if name not in _BESIDE}
    values["fibres"] = tuple((share.fibre, share.percent) for share in yarn.fibres)
    values["attributes"] = tuple(sorted(each.attribute for each in yarn.attributes))
    return values


def set_yarn(yarn: Yarn, values: Values) -> None:
    """Gives a yarn these values; rows of fibres and attributes that it has already are kept."""
    for name, value in values.items():
        if name not in _BESIDE:
            setattr(yarn, name, value)
    _set_blend(yarn, cast(tuple[Pair, ...], values["fibres"]))
    kept = {each.attribute: each for each in yarn.attributes}
    words = cast(tuple[str, ...], values["attributes"])
    yarn.attributes = [kept.get(word) or YarnAttribute(attribute=word) for word in words]


def _set_blend(yarn: Yarn, blend: tuple[Pair, ...]) -> None:
    kept = {share.position: share for share in yarn.fibres}
    lines = []
    for place, (fibre, percent) in enumerate(blend):
        line = kept.get(place) or YarnFibre(position=place)
        line.fibre, line.percent = fibre, percent
        lines.append(line)
    yarn.fibres = lines


def colour_values(colour: Colourway) -> Values:
    """Returns what is stored of a colour, by the names of COLOUR_VALUES."""
    return {name: getattr(colour, name) for name in COLOUR_VALUES}


def set_colour(colour: Colourway, values: Values) -> None:
    """Gives a colour these values."""
    for name in COLOUR_VALUES:
        setattr(colour, name, values[name])
