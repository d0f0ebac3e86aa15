"""Where on the shelf to look for an ask, nearest first: windows of what the shelf keeps in brief.

Every yarn that may do for an ask, alone or in strands, lies in a ring of it. What lies in a ring
need not do, and may do in another way than the ring is for.
"""

from collections.abc import Iterator
from dataclasses import dataclass, replace

from shopdesk.answering.judging.companions import MOST_STRANDS, Companions, share_of_gauge
from shopdesk.answering.judging.judge import (
    COMPANION_TROUBLE,
    Requirements,
    near_gauge,
    near_tex,
    strands_trouble,
)
from shopdesk.answering.judging.judge_knit import original_volume, pattern_says_little
from shopdesk.answering.thresholds import Window, threshold, wider
from shopdesk.craft.figures import Basis, Figure
from shopdesk.craft.strands import partner_value
from shopdesk.craft.yarn import Craft


@dataclass(frozen=True, slots=True)
class SearchWindow:
    """Yarns with figures in these windows; None leaves a figure open, `no_` wants it unknown.

    Nothing in the ring that is held in its way (`strands` of it, `beside` a companion) stands
    better than `least`, a group's number and the trouble in it. `stitches` is the window of the
    natural gauge, `meets` one that the gauge's interval must share a value with, `volume` that of
    tex over density where both are known, `categories` wants one of them.
    """

    least: tuple[int, float]
    strands: int = 1
    beside: bool = False
    stitches: Window | None = None
    meets: Window | None = None
    tex: Window | None = None
    volume: Window | None = None
    no_stitches: bool = False
    no_tex: bool = False
    categories: tuple[int, ...] = ()


def search_windows(wanted: Requirements) -> Iterator[SearchWindow]:
    """Yields the rings of an ask for yarns that are held alone or in strands of themselves."""
    if wanted.ask.craft is Craft.CROCHET:
        yield from _crochet_windows(wanted)
        return
    natural = wanted.target.natural_stitches
    if natural is None:
        yield SearchWindow((1, 5.0))
        return
    yield SearchWindow((1, 5.0), no_stitches=True)
    for ring in _knit_windows(wanted, natural):
        yield from _by_fabric(wanted, ring)
    volume = _volume_about(wanted, threshold("fabric_reach"))
    for strands in range(2, MOST_STRANDS + 1):
        window = _scaled(
            _about(natural.value, threshold("gauge_near")), 1 / share_of_gauge(strands)
        )
        each = volume and _scaled(volume, 1 / strands)
        yield SearchWindow((2, strands_trouble(strands)), strands, stitches=window, volume=each)


def window_beside(wanted: Requirements, companions: Companions) -> SearchWindow | None:
    """Returns the ring of yarns to be held with one of the companions; None if there is none."""
    least = (2, COMPANION_TROUBLE)
    if wanted.ask.craft is Craft.CROCHET:
        thick, texes = near_tex(wanted), companions.texes
        if thick is None or texes is None or thick[1] <= texes[0]:
            return None
        window = wider(max(0.0, thick[0] - texes[1]), thick[1] - texes[0])
        return SearchWindow(least, beside=True, tex=window)
    near, gauges = near_gauge(wanted), companions.gauges
    coarsest = partner_value(near[0], gauges[1]) if near and gauges else None
    if near is None or gauges is None or coarsest is None:
        return None
    finest = partner_value(near[1], gauges[0]) or float("inf")
    return SearchWindow(least, beside=True, stitches=wider(coarsest, finest))


def _knit_windows(wanted: Requirements, natural: Figure) -> Iterator[SearchWindow]:
    close, near, reach = (threshold(f"gauge_{name}") for name in ("close", "near", "reach"))
    length = wanted.target.metres_per_100g
    guessed = natural.basis is Basis.ESTIMATE
    if guessed and length is not None:
        for least, share in (((1, 4.0), close), ((1, 6 + close), near), ((2, 6 + near), reach)):
            low, high = _about(length.value**0.5, share)
            yield SearchWindow(least, tex=wider(100_000 / high**2, 100_000 / low**2))
        yield SearchWindow((1, 4.0), stitches=_named(natural, near), no_tex=True)
    elif pattern_says_little(wanted.ask, wanted.target):
        yield SearchWindow((1, 4.0), meets=wider(natural.low, natural.high))
    elif guessed:
        yield SearchWindow((1, 4.0), stitches=_named(natural, near))
    else:
        for least, share in (((0, 0.0), close), ((1, 6 + close), near), ((2, 6 + near), reach)):
            yield SearchWindow(least, stitches=_about(natural.value, share))


def _crochet_windows(wanted: Requirements) -> Iterator[SearchWindow]:
    length, categories = wanted.target.metres_per_100g, wanted.target.categories
    near = tuple(sorted({n + step for n in categories for step in (-1, 0, 1) if n + step >= 0}))
    if length is None:
        yield SearchWindow((0, 0.0), categories=categories)
        yield SearchWindow((2, 6.0), categories=near)
        return
    close, reach = threshold("crochet_tex_close"), threshold("crochet_tex_reach")
    for group, trouble, some in ((0, 0.0, categories), (2, 6.0, near)):
        yield SearchWindow((group, trouble), tex=_tex_about(length, close), categories=some)
        yield SearchWindow((group, trouble), no_tex=True, categories=some)
        further = max(1, group), trouble + 5 + close
        yield SearchWindow(further, tex=_tex_about(length, reach), categories=some)
    for strands in range(2, MOST_STRANDS + 1):
        window = _scaled(_tex_about(length, close), 1 / strands)
        yield SearchWindow((2, strands_trouble(strands)), strands, tex=window)


def _by_fabric(wanted: Requirements, ring: SearchWindow) -> Iterator[SearchWindow]:
    """Yields first what makes a fabric like the original's, then what makes one not too unlike."""
    close = threshold("fabric_close")
    yield replace(ring, volume=_volume_about(wanted, close))
    group, trouble = ring.least
    reach = _volume_about(wanted, threshold("fabric_reach"))
    if reach is not None:
        yield replace(ring, least=(max(1, group), trouble + 5 + close), volume=reach)


def _volume_about(wanted: Requirements, share: float) -> Window | None:
    """Returns the tex over density that makes the fabric so much looser to so much firmer."""
    original = original_volume(wanted.target)
    if original is None:
        return None
    return wider(original * (1 - share) ** 2, original * (1 + share) ** 2)


def _named(natural: Figure, near: float) -> Window:
    return wider(natural.low / (1 + near), natural.high * (1 + near))


def _about(value: float, share: float) -> Window:
    return wider(value * (1 - share), value * (1 + share))


def _tex_about(length: Figure, share: float) -> Window:
    low, high = _about(length.value, share)
    return wider(100_000 / high, 100_000 / low)


def _scaled(window: Window, factor: float) -> Window:
    return wider(window[0] * factor, window[1] * factor)
