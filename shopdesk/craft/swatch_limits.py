"""What no swatch can be: rows that no stitches stand on, more length than fabric, false weights.

The bounds are wide (reference/swatch_models.csv): what lies beyond them was counted, weighed or
typed wrongly, and is asked back instead of judged.
"""

from shopdesk.craft.fabric import pattern_metres_per_m2
from shopdesk.craft.figures import Figure
from shopdesk.craft.gauge import require_positive
from shopdesk.craft.item_needs import CM2_PER_M2
from shopdesk.craft.swatch import Gauge, WeighedSwatch, grams_per_cm2
from shopdesk.craft.yarn import Craft
from shopdesk.reference.tables import constant


def rows_can_be(gauge: Gauge, craft: Craft, stitch_pattern: str) -> bool:
    """Returns whether so many rows can stand on so many stitches; True where none are counted.

    The rows of stockinette lie closer than its stitches; other fabrics are given more room.
    """
    if gauge.rows is None:
        return True
    kind = craft.value if stitch_pattern != "stockinette" else stitch_pattern
    least, most = (
        constant("swatch_models", f"rows_{end}_{kind}").value for end in ("least", "most")
    )
    return least <= gauge.rows / gauge.stitches <= most


def fits_on(over_cm: float, side_cm: float) -> bool:
    """Returns whether stitches can be counted over a length on a swatch with such a side in cm."""
    return over_cm <= side_cm + constant("swatch_models", "side_cm").value


def grams_per_m2(swatch: WeighedSwatch) -> float:
    """Returns the mass of a square metre of the swatch in g."""
    return grams_per_cm2(swatch).value * CM2_PER_M2


def mass_can_be(swatch: WeighedSwatch) -> bool:
    """Returns whether any fabric weighs as much, or as little, as the swatch does on its area."""
    least, most = (
        constant("swatch_models", f"grams_per_m2_{end}").value for end in ("least", "most")
    )
    return least <= grams_per_m2(swatch) <= most


def grams_by_yarn(swatch: WeighedSwatch, tex: float, gauge: Gauge, stitch_pattern: str) -> Figure:
    """Returns what a swatch of this size and gauge weighs in a yarn of so many tex, in g.

    Raises UnknownFabric.
    """
    require_positive(tex=tex)
    area_m2 = swatch.width_cm * swatch.height_cm / CM2_PER_M2
    metres = pattern_metres_per_m2(stitch_pattern, gauge.stitches, gauge.rows)
    return metres.scaled(area_m2 * tex / 1000)


def mass_can_be_of(swatch: WeighedSwatch, expected_g: float) -> bool:
    """Returns whether a swatch can weigh what it does where its yarn lets expect `expected_g`."""
    apart = constant("swatch_models", "mass_apart").value
    return expected_g / apart <= swatch.mass_g <= expected_g * apart
