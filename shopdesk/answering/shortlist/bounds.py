"""The best that a yarn can reach for an ask, told from plain numbers kept in its summary.

A bound is never worse than the truth: it may only promise too much, never too little.
"""

from collections.abc import Callable
from dataclasses import replace
from functools import cache
from itertools import compress
from math import fsum
from typing import NamedTuple

from shopdesk.answering.answer.candidates import PreparedAsk
from shopdesk.answering.judging.companions import share_of_gauge
from shopdesk.answering.judging.grades import Grade, grade, order_of, step_at, worst_group
from shopdesk.answering.judging.item_care import care_differences, possible
from shopdesk.answering.judging.judge import Requirements, behaviour_findings, doubt_grades
from shopdesk.answering.judging.judge_knit import (
    at_worst,
    grade_in_range,
    makes_the_fabric,
    original_volume,
    outside_range,
    pattern_says_little,
)
from shopdesk.answering.judging.original import make_findings, unlike_original
from shopdesk.answering.judging.ranking import (
    SortKey,
    Supplied,
    caution_penalty,
    price_of_a_metre,
    sort_key,
    stepped,
)
from shopdesk.answering.model.answer import Suitability
from shopdesk.answering.profile.summary import WearAndCare, washing_only
from shopdesk.answering.shortlist.windows import SearchWindow
from shopdesk.answering.thresholds import HAIR, threshold, wider
from shopdesk.craft.behaviour import Traits
from shopdesk.craft.cautions import YarnFacts, heard
from shopdesk.craft.figures import Basis, Figure
from shopdesk.craft.likeness import NOTHING_STATED, is_same_make
from shopdesk.craft.yarn import CareLabel, Craft


class IndexRow(NamedTuple):
    """The figures of a yarn as the shelf keeps them; None is unknown.

    `categories` has bit n set for category n; `doubts` counts where the evidence disagrees, and
    `doubts_text` keeps it; `wear_and_care` is the key of how the yarn behaves and is cared
    for; `metres` are those of the put-up it is sold by.
    """

    key: int
    sku: str
    name: str
    stitches: float | None
    stitches_low: float | None
    stitches_high: float | None
    stitches_basis: str | None
    tex: float | None
    density: float | None
    categories: int
    doubts: int
    doubts_text: str
    wear_and_care: str
    price_minor: int
    metres: float | None


class Size(NamedTuple):
    """The best group's number, and the penalty in it."""

    group: int
    penalty: float


class SizeBounds:
    """The bounds that one ask sets. Yarns share figures, so that each is graded once."""

    def __init__(self, wanted: Requirements) -> None:
        target = self._target = wanted.target
        natural, length = target.natural_stitches, target.metres_per_100g
        self._crochet = wanted.ask.craft is Craft.CROCHET
        self._natural = natural.value if natural else None
        self._guessed = natural is not None and natural.basis is Basis.ESTIMATE
        self._banded = natural is not None and natural.basis is Basis.LABEL
        self._little = pattern_says_little(wanted.ask, target)
        self._around = natural
        if natural is not None:
            low, high = wider(natural.low, natural.high)
            self._around = replace(natural, low=low, high=high)
        self._metres = length.value if length else None
        self._volume = original_volume(target)
        self._categories = target.categories
        self._gauges: dict[tuple[float | str | None, ...], Size | None] = {}
        self._hooks: dict[tuple[int | None, float | None, int], Size | None] = {}

    def best(self, yarn: IndexRow, strands: int) -> Size | None:
        """Returns the best that the size of so many strands leaves; None: not for this."""
        if self._crochet:
            return self._hooked(yarn, strands)
        by_length = yarn.tex if self._guessed or yarn.stitches is None else None
        meeting = (yarn.stitches_low, yarn.stitches_high, yarn.stitches_basis)
        key = (strands, yarn.stitches, by_length, *meeting)
        if key in self._gauges:
            gauge = self._gauges[key]
        else:
            gauge = self._gauges[key] = self._gauge(yarn, strands)
        if gauge is None or self._volume is None or yarn.tex is None or yarn.density is None:
            return gauge
        if self._guessed and self._metres is not None and yarn.stitches is not None:
            return gauge
        ratio = yarn.tex * strands / yarn.density / self._volume
        return _with(gauge, grade("fabric", _inward(ratio**0.5 - 1)))

    def _hooked(self, yarn: IndexRow, strands: int) -> Size | None:
        key = (yarn.categories if strands == 1 else None, yarn.tex, strands)
        if key not in self._hooks:
            size = _with(Size(0, 0.0), self._category(yarn, strands))
            length = self._length(yarn, strands)
            self._hooks[key] = size and _with(size, length)
        return self._hooks[key]

    def _gauge(self, yarn: IndexRow, strands: int) -> Size | None:
        return _with(Size(0, 0.0), self._graded_gauge(yarn, strands))

    def _graded_gauge(self, yarn: IndexRow, strands: int) -> Grade:
        if yarn.stitches is None or self._natural is None or self._around is None:
            nothing = yarn.stitches is None and yarn.tex is None
            return grade("too_little_known" if nothing else "gauge_unknown")
        held = yarn.stitches * share_of_gauge(strands)
        fits = strands > 1 or self._makes_the_fabric(yarn)
        if self._guessed and self._metres is not None and yarn.tex is not None:
            ratio = 100_000 / (yarn.tex * strands) / self._metres
            return _graded("gauge_by_length", _inward(ratio**0.5 - 1), fits)
        if self._little:
            return grade("openwork", float(not self._meets(yarn, strands)))
        if not self._banded:
            outside = max(0.0, outside_range(held, self._around))
            return grade_in_range(self._target.natural_stitches or self._around, outside)
        return _graded("gauge", _inward(held / self._natural - 1), fits)

    def _makes_the_fabric(self, yarn: IndexRow) -> bool:
        low, high = yarn.stitches_low, yarn.stitches_high
        if yarn.stitches is None or low is None or high is None or yarn.stitches_basis is None:
            return False
        got = Figure(yarn.stitches, low, high, Basis(yarn.stitches_basis))
        return makes_the_fabric(self._target, got)

    def _meets(self, yarn: IndexRow, strands: int) -> bool:
        """Whether the gauge's interval may meet that of the pattern; strands are let pass."""
        if strands > 1 or yarn.stitches_low is None or yarn.stitches_high is None:
            return True
        assert self._around is not None
        return self._around.low <= yarn.stitches_high and yarn.stitches_low <= self._around.high

    def _category(self, yarn: IndexRow, strands: int) -> Grade | None:
        if strands > 1:
            return None
        got = [
            number
            for number in range(yarn.categories.bit_length())
            if yarn.categories >> number & 1
        ]
        if not got:
            return grade("too_little_known")
        if not self._categories:
            return grade("crochet_no_target")
        away = min(abs(a - b) for a in got for b in self._categories)
        return grade("crochet_category", away)

    def _length(self, yarn: IndexRow, strands: int) -> Grade | None:
        if self._metres is None or yarn.tex is None:
            return None
        off = 100_000 / (yarn.tex * strands) / self._metres - 1
        return grade("crochet_length", _inward(off))


def _graded(scale: str, off: float, fits: bool) -> Grade:
    step = at_worst(scale, "near", off) if fits else step_at(scale, off)
    return step.grade(off)


def _with(size: Size, found: Grade | None) -> Size | None:
    """Returns the size with what was found beside; None: not for this."""
    if found is None or found[0] is Suitability.AS_IT_IS:
        return size
    group, weight = found
    if group is Suitability.NOT_FOR_THIS:
        return None
    return Size(max(size.group, order_of(group)), size.penalty + weight)


def _inward(off: float) -> float:
    return max(0.0, abs(off) - HAIR)


NOT_FOR_THIS = order_of(Suitability.NOT_FOR_THIS)
BELOW = 2e-6
"""By so much a bound lies below what rounding could make of the truth."""
ADDED_OTHERWISE = 1e-9
"""More than the same penalties can differ by when they are added in another order."""


class _Worn(NamedTuple):
    """What a yarn's behaviour, care and make alone do to its sort key.

    `not_alike` and `kind` are the penalty and the group of another make than the original's,
    which do not count where the yarn is only held beside another.
    """

    group: int
    penalty: float = 0.0
    make: str = NOTHING_STATED
    not_alike: float = 0.0
    kind: int = 0
    of_the_original: bool = False


class SortKeyBound:
    """The bounds of one ask in a shop of `country`, from the wear and care a key stands for."""

    def __init__(
        self, asked: PreparedAsk, wear_and_care_by_key: Callable[[str], WearAndCare]
    ) -> None:
        wanted = asked.wanted
        self._wanted = wanted
        self._wear_and_care_by_key = wear_and_care_by_key
        self._by_wear_and_care: dict[str, _Worn] = {}
        self._washed = cache(self._worked_out_washed)
        self._behaving = cache(self._worked_out_behaving)
        self._unlike = cache(self._worked_out_unlike)
        self._told = cache(self._worked_out_told)
        self._made = cache(self._worked_out_made)
        self._heard = cache(self._worked_out_heard)
        self._cautions = possible(wanted.ask, asked.terms.country)
        self._original_cautions = asked.original_cautions
        self._sizes = SizeBounds(wanted)
        self._known_doubts = len(wanted.original.doubts) if wanted.original else 0

    def best(self, window: SearchWindow, yarn: IndexRow) -> SortKey | None:
        """Returns the best sort key of a yarn held in this way; None: it is not for this."""
        worn = self._by_wear_and_care.get(yarn.wear_and_care)
        if worn is None:
            worn = self._worked_out_worn(self._wear_and_care_by_key(yarn.wear_and_care))
            self._by_wear_and_care[yarn.wear_and_care] = worn
        if worn.group == NOT_FOR_THIS:
            return None
        if worn.of_the_original and self._is_original(window, yarn):
            return _key(worn.group, worn.penalty - threshold("is_the_original"), yarn, window)
        doubts, doubted = self._doubts(max(0, yarn.doubts - self._known_doubts))
        if window.beside:
            group, penalty = window.least
            return _key(group, penalty + doubts, yarn, window)
        size = self._sizes.best(yarn, window.strands)
        if size is None:
            return None
        group, penalty = size
        if window.strands != self._wanted.strands:
            together, more = window.least
            group, penalty = max(group, together), penalty + more
        elif window.strands == 1:
            penalty += self._unlike(yarn.stitches, yarn.tex, worn.make)
        return _key(
            max(group, doubted, worn.group, worn.kind),
            penalty + doubts + worn.penalty + worn.not_alike,
            yarn,
            window,
        )

    def _is_original(self, window: SearchWindow, yarn: IndexRow) -> bool:
        """True if a yarn of the original's make may be the original, held in this way."""
        original, length = self._wanted.original, self._wanted.target.metres_per_100g
        if original is None or length is None or yarn.tex is None:
            return False
        off = 100_000 / (yarn.tex * original.strands) / length.value - 1
        near = abs(off) <= threshold("same_facts") * (1 + HAIR) + HAIR
        return near and window.strands == self._wanted.strands and not window.beside

    def _worked_out_unlike(self, stitches: float | None, tex: float | None, make: str) -> float:
        metres = None if tex is None else 100_000 / tex
        wanted = self._wanted
        unlike = unlike_original(wanted.target, wanted.original, stitches, metres, make)
        return unlike * (1 - HAIR)

    @staticmethod
    @cache
    def _doubts(doubts: int) -> tuple[float, int]:
        """Returns the penalty of so many doubts and the number of the group they leave."""
        grades = doubt_grades(doubts)
        return sum(weight for _, weight in grades), max((order_of(g) for g, _ in grades), default=0)

    def _worked_out_worn(self, yarn: WearAndCare) -> _Worn:
        """Returns how a yarn stands by its wear and care alone; it is left early where it does."""
        washed = self._washed(washing_only(yarn))
        if washed.group == NOT_FOR_THIS:
            return washed
        behaving = self._behaving(yarn.traits)
        if behaving.group == NOT_FOR_THIS:
            return behaving
        told = self._told(yarn.traits, yarn.care, yarn.by_default)
        penalty = washed.penalty + behaving.penalty + told
        return _Worn(max(washed.group, behaving.group), penalty, *self._made(yarn.make))

    def _worked_out_made(self, make: str) -> tuple[str, float, int, bool]:
        """Returns what a make does to a sort key, as `_Worn` has it."""
        original = self._wanted.original
        findings = make_findings(original, make)
        of_the_original = original is not None and is_same_make(original.make, make)
        weight = fsum(f.weight for f in findings)
        return make, weight, order_of(worst_group(findings)), of_the_original

    def _worked_out_told(self, traits: Traits, care: CareLabel, by_default: bool) -> float:
        """Returns the penalty of the cautions that must be told."""
        yarn = YarnFacts(care, by_default, traits)
        return self._heard(tuple(one.applies(yarn) for one in self._cautions))

    def _worked_out_heard(self, found: tuple[bool, ...]) -> float:
        known = self._original_cautions
        told = heard(one.text for one in compress(self._cautions, found))
        new = (one for one in told if one.flag and one.code not in known)
        return fsum(caution_penalty() for _ in new)

    def _worked_out_washed(self, wear_and_care: WearAndCare) -> _Worn:
        key = sort_key((), care_differences(self._wanted.ask, [wear_and_care]), (), "")
        return _Worn(key.group, key.exact)

    def _worked_out_behaving(self, behaviour: Traits) -> _Worn:
        key = sort_key(list(behaviour_findings(self._wanted.item, behaviour)), (), (), "")
        return _Worn(key.group, key.exact)


def _key(group: int, penalty: float, yarn: IndexRow, window: SearchWindow) -> SortKey:
    # Below what another order of adding makes of it, but on the same step.
    step = stepped(round(penalty - ADDED_OTHERWISE, 6))
    price = price_of_a_metre(yarn.price_minor, yarn.metres, window.strands)
    exact = round(penalty, 6) - BELOW
    return SortKey(group, step, *Supplied(price=price), exact, yarn.sku)
