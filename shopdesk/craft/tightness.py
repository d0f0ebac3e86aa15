"""How tight an item is usually worked: its stitches over the yarn's usual stockinette.

Source: reference/tightness.csv, common practice unless marked there.
"""

from collections.abc import Mapping
from functools import cache

from shopdesk.craft.fabric import pattern_fabric
from shopdesk.craft.figures import Basis, Figure, product
from shopdesk.craft.items import item_models
from shopdesk.reference.tables import table


@cache
def tightness_of(item: str, stitch_pattern: str) -> Figure:
    """Returns stitches per 10 cm of the fabric over those of the same yarn's usual stockinette.

    A stitch pattern that has a tightness of its own, such as blocked lace, decides alone;
    otherwise the item's times the width of the pattern's stitches. Knitted only.
    """
    own = _row("stitch pattern", stitch_pattern)
    if own is not None:
        return _figure(own)
    of_item = _row("item", item) or _row("item", _wider(item)) or _row("item", "any")
    assert of_item is not None
    return product(Basis.ESTIMATE, _figure(of_item), pattern_fabric(stitch_pattern).width_ratio)


def natural_from_fabric(stitches: float, item: str, stitch_pattern: str) -> Figure:
    """Returns the usual stockinette of a yarn that is knitted at this gauge, stitches per 10 cm."""
    tight = tightness_of(item, stitch_pattern)
    low, high = stitches / tight.high, stitches / tight.low
    return Figure(stitches / tight.value, low, high, Basis.PATTERN)


def _wider(item: str) -> str:
    model = item_models().get(item)
    return (model.kind_of if model is not None else None) or item


def _row(kind: str, name: str) -> Mapping[str, str] | None:
    rows = table("tightness")
    return next((row for row in rows if (row["kind"], row["name"]) == (kind, name)), None)


def _figure(row: Mapping[str, str]) -> Figure:
    low, value, high = (float(row[column]) for column in ("low", "value", "high"))
    return Figure(value, low, high, Basis.ESTIMATE)
