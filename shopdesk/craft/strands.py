"""Strands held together: tex add up, and the gauge follows the thicker bundle."""

from collections.abc import Sequence
from math import fsum, log

from shopdesk.craft.figures import Basis, Figure
from shopdesk.craft.gauge import require_positive
from shopdesk.craft.messages import message
from shopdesk.reference.tables import constant


def combined_tex(texes: Sequence[float]) -> float:
    """Returns the tex of strands held together: their sum. Raises ValueError if there are none."""
    _require_strands(texes)
    return fsum(texes)


def combined_stitches(figures: Sequence[Figure]) -> Figure:
    """Returns stitches per 10 cm of strands held together from the gauge of each alone.

    With added tex the bundle's diameter grows as the root of the sum of squares, so two equal
    strands give 0.707 of the gauge; practice has 0.67-0.73, which sets the interval. The order
    of the strands makes no difference. Raises ValueError if there are none.
    """
    _require_strands([figure.low for figure in figures])
    if len(figures) == 1:
        return figures[0]
    share = constant("strand_models", "two_equal_strands")
    return Figure(
        _by_power([figure.value for figure in figures], share.value),
        _by_power([figure.low for figure in figures], share.low),
        _by_power([figure.high for figure in figures], share.high),
        Basis.ESTIMATE,
        (message("amount.strands_together", count=len(figures)),),
    )


def combined_value(gauges: Sequence[float]) -> float:
    """Returns the likeliest stitches per 10 cm of strands together, as `combined_stitches` has it.

    Raises ValueError if there are none.
    """
    _require_strands(gauges)
    if len(gauges) == 1:
        return gauges[0]
    return _by_power(gauges, constant("strand_models", "two_equal_strands").value)


def partner_value(together: float, one: float) -> float | None:
    """Returns the gauge of the strand that with `one` gives `together`, in stitches per 10 cm.

    None where there is none: strands together are coarser than each. The inverse of
    `combined_value`.
    """
    require_positive(together=together, one=one)
    power = log(2) / -log(constant("strand_models", "two_equal_strands").value)
    rest = float(together**-power - one**-power)
    return float(rest ** (-1 / power)) if rest > 0 else None


def _by_power(gauges: Sequence[float], share_of_two: float) -> float:
    power = log(2) / -log(share_of_two)
    return float(fsum(gauge**-power for gauge in gauges) ** (-1 / power))


def _require_strands(values: Sequence[float]) -> None:
    if not values:
        raise ValueError("there must be at least one strand")
    for value in values:
        require_positive(strand=value)
