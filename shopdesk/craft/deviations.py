"""How well stated ranges held: swatches beside what was said of their yarn before they came."""

from collections.abc import Sequence
from dataclasses import dataclass
from math import hypot
from statistics import fmean, stdev

from shopdesk.craft.figures import Figure
from shopdesk.reference.tables import constant


@dataclass(frozen=True, slots=True)
class Deviation:
    """One swatch: its stitches per 10 cm on the band's tool, beside the range stated before it.

    `unbiased`: it was made in the shop, or the shop had asked for it.
    """

    stitches: float
    stated: Figure
    unbiased: bool

    @property
    def share(self) -> float:
        """By what share the swatch lies above the stated value (below, if negative)."""
        return self.stitches / self.stated.value - 1

    @property
    def inside(self) -> bool:
        """Whether it lies in the stated range."""
        return self.stated.low <= self.stitches <= self.stated.high


@dataclass(frozen=True, slots=True)
class Calibration:
    """What several swatches say together: how many lay in range, and how far off they were.

    `mean_share` is their mean deviation; `spread_share` one standard deviation around it, None
    for fewer than two.
    """

    count: int
    inside: int
    mean_share: float
    spread_share: float | None


def calibration_of(deviations: Sequence[Deviation]) -> Calibration | None:
    """Returns what the deviations say together, None where there is none."""
    if not deviations:
        return None
    shares = [one.share for one in deviations]
    spread = stdev(shares) if len(shares) > 1 else None
    return Calibration(len(shares), sum(one.inside for one in deviations), fmean(shares), spread)


def reckoned_spread() -> float:
    """Returns the share by which one swatch strays from its yarn, as the shop reckons with.

    One standard deviation: one hand from the next, and what a reading may be off.
    """
    between = constant("swatch_models", "between_hands").value
    return hypot(between, constant("gauge_models", "gauge_reading").value)
