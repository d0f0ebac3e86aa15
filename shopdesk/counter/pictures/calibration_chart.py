"""The calibration's picture: each swatch's deviation beside the range stated of its yarn."""

import math
from collections.abc import Sequence
from dataclasses import dataclass

from shopdesk.counter.pictures.gauge_ruler import short_name
from shopdesk.craft.deviations import Deviation
from shopdesk.services.calibration import YarnCalibration

WIDTH = 640.0
LEFT, RIGHT = 190.0, 24.0
TOP, ROW = 34.0, 30.0
MOST_ROWS = 12
MARK = 5.0
WIDEST_PERCENT = 40


@dataclass(frozen=True, slots=True)
class Mark:
    """One swatch: asked-for ones are discs, the others crosses. `beyond`: it lies off the edge."""

    x: float
    unbiased: bool
    beyond: bool
    percent: float


@dataclass(frozen=True, slots=True)
class YarnRow:
    """One yarn: the range stated of it, and its swatches."""

    name: str
    y: float
    x_low: float
    x_high: float
    marks: tuple[Mark, ...]


@dataclass(frozen=True, slots=True)
class PercentTick:
    """One number of the scale."""

    x: float
    label: str


@dataclass(frozen=True, slots=True)
class CalibrationChart:
    """Everything the template draws. `zero_x` is where a swatch lies that is as stated."""

    width: float
    height: float
    zero_x: float
    ticks: tuple[PercentTick, ...]
    rows: tuple[YarnRow, ...]
    size: float = MARK


def calibration_chart(yarns: Sequence[YarnCalibration]) -> CalibrationChart | None:
    """Returns the chart of the yarns with most swatches, in their order; None without any."""
    shown = yarns[:MOST_ROWS]
    if not shown:
        return None
    scale = _Scale(shown)
    rows = tuple(_row(yarn, TOP + ROW * (place + 0.5), scale) for place, yarn in enumerate(shown))
    return CalibrationChart(
        width=WIDTH,
        height=TOP + ROW * len(rows) + 8,
        zero_x=scale.x(0.0),
        ticks=scale.ticks(),
        rows=rows,
    )


def percent_ends(yarn: YarnCalibration) -> tuple[float, float]:
    """Returns the ends of the stated range in percent of the stated value."""
    stated = yarn.stated
    return (stated.low / stated.value - 1) * 100, (stated.high / stated.value - 1) * 100


class _Scale:
    """Maps percent above or below the stated value to the picture, as far to either side."""

    def __init__(self, yarns: Sequence[YarnCalibration]) -> None:
        reach = [abs(end) for yarn in yarns for end in percent_ends(yarn)]
        reach += [abs(one.share) * 100 for yarn in yarns for one in yarn.deviations]
        self.most = min(WIDEST_PERCENT, 5 * math.ceil(max(reach) / 5 + 0.2))

    def x(self, percent: float) -> float:
        held = max(-self.most, min(self.most, percent))
        return round(LEFT + (held + self.most) / (2 * self.most) * (WIDTH - LEFT - RIGHT), 2)

    def ticks(self) -> tuple[PercentTick, ...]:
        step = 5 if self.most <= 20 else 10
        most = self.most - self.most % step
        return tuple(
            PercentTick(self.x(n), f"{n:+d}" if n else "0") for n in range(-most, most + 1, step)
        )


def _row(yarn: YarnCalibration, y: float, scale: _Scale) -> YarnRow:
    low, high = percent_ends(yarn)
    marks = tuple(_mark(one, scale) for one in yarn.deviations)
    return YarnRow(short_name(yarn.name), y, scale.x(low), scale.x(high), marks)


def _mark(one: Deviation, scale: _Scale) -> Mark:
    percent = one.share * 100
    return Mark(scale.x(percent), one.unbiased, abs(percent) > scale.most, round(percent, 1))
