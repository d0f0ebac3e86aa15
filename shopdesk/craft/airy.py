"""Yarns whose construction holds air: their length per mass says little of gauge and fabric."""

from functools import cache

from shopdesk.craft.figures import Basis, Figure
from shopdesk.craft.yarn import Construction
from shopdesk.reference.tables import table


@cache
def air_of(construction: Construction | None) -> Figure | None:
    """Returns metres per 100 g over those of a plied yarn that knits the same; None: not airy.

    Source: reference/airy_yarns.csv, common practice.
    """
    for row in table("airy_yarns"):
        if row["construction"] == construction:
            low, value, high = (float(row[column]) for column in ("low", "value", "high"))
            return Figure(value, low, high, Basis.ESTIMATE)
    return None
