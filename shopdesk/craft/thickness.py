"""How thick a yarn is: its diameter as a solid thread, its wraps, and a first guess at gauge."""

from math import pi, sqrt

from shopdesk.craft.figures import Basis, Figure, spread
from shopdesk.craft.gauge import require_positive
from shopdesk.craft.messages import Message, message
from shopdesk.reference.constants import constant

MM_PER_INCH = 25.4
TEX_PER_CM3_IN_MM = sqrt(4 / (pi * 1000))


def diameter_mm(tex: float, density: float, packing: float) -> float:
    """Returns the diameter in mm of a round yarn from tex, g/cm3 and the share that is fibre.

    0.035682 x root of tex/(density x packing), by the definition of tex.
    """
    require_positive(tex=tex, density=density, packing=packing)
    return TEX_PER_CM3_IN_MM * sqrt(tex / (density * packing))


def ashenhurst_per_inch(yards_per_lb: float, woollen: bool = False) -> float:
    """Returns diameters per inch side by side, Ashenhurst's rule; worsted unless woollen."""
    require_positive(yards_per_lb=yards_per_lb)
    name = "ashenhurst_woollen" if woollen else "ashenhurst_worsted"
    return constant("thickness_models", name).value * sqrt(yards_per_lb)


def peirce_cotton_mm(cotton_count: float) -> float:
    """Returns the diameter in mm of a cotton yarn of English count, Peirce (1937)."""
    require_positive(cotton_count=cotton_count)
    return MM_PER_INCH / (constant("thickness_models", "peirce_cotton").value * sqrt(cotton_count))


def wrapped_mm(wraps_per_inch: float) -> float:
    """Returns the thickness in mm that a wrapping shows: an inch over the wraps."""
    require_positive(wraps_per_inch=wraps_per_inch)
    return MM_PER_INCH / wraps_per_inch


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
