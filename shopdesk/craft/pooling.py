"""A yarn's own gauge out of many swatches: each hand counts once, an outlier for little.

Every hand's readings and the prior are taken as draws around the yarn's gauge with the heavy
tails of Student's t (4 degrees of freedom) and known spreads (reference/swatch_models.csv). The
posterior is summed on a grid of log gauge, its median is the value, its 5th and 95th percentile
the interval.
"""

from collections.abc import Hashable, Sequence
from dataclasses import dataclass
from functools import lru_cache
from itertools import pairwise
from math import exp, hypot, log, log1p, sqrt
from statistics import fmean, median

from shopdesk.craft.figures import Basis, Figure
from shopdesk.craft.messages import Message, message
from shopdesk.craft.yarn import Craft, Measurement, MeasurementKind
from shopdesk.reference.tables import constant

T4_95TH = 2.1318
COARSE, FINE = 60, 160
FAINTEST = 9.0
_SHARES = (0.05, 0.5, 0.95)


@dataclass(frozen=True, slots=True)
class _Opinion:
    """One hand's (or the prior's) log gauge, with the scale of its error below and above."""

    centre: float
    below: float
    above: float


def pooled_stitches(
    measurements: Sequence[Measurement],
    prior: Figure | None = None,
    at_tool_mm: float | None = None,
    craft: Craft = Craft.KNIT,
) -> Figure | None:
    """Returns the yarn's stitches per 10 cm from its swatches and what was held before them.

    Only stockinette swatches of `craft` of one strand count (of any pattern for crochet).
    `at_tool_mm` moves swatches on other tools to that tool, less surely the further they are.
    Swatches of one named hand, or of one slip without a name, are joined before hands are.
    Evidence that agrees narrows the interval, an outlier hardly moves it and is named in the
    notes. Swatches that came back unasked are mostly those that were off: they move the value,
    and the interval's width is that of all other evidence, where there is any. With no swatch
    the prior comes back as it is, None if there is none.
    """
    usable = [m for m in measurements if is_plain_swatch(m, craft) and m.stitches]
    if not usable:
        return prior
    hands = _hands(usable, at_tool_mm)
    of_prior = [_prior_opinion(prior)] if prior is not None else []
    low, value, high = _percentiles((*hands, *of_prior), _SHARES)
    notes = [message("swatch.pooled", count=len(usable)), *_outliers(hands, value)]
    unbiased = [m for m in usable if came_back_unbiased(m)]
    surer = [*_hands(unbiased, at_tool_mm), *of_prior]
    if surer and len(unbiased) < len(usable):
        below, middle, above = _percentiles(tuple(surer), _SHARES)
        low, high = value - (middle - below), value + (above - middle)
        notes.insert(1, message("swatch.unasked", count=len(usable) - len(unbiased)))
    return Figure(exp(value), exp(low), exp(high), Basis.SHOP, tuple(notes))


def came_back_unbiased(measurement: Measurement) -> bool:
    """Returns True for a swatch that was made in the shop or that the shop had asked for."""
    return measurement.asked_for or not measurement.from_customer


def stitches_on(measurement: Measurement, at_tool_mm: float | None) -> float:
    """Returns what a swatch would count per 10 cm on another tool, by the usual step in gauge.

    Without one of the two tools it is taken as it was counted. Raises ValueError for a
    measurement without stitches.
    """
    if measurement.stitches is None:
        raise ValueError("no stitches were counted")
    return exp(_reading(measurement, at_tool_mm)[0])


def is_plain_swatch(measurement: Measurement, craft: Craft) -> bool:
    """Returns True for a swatch that shows the yarn's own gauge: plain, of one strand."""
    if measurement.kind is not MeasurementKind.SWATCH or measurement.craft is not craft:
        return False
    plain = craft is Craft.CROCHET or measurement.stitch_pattern == "stockinette"
    return plain and measurement.strands == 1


def _hands(usable: Sequence[Measurement], at_tool_mm: float | None) -> list[_Opinion]:
    readings: dict[Hashable, list[tuple[float, float]]] = {}
    for place, measurement in enumerate(usable):
        readings.setdefault(_hand_of(measurement, place), []).append(
            _reading(measurement, at_tool_mm)
        )
    between = constant("swatch_models", "between_hands").value
    opinions = []
    for of_one_hand in readings.values():
        centre = median(x for x, _ in of_one_hand)
        variance = fmean(spread**2 for _, spread in of_one_hand) / len(of_one_hand)
        scale = sqrt(between**2 + variance)
        opinions.append(_Opinion(centre, scale, scale))
    return sorted(opinions, key=lambda opinion: (opinion.centre, opinion.below))


def _hand_of(measurement: Measurement, place: int) -> Hashable:
    if measurement.hand:
        return ("hand", measurement.by, measurement.hand)
    if measurement.slip_number is not None:
        return ("slip", measurement.slip_number)
    if measurement.by and not measurement.from_customer:
        return ("by", measurement.by)
    return place


def _reading(measurement: Measurement, at_tool_mm: float | None) -> tuple[float, float]:
    """Returns the log of one swatch's stitches on the wanted tool, and its own spread."""
    stitches = measurement.stitches
    assert stitches is not None
    spread = constant("gauge_models", "gauge_reading").value
    if measurement.washed is False:
        spread = hypot(spread, constant("swatch_models", "unwashed").value)
    if at_tool_mm is None or measurement.tool_mm is None:
        return log(stitches), spread
    exponent = constant("gauge_models", "tool_exponent")
    steps = log(measurement.tool_mm / at_tool_mm)
    of_the_move = abs(steps) * (exponent.high - exponent.low) / 4
    return log(stitches) + exponent.value * steps, hypot(spread, of_the_move)


def _prior_opinion(prior: Figure) -> _Opinion:
    """Returns the prior with its interval as its 5th to 95th percentile.

    What a band says is not granted a narrower spread than its table value, so that the shop's
    own swatches outrank it.
    """
    finest = constant("swatch_models", "prior_at_best").value
    below = log(prior.value / prior.low) / T4_95TH
    above = log(prior.high / prior.value) / T4_95TH
    return _Opinion(log(prior.value), max(finest, below), max(finest, above))


def _log_likelihood(x: float, opinion: _Opinion, tails: float) -> float:
    scale = opinion.below if x < opinion.centre else opinion.above
    off = (x - opinion.centre) / scale
    return -(tails + 1) / 2 * log1p(off * off / tails)


@lru_cache(maxsize=4096)
def _percentiles(opinions: tuple[_Opinion, ...], shares: tuple[float, ...]) -> tuple[float, ...]:
    """Returns percentiles of the posterior, on a grid laid again where its mass is."""
    widest = max(max(opinion.below, opinion.above) for opinion in opinions)
    start = min(opinion.centre for opinion in opinions) - 8 * widest
    end = max(opinion.centre for opinion in opinions) + 8 * widest
    centres = [opinion.centre for opinion in opinions]
    for _ in range(2):
        points, heights = _posterior(opinions, [*_grid(start, end, COARSE), *centres])
        seen = [x for x, height in zip(points, heights, strict=True) if height > -FAINTEST]
        step = (end - start) / COARSE
        start, end = min(seen) - step, max(seen) + step
    grid, heights = _posterior(opinions, _grid(start, end, FINE))
    return _percentiles_of(grid, [exp(height) for height in heights], shares)


def _grid(start: float, end: float, steps: int) -> list[float]:
    return [start + (end - start) * step / steps for step in range(steps + 1)]


def _posterior(
    opinions: Sequence[_Opinion], points: list[float]
) -> tuple[list[float], list[float]]:
    """Returns the points and the posterior's log height at each, the highest being 0."""
    tails = constant("swatch_models", "tails").value
    heights = [sum(_log_likelihood(x, opinion, tails) for opinion in opinions) for x in points]
    highest = max(heights)
    return points, [height - highest for height in heights]


def _percentiles_of(
    grid: Sequence[float], density: Sequence[float], shares: Sequence[float]
) -> tuple[float, ...]:
    mass = [0.0]
    for one, next_one in pairwise(density):
        mass.append(mass[-1] + one + next_one)
    return tuple(_crossing(grid, mass, share * mass[-1]) for share in shares)


def _crossing(grid: Sequence[float], mass: Sequence[float], wanted: float) -> float:
    place = next(place for place in range(1, len(mass)) if mass[place] >= wanted)
    before, here = mass[place - 1], mass[place]
    part = (wanted - before) / (here - before)
    return grid[place - 1] + part * (grid[place] - grid[place - 1])


def _outliers(hands: Sequence[_Opinion], centre: float) -> list[Message]:
    far = constant("swatch_models", "outlier").value
    return [
        message("swatch.outlier", got_st=exp(hand.centre))
        for hand in hands
        if abs(hand.centre - centre) > far * hand.below
    ]
