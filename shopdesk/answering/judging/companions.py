"""Strands held together, taken as one yarn, and yarns fine enough to be held along with another."""

from bisect import bisect_left, bisect_right
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from functools import cache, cached_property

from shopdesk.answering.model.answer import Profile
from shopdesk.answering.profile.summary import YarnSummary
from shopdesk.answering.thresholds import Window, threshold, wider
from shopdesk.craft.counts import metres_per_100g
from shopdesk.craft.figures import Basis, Figure
from shopdesk.craft.strands import combined_stitches, combined_tex, combined_value, partner_value

MOST_STRANDS = 4
Sized = Profile | YarnSummary


@dataclass(frozen=True, slots=True)
class StrandCombination:
    """What is on the needles: `strands` of the main yarn, and perhaps one strand of a companion."""

    strands: int
    companion: YarnSummary | None
    tex: Figure | None
    stitches: Figure | None
    density: float | None

    @property
    def total_strands(self) -> int:
        """All strands on the needle, the companion's included."""
        return self.strands + (1 if self.companion else 0)

    @property
    def metres_per_100g(self) -> Figure | None:
        """Length per 100 g of all strands together."""
        return length_figure(self.tex)

    @property
    def volume_tex(self) -> float | None:
        """Tex over density: the yarn's cross-section, or None where either is unknown."""
        if self.tex is None or self.density is None:
            return None
        return self.tex.value / self.density


def length_figure(tex: Figure | None) -> Figure | None:
    """Returns m per 100 g of a Figure in tex."""
    if tex is None:
        return None
    low, high = metres_per_100g(tex.high), metres_per_100g(tex.low)
    return Figure(metres_per_100g(tex.value), low, high, tex.basis, tex.notes)


def held_alone(yarn: Sized, strands: int = 1) -> StrandCombination:
    """Returns `strands` equal strands of one yarn, taken as one."""
    density = yarn.density.value if yarn.density else None
    if strands == 1:
        return StrandCombination(1, None, yarn.tex, yarn.natural_stitches, density)
    tex = _added([yarn.tex] * strands)
    return StrandCombination(strands, None, tex, _combined([yarn] * strands), density)


def held_with(yarn: Sized, companion: YarnSummary) -> StrandCombination:
    """Returns one strand of a yarn together with one of a companion yarn."""
    both = (yarn, companion)
    tex = _added([one.tex for one in both])
    return StrandCombination(1, companion, tex, _combined(both), _mixed_density(both))


@cache
def share_of_gauge(strands: int) -> float:
    """Returns the gauge of so many equal strands, as a share of the gauge of one."""
    return combined_value([1.0] * strands)


def _added(figures: Sequence[Figure | None]) -> Figure | None:
    known = [figure for figure in figures if figure is not None]
    if len(known) != len(figures):
        return None
    basis = _weakest(known)
    return Figure(
        combined_tex([f.value for f in known]),
        combined_tex([f.low for f in known]),
        combined_tex([f.high for f in known]),
        basis,
    )


def _weakest(figures: Sequence[Figure]) -> Basis:
    order = list(Basis)
    return max((figure.basis for figure in figures), key=order.index)


def _combined(strands: Sequence[Sized]) -> Figure | None:
    figures = [one.natural_stitches for one in strands]
    known = [figure for figure in figures if figure is not None]
    return combined_stitches(known) if len(known) == len(figures) else None


def _mixed_density(strands: Sequence[Sized]) -> float | None:
    volume = mass = 0.0
    for one in strands:
        if one.tex is None or one.density is None:
            return None
        mass += one.tex.value
        volume += one.tex.value / one.density.value
    return mass / volume


def is_companion(yarn: YarnSummary) -> bool:
    """True if a yarn is fine enough to be held along with another as its lace strand."""
    finest = threshold("companion_length")
    return yarn.tex is not None and metres_per_100g(yarn.tex.value) >= finest


class Companions:
    """The companions of a shelf, by their gauge and by their tex.

    `yarns` is gone through when a companion is first looked for: mostly none is.
    """

    def __init__(self, yarns: Iterable[YarnSummary] = ()) -> None:
        self._yarns = yarns

    @cached_property
    def _known(self) -> list[YarnSummary]:
        return [yarn for yarn in self._yarns if is_companion(yarn)]

    @cached_property
    def _by_gauge(self) -> list[tuple[float, YarnSummary]]:
        known = self._known
        gauges = [(one.natural_stitches.value, one) for one in known if one.natural_stitches]
        return sorted(gauges, key=_figure)

    @cached_property
    def _by_tex(self) -> list[tuple[float, YarnSummary]]:
        return sorted([(one.tex.value, one) for one in self._known if one.tex], key=_figure)

    @property
    def gauges(self) -> Window | None:
        """The coarsest and the finest natural gauge of them, in stitches per 10 cm."""
        return (self._by_gauge[0][0], self._by_gauge[-1][0]) if self._by_gauge else None

    @property
    def texes(self) -> Window | None:
        """The finest and the thickest of them, in tex."""
        return (self._by_tex[0][0], self._by_tex[-1][0]) if self._by_tex else None

    def to_gauge(self, stitches: float, wanted: Window) -> list[YarnSummary]:
        """Returns those that bring a yarn of this gauge into the window, in stitches per 10 cm.

        Those come first that bring it nearest to the middle.
        """
        low, high = (partner_value(edge, stitches) for edge in wider(*wanted))
        if low is None:
            return []
        finest = self.gauges[1] if self.gauges else 0.0
        middle = partner_value((wanted[0] + wanted[1]) / 2, stitches) or finest
        return _between(self._by_gauge, low, float("inf") if high is None else high, middle)

    def to_tex(self, tex: float, wanted: Window) -> list[YarnSummary]:
        """Returns those that bring a yarn of this tex into the window, nearest to its middle first.

        Both are in tex.
        """
        low, high = wider(*wanted)
        middle = (wanted[0] + wanted[1]) / 2 - tex
        return _between(self._by_tex, low - tex, high - tex, middle)


def _between(
    ordered: Sequence[tuple[float, YarnSummary]], low: float, high: float, middle: float
) -> list[YarnSummary]:
    first = bisect_left(ordered, low, key=_figure)
    last = bisect_right(ordered, high, key=_figure)
    near = sorted(ordered[first:last], key=lambda each: (abs(each[0] - middle), each[1].sku))
    return [yarn for _, yarn in near]


def _figure(each: tuple[float, YarnSummary]) -> float:
    return each[0]
