"""Strands held together, taken as one yarn: one to four of a yarn, or a yarn with a lace strand."""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache

from shopdesk.answering.answer import Profile
from shopdesk.answering.brief import Brief
from shopdesk.craft.counts import metres_per_100g
from shopdesk.craft.figures import Basis, Figure
from shopdesk.craft.strands import combined_stitches, combined_tex, combined_value

MOST_STRANDS = 4
Sized = Profile | Brief


@dataclass(frozen=True, slots=True)
class Held:
    """What is on the needles: `strands` of the main yarn, and perhaps one strand of a companion."""

    strands: int
    companion: Brief | None
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


def held_alone(yarn: Sized, strands: int = 1) -> Held:
    """Returns `strands` equal strands of one yarn, taken as one."""
    density = yarn.density.value if yarn.density else None
    if strands == 1:
        return Held(1, None, yarn.tex, yarn.natural_stitches, density)
    tex = _added([yarn.tex] * strands)
    return Held(strands, None, tex, _combined([yarn] * strands), density)


def held_with(yarn: Sized, companion: Brief) -> Held:
    """Returns one strand of a yarn together with one of a companion yarn."""
    both = (yarn, companion)
    tex = _added([one.tex for one in both])
    return Held(1, companion, tex, _combined(both), _mixed_density(both))


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
