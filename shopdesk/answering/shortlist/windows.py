"""Where on the shelf to look for an ask, nearest first: windows of its index.

Every yarn that may do for an ask, alone or in strands, lies in a window of it. What lies in
a window need not do, and may do in another way than the window is for.
"""

from collections.abc import Iterator
from dataclasses import dataclass, replace

from shopdesk.answering.judging.companions import MOST_STRANDS, Companions, share_of_gauge
from shopdesk.answering.judging.grades import GradeStep, least_of, steps
from shopdesk.answering.judging.judge import Requirements, near_gauge, near_tex
from shopdesk.answering.judging.judge_knit import original_volume, pattern_says_little
from shopdesk.answering.model.answer import Suitability
from shopdesk.answering.thresholds import Window, threshold, wider
from shopdesk.craft.figures import Basis, Figure
from shopdesk.craft.strands import partner_value
from shopdesk.craft.yarn import Craft


@dataclass(frozen=True, slots=True)
class SearchWindow:
    """Yarns with figures in these windows; None leaves a figure open, `no_` wants it unknown.

    Nothing in the window that is held in its way (`strands` of it, `beside` a companion) stands
    better than `least`, a group's number and the penalty in it. `stitches` is the window of the
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
    """Yields the windows of an ask for yarns that are held alone or in strands of themselves."""
    if wanted.ask.craft is Craft.CROCHET:
        yield from _crochet_windows(wanted)
        return
    natural = wanted.target.natural_stitches
    if natural is None:
        yield SearchWindow(least_of("gauge_unknown"), wanted.strands)
        return
    yield SearchWindow(least_of("gauge_unknown"), wanted.strands, no_stitches=True)
    by_length = natural.basis is Basis.ESTIMATE and wanted.target.metres_per_100g is not None
    for window in _knit_windows(wanted, natural):
        for alone in [window] if by_length else _by_fabric(wanted, window):
            yield _each_strand(alone, wanted.strands)
    yield from _original_window(wanted)
    volume = None if by_length else _volume_about(wanted, _may_do("fabric")[-1].up_to)
    for strands in _other_numbers(wanted):
        near = _about(natural.value, threshold("gauge_near"))
        each_near = _scaled(near, 1 / share_of_gauge(strands))
        each = volume and _scaled(volume, 1 / strands)
        yield SearchWindow(least_of("strands", strands), strands, stitches=each_near, volume=each)


def _other_numbers(wanted: Requirements) -> Iterator[int]:
    """Yields the numbers of strands that the pattern does not hold together."""
    return (n for n in range(1, MOST_STRANDS + 1) if n != wanted.strands)


def _each_strand(window: SearchWindow, strands: int) -> SearchWindow:
    """Returns the window of single yarns of which so many strands lie in this one."""
    if strands == 1:
        return window
    stitches, tex, volume = window.stitches, window.tex, window.volume
    return replace(
        window,
        strands=strands,
        stitches=stitches and _scaled(stitches, 1 / share_of_gauge(strands)),
        meets=None,
        tex=tex and _scaled(tex, 1 / strands),
        volume=volume and _scaled(volume, 1 / strands),
        categories=(),
    )


def _original_window(wanted: Requirements) -> Iterator[SearchWindow]:
    """Yields the window of yarns of the length that the designer's yarn states."""
    length = wanted.target.metres_per_100g
    if wanted.original is None or not wanted.original.make or length is None:
        return
    tex = _scaled(_tex_about(length, threshold("same_facts")), 1 / wanted.strands)
    yield SearchWindow((0, 0.0), wanted.strands, tex=tex)


def window_beside(wanted: Requirements, companions: Companions) -> SearchWindow | None:
    """Returns the window of yarns to be held with one of the companions; None if there is none."""
    least = least_of("companion")
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
    length = wanted.target.metres_per_100g
    guessed = natural.basis is Basis.ESTIMATE
    if guessed and length is not None:
        for step in _may_do("gauge_by_length"):
            low, high = _about(length.value**0.5, step.up_to)
            yield SearchWindow(step.least, tex=wider(100_000 / high**2, 100_000 / low**2))
        yield from _of_the_fabric(wanted, _named_step("gauge_by_length", "near").least)
        yield _named(natural, no_tex=True)
    elif pattern_says_little(wanted.ask, wanted.target):
        (meeting,) = _may_do("openwork")
        yield SearchWindow(meeting.least, meets=wider(natural.low, natural.high))
    elif natural.basis is Basis.LABEL:
        for step in _may_do("gauge"):
            yield SearchWindow(step.least, stitches=_about(natural.value, step.up_to))
        near = _named_step("gauge", "near").least
        if wanted.strands == 1:
            yield SearchWindow(near, meets=wider(natural.low, natural.high))
        else:
            reach = _about(natural.value, threshold("gauge_reach"))
            yield SearchWindow(near, stitches=reach)
        yield from _of_the_fabric(wanted, near)
    else:
        yield _named(natural)


def _of_the_fabric(wanted: Requirements, least: tuple[int, float]) -> Iterator[SearchWindow]:
    """Yields the window of yarns that make the pattern's fabric as such an item is worked."""
    fabric = wanted.target.fabric_stitches
    if fabric is not None:
        beside = threshold("gauge_close")
        gauges = wider(fabric.low * (1 - beside), fabric.high * (1 + beside))
        yield SearchWindow(least, stitches=gauges)


def _named_step(scale: str, name: str) -> GradeStep:
    return next(step for step in steps(scale) if step.name == name)


def _may_do(scale: str) -> tuple[GradeStep, ...]:
    """Returns the steps of a scale that leave a yarn some group, nearest first."""
    return tuple(each for each in steps(scale) if each.group is not Suitability.NOT_FOR_THIS)


def _named(natural: Figure, no_tex: bool = False) -> SearchWindow:
    """Returns the window of yarns in or near the range of a weight name."""
    within = _may_do("weight_name")
    far = within[-1].up_to
    gauges = wider(natural.low / (1 + far), natural.high * (1 + far))
    return SearchWindow(within[0].least, stitches=gauges, no_tex=no_tex)


def _crochet_windows(wanted: Requirements) -> Iterator[SearchWindow]:
    length, categories = wanted.target.metres_per_100g, wanted.target.categories
    same, near = _may_do("crochet_category")
    beside = tuple(sorted({n + step for n in categories for step in (-1, 0, 1) if n + step >= 0}))
    if length is None:
        yield _each_strand(SearchWindow(same.least, categories=categories), wanted.strands)
        yield _each_strand(SearchWindow(near.least, categories=beside), wanted.strands)
        return
    n = wanted.strands
    for (group, penalty), some in ((same.least, categories), (near.least, beside)):
        yield _each_strand(SearchWindow((group, penalty), no_tex=True, categories=some), n)
        for step in _may_do("crochet_length"):
            least = max(step.least[0], group), penalty + step.least[1]
            tex = _tex_about(length, step.up_to)
            yield _each_strand(SearchWindow(least, tex=tex, categories=some), n)
    yield from _original_window(wanted)
    for strands in _other_numbers(wanted):
        window = _scaled(_tex_about(length, _may_do("crochet_length")[0].up_to), 1 / strands)
        yield SearchWindow(least_of("strands", strands), strands, tex=window)


def _by_fabric(wanted: Requirements, window: SearchWindow) -> Iterator[SearchWindow]:
    """Yields first what makes a fabric like the original's, then what makes one not too unlike."""
    group, penalty = window.least
    for step in _may_do("fabric"):
        at_least, more = step.least
        reach = _volume_about(wanted, step.up_to)
        yield replace(window, least=(max(at_least, group), penalty + more), volume=reach)
        if reach is None:
            return


def _volume_about(wanted: Requirements, share: float) -> Window | None:
    """Returns the tex over density that makes the fabric so much looser to so much firmer."""
    original = original_volume(wanted.target)
    if original is None:
        return None
    return wider(original * (1 - share) ** 2, original * (1 + share) ** 2)


def _about(value: float, share: float) -> Window:
    return wider(value * (1 - share), value * (1 + share))


def _tex_about(length: Figure, share: float) -> Window:
    low, high = _about(length.value, share)
    return wider(100_000 / high, 100_000 / low)


def _scaled(window: Window, factor: float) -> Window:
    return wider(window[0] * factor, window[1] * factor)
