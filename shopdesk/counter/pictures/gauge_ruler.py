"""The gauge ruler: stitches per 10 cm, the pattern's mark, each candidate's plausible interval."""

import math
from collections.abc import Sequence
from dataclasses import dataclass

from shopdesk.answering.model.answer import Candidate, Suitability
from shopdesk.craft.figures import Figure

WIDTH = 640.0
LEFT, RIGHT = 190.0, 20.0
TOP, ROW = 34.0, 26.0
LONGEST_NAME = 26
MOST_ROWS = 12


@dataclass(frozen=True, slots=True)
class Bar:
    """One yarn's interval on the ruler, in picture units, with its numbers."""

    name: str
    y: float
    x_low: float
    x_value: float
    x_high: float
    stitches: float
    low: float
    high: float
    measured: bool
    estimated: bool


@dataclass(frozen=True, slots=True)
class Tick:
    """One number of the ruler."""

    x: float
    label: str


@dataclass(frozen=True, slots=True)
class GaugeRuler:
    """Everything the template draws."""

    width: float
    height: float
    ticks: tuple[Tick, ...]
    wanted_x: float
    wanted: float
    wanted_low_x: float
    wanted_high_x: float
    bars: tuple[Bar, ...]


def gauge_ruler(wanted: Figure | None, candidates: Sequence[Candidate]) -> GaugeRuler | None:
    """Returns the ruler for the nearest candidates; None without a gauge to aim at.

    `wanted` is the target's natural gauge in stitches per 10 cm.
    """
    shown = [
        (c.name, c.profile.natural_stitches)
        for c in candidates
        if c.profile.natural_stitches is not None
        and c.group is not Suitability.NOT_FOR_THIS
        and c.strands == 1
        and c.companion is None
    ][:MOST_ROWS]
    if wanted is None or not shown:
        return None
    scale = _Scale([wanted, *(figure for _, figure in shown if figure is not None)])
    bars = tuple(
        _bar(name, figure, TOP + ROW * (index + 0.5), scale)
        for index, (name, figure) in enumerate(shown)
        if figure is not None
    )
    return GaugeRuler(
        width=WIDTH,
        height=TOP + ROW * len(bars) + 8,
        ticks=scale.ticks(),
        wanted_x=scale.x(wanted.value),
        wanted=round(wanted.value, 1),
        wanted_low_x=scale.x(wanted.low),
        wanted_high_x=scale.x(wanted.high),
        bars=bars,
    )


class _Scale:
    """Maps stitches per 10 cm to the picture, over whole numbers around all figures."""

    def __init__(self, figures: Sequence[Figure]) -> None:
        self.low = math.floor(min(figure.low for figure in figures)) - 1
        self.high = math.ceil(max(figure.high for figure in figures)) + 1

    def x(self, stitches: float) -> float:
        share = (stitches - self.low) / (self.high - self.low)
        return round(LEFT + share * (WIDTH - LEFT - RIGHT), 2)

    def ticks(self) -> tuple[Tick, ...]:
        step = max(1, math.ceil((self.high - self.low) / 12))
        return tuple(Tick(self.x(n), str(n)) for n in range(self.low, self.high + 1, step))


def short_name(name: str) -> str:
    """Returns a yarn's name as the margin of a picture has room for it."""
    return name if len(name) <= LONGEST_NAME else name[: LONGEST_NAME - 1] + "…"


def _bar(name: str, figure: Figure, y: float, scale: _Scale) -> Bar:
    return Bar(
        name=short_name(name),
        y=y,
        x_low=scale.x(figure.low),
        x_value=scale.x(figure.value),
        x_high=scale.x(figure.high),
        stitches=round(figure.value, 1),
        low=round(figure.low, 1),
        high=round(figure.high, 1),
        measured=figure.basis.value == "shop measurement",
        estimated=figure.basis.value == "estimate",
    )
