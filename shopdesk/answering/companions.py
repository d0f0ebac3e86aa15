"""Yarns fine enough to be held along with another, sorted so that those that fit are found."""

from bisect import bisect_left, bisect_right
from collections.abc import Iterable, Sequence

from shopdesk.answering.brief import Brief
from shopdesk.answering.windows import Window, wider
from shopdesk.craft.counts import metres_per_100g
from shopdesk.craft.strands import partner_value

LACE_METRES_PER_100G = 500.0


def is_companion(yarn: Brief) -> bool:
    """True if a yarn is fine enough to be held along with another as its lace strand."""
    return yarn.tex is not None and metres_per_100g(yarn.tex.value) >= LACE_METRES_PER_100G


class Companions:
    """The companions of a shelf, by their gauge and by their tex."""

    def __init__(self, yarns: Iterable[Brief] = ()) -> None:
        known = [yarn for yarn in yarns if is_companion(yarn)]
        gauges = [(one.natural_stitches.value, one) for one in known if one.natural_stitches]
        self._by_gauge = sorted(gauges, key=_figure)
        self._by_tex = sorted([(one.tex.value, one) for one in known if one.tex], key=_figure)

    @property
    def gauges(self) -> Window | None:
        """The coarsest and the finest natural gauge of them, in stitches per 10 cm."""
        return (self._by_gauge[0][0], self._by_gauge[-1][0]) if self._by_gauge else None

    @property
    def texes(self) -> Window | None:
        """The finest and the thickest of them, in tex."""
        return (self._by_tex[0][0], self._by_tex[-1][0]) if self._by_tex else None

    def to_gauge(self, stitches: float, wanted: Window) -> list[Brief]:
        """Returns those that bring a yarn of this gauge into the window, in stitches per 10 cm."""
        low, high = (partner_value(edge, stitches) for edge in wider(*wanted))
        if low is None:
            return []
        return _between(self._by_gauge, low, float("inf") if high is None else high)

    def to_tex(self, tex: float, wanted: Window) -> list[Brief]:
        """Returns those that bring a yarn of this tex into the window, in tex."""
        low, high = wider(*wanted)
        return _between(self._by_tex, low - tex, high - tex)


def _between(ordered: Sequence[tuple[float, Brief]], low: float, high: float) -> list[Brief]:
    first = bisect_left(ordered, low, key=_figure)
    last = bisect_right(ordered, high, key=_figure)
    return [yarn for _, yarn in ordered[first:last]]


def _figure(each: tuple[float, Brief]) -> float:
    return each[0]
