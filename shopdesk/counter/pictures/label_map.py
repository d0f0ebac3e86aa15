"""The label check's picture: length per 100 g against gauge, the standard's ranges as boxes."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from math import log

from shopdesk.answering.label.check import CheckedLabel
from shopdesk.craft.figures import Basis
from shopdesk.craft.weights import categories

WIDTH, HEIGHT = 760.0, 460.0
LEFT, RIGHT, TOP, FOOT = 58.0, 14.0, 24.0, 44.0
STITCHES = (5.0, 42.0)
METRES = (40.0, 1200.0)
LENGTHS = (50, 100, 200, 400, 800)
GAUGES = (6, 8, 10, 12, 15, 20, 25, 30, 40)
MOST_NAMED = 14
LETTER, LINE = 6.4, 13.0


@dataclass(frozen=True, slots=True)
class Box:
    """The range of one category, in picture units."""

    number: int
    name: str
    x: float
    y: float
    width: float
    height: float


@dataclass(frozen=True, slots=True)
class Mark:
    """One yarn; an odd one has its name beside it, `anchor` tells on which side."""

    sku: str
    name: str
    x: float
    y: float
    odd: bool
    estimated: bool
    stitches: float
    metres: float
    label: str = ""
    label_x: float = 0.0
    label_y: float = 0.0
    anchor: str = "start"


@dataclass(frozen=True, slots=True)
class LabelMap:
    """Everything that the template draws; `left_out` lack a gauge or a length."""

    width: float
    height: float
    boxes: tuple[Box, ...]
    marks: tuple[Mark, ...]
    x_ticks: tuple[tuple[float, int], ...]
    y_ticks: tuple[tuple[float, int], ...]
    left_out: int


def label_map(checked: Sequence[CheckedLabel]) -> LabelMap:
    """Returns the picture of these yarns, the odd ones named."""
    marks = [mark for one in checked if (mark := _mark(one)) is not None]
    odd = [mark for mark in marks if mark.odd]
    plain = [mark for mark in marks if not mark.odd]
    return LabelMap(
        WIDTH,
        HEIGHT,
        tuple(_boxes()),
        (*plain, *_named(odd)),
        tuple((x_of(number), number) for number in GAUGES),
        tuple((y_of(number), number) for number in LENGTHS),
        len(checked) - len(marks),
    )


def x_of(stitches: float) -> float:
    """Returns where a gauge in stitches per 10 cm lies, on a logarithmic scale."""
    low, high = STITCHES
    share = log(min(max(stitches, low), high) / low) / log(high / low)
    return round(LEFT + share * (WIDTH - LEFT - RIGHT), 1)


def y_of(metres: float) -> float:
    """Returns where a length in metres per 100 g lies, more metres higher up."""
    low, high = METRES
    share = log(min(max(metres, low), high) / low) / log(high / low)
    return round(HEIGHT - FOOT - share * (HEIGHT - TOP - FOOT), 1)


def _boxes() -> Iterable[Box]:
    for each in categories():
        x, right = x_of(each.knit_low or 0.1), x_of(each.knit_high or 999)
        y, foot = y_of(each.metres_high or 9999), y_of(each.metres_low or 0.1)
        name = each.name.lower()
        yield Box(each.number, name, x, y, round(right - x, 1), round(foot - y, 1))


def _mark(checked: CheckedLabel) -> Mark | None:
    stitches, metres = checked.profile.natural_stitches, checked.profile.metres_per_100g
    if stitches is None or metres is None:
        return None
    return Mark(
        checked.yarn.sku,
        checked.yarn.name,
        x_of(stitches.value),
        y_of(metres.value),
        checked.contradicted,
        stitches.basis is Basis.ESTIMATE,
        round(stitches.value, 1),
        round(metres.value),
    )


def _named(odd: Sequence[Mark]) -> list[Mark]:
    """Sets each name beside its mark, moved down where it would lie on one that is set."""
    taken: list[tuple[float, float, float]] = []
    named = []
    for place, mark in enumerate(sorted(odd, key=lambda mark: mark.y)):
        if place >= MOST_NAMED:
            named.append(mark)
            continue
        wide = len(mark.name) * LETTER
        left = mark.x + 9 + wide > WIDTH - RIGHT
        start, y = (mark.x - 9 - wide if left else mark.x + 9), mark.y + 4
        while any(abs(y - other) < LINE and start < end and begin < start + wide
                  for begin, end, other in taken):  # fmt: skip
            y += LINE
        taken.append((start, start + wide, y))
        named.append(_with_label(mark, mark.x - 9 if left else mark.x + 9, y, left))
    return named


def _with_label(mark: Mark, x: float, y: float, left: bool) -> Mark:
    anchor = "end" if left else "start"
    return Mark(
        mark.sku, mark.name, mark.x, mark.y, mark.odd, mark.estimated, mark.stitches, mark.metres,
        mark.name, round(x, 1), round(y, 1), anchor,
    )  # fmt: skip
