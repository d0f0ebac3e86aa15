"""How thick a yarn is: its diameter as a solid thread, its wraps, and a first guess at gauge."""

from math import pi, sqrt

from shopdesk.craft.figures import Basis, Figure, spread
from shopdesk.craft.gauge import require_positive
from shopdesk.craft.messages import Message, message
from shopdesk.reference.tables import constant

TEX_PER_CM3_IN_MM = sqrt(4 / (pi * 1000))


def diameter_mm(tex: float, density: float, packing: float) -> float:
    """Returns the diameter in mm of a round yarn from tex, g/cm3 and the share that is fibre.

    0.035682 x root of tex/(density x packing), by the definition of tex.
    """
    require_positive(tex=tex, density=density, packing=packing)
    return TEX_PER_CM3_IN_MM * sqrt(tex / (density * packing))


def wraps_per_inch(wraps: float, over_inches: float) -> float:
    """Returns wraps per inch from wraps counted over a length in inches."""
    require_positive(wraps=wraps, over_inches=over_inches)
    return wraps / over_inches


def wraps_from_length(metres_per_100g: float, density: float | None = None) -> Figure:
    """Returns the wraps per inch to expect of one reading, from metres per 100 g and g/cm3.

    A wool fit (reference/thickness_models.csv) carried over to other fibres by density; an
    unknown density widens the interval. Wraps are a wrapping convention, not a diameter.
    """
    require_positive(metres_per_100g=metres_per_100g)
    reading = constant("thickness_models", "wraps_reading").value
    fit = constant("thickness_models", "wraps_constant").value
    return _by_density(fit * sqrt(metres_per_100g), reading, density)


def gauge_from_length(metres_per_100g: float, density: float | None = None) -> Figure | None:
    """Returns a first guess at stockinette stitches per 10 cm from metres per 100 g and g/cm3.

    None outside the 150-450 m/100 g that the fit covers; density as in `wraps_from_length`.
    """
    require_positive(metres_per_100g=metres_per_100g)
    shortest = constant("thickness_models", "gauge_shortest").value
    longest = constant("thickness_models", "gauge_longest").value
    if not shortest <= metres_per_100g <= longest:
        return None
    reach = constant("thickness_models", "gauge_reach").value
    fit = constant("thickness_models", "gauge_constant").value
    note = message("amount.gauge_from_length")
    return _by_density(fit * sqrt(metres_per_100g), reach, density, note)


def _by_density(value: float, share: float, density: float | None, *notes: Message) -> Figure:
    wool = constant("thickness_models", "wool_density")
    if density is not None:
        require_positive(density=density)
        return spread(value * sqrt(density / wool.value), share, Basis.ESTIMATE, *notes)
    return Figure(
        value,
        value * (1 - share) * sqrt(wool.low / wool.value),
        value * (1 + share) * sqrt(wool.high / wool.value),
        Basis.ESTIMATE,
        (*notes, message("amount.density_unknown")),
    )
