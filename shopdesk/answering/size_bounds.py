"""The best that a yarn's size leaves to it for an ask, from plain numbers.

The grades are those of the judgement itself, a hair nearer, so that rounding cannot make the
bound worse than the truth.
"""

from dataclasses import replace
from typing import NamedTuple

from shopdesk.answering.answer import Group
from shopdesk.answering.findings import rank
from shopdesk.answering.held import share_of_gauge
from shopdesk.answering.judge_crochet import category_grade, hook_length_grade
from shopdesk.answering.judge_knit import (
    Grade,
    fabric_grade,
    gauge_grade,
    length_grade,
    name_grade,
    original_volume,
    pattern_says_little,
)
from shopdesk.answering.judging import Sought
from shopdesk.answering.standing import FAR_OFF
from shopdesk.answering.windows import HAIR, wider
from shopdesk.craft.figures import Basis
from shopdesk.craft.yarn import Craft

UNKNOWN: Grade = (Group.SWATCH_FIRST, 5.0)
SAYS_LITTLE: Grade = (Group.SWATCH_FIRST, 4.0)
NOT_SAID: Grade = (Group.AS_IT_IS, 0.0)
TOO_LITTLE_KNOWN: Grade = (Group.NOT_FOR_THIS, 9.0)


class Numbers(NamedTuple):
    """The figures of a yarn as the shelf keeps them; None is unknown.

    `categories` has bit n set for category n; `doubts` counts where the evidence disagrees, and
    `doubts_text` keeps it; `nature` is the key of how the yarn behaves and is cared for; `metres`
    are those of the put-up it is sold by.
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
    nature: str
    price_minor: int
    metres: float | None


class Size(NamedTuple):
    """The best group's number, the trouble in it, and the gauge's distance (st/10 cm)."""

    group: int
    trouble: float
    off_st: float


class SizeBounds:
    """The bounds that one ask sets. Yarns share figures, so that each is graded once."""

    def __init__(self, wanted: Sought) -> None:
        target = wanted.target
        natural, length = target.natural_stitches, target.metres_per_100g
        self._crochet = wanted.ask.craft is Craft.CROCHET
        self._natural = natural.value if natural else None
        self._guessed = natural is not None and natural.basis is Basis.ESTIMATE
        self._little = pattern_says_little(wanted.ask, target)
        self._around = natural
        if natural is not None:
            low, high = wider(natural.low, natural.high)
            self._around = replace(natural, low=low, high=high)
        self._metres = length.value if length else None
        self._volume = original_volume(target)
        self._categories = target.categories
        self._gauges: dict[tuple[float | None, ...], Size | None] = {}
        self._hooks: dict[tuple[int, float | None, int], Size | None] = {}

    def best(self, yarn: Numbers, strands: int) -> Size | None:
        """Returns the best that the size of so many strands leaves; None: not for this."""
        if self._crochet:
            return self._hooked(yarn, strands)
        by_length = yarn.tex if self._guessed or yarn.stitches is None else None
        meeting = (yarn.stitches_low, yarn.stitches_high) if self._little else ()
        key = (strands, yarn.stitches, by_length, *meeting)
        if key in self._gauges:
            gauge = self._gauges[key]
        else:
            gauge = self._gauges[key] = self._gauge(yarn, strands)
        if gauge is None or self._volume is None or yarn.tex is None or yarn.density is None:
            return gauge
        ratio = yarn.tex * strands / yarn.density / self._volume
        return _with(gauge, fabric_grade(_inward(ratio**0.5 - 1)))

    def off_percent(self, yarn: Numbers, strands: int) -> float:
        """Returns the least distance in length per 100 g, in whole percent."""
        if self._metres is None or yarn.tex is None:
            return FAR_OFF
        if strands > 1:
            return 0.0
        return float(round(abs((100_000 / yarn.tex / self._metres - 1) * 100)))

    def _hooked(self, yarn: Numbers, strands: int) -> Size | None:
        key = (yarn.categories if strands == 1 else -1, yarn.tex, strands)
        if key not in self._hooks:
            size = _with(Size(0, 0.0, FAR_OFF), self._category(yarn, strands))
            length = self._length(yarn, strands)
            self._hooks[key] = size and _with(size, length)
        return self._hooks[key]

    def _gauge(self, yarn: Numbers, strands: int) -> Size | None:
        grade, off = self._graded_gauge(yarn, strands)
        return _with(Size(0, 0.0, round(max(0.0, off - HAIR), 6)), grade)

    def _graded_gauge(self, yarn: Numbers, strands: int) -> tuple[Grade, float]:
        if yarn.stitches is None or self._natural is None or self._around is None:
            nothing = yarn.stitches is None and yarn.tex is None
            return TOO_LITTLE_KNOWN if nothing else UNKNOWN, FAR_OFF
        held = yarn.stitches * share_of_gauge(strands)
        if self._guessed and self._metres is not None and yarn.tex is not None:
            ratio = 100_000 / (yarn.tex * strands) / self._metres
            return length_grade(_inward(ratio**0.5 - 1)), FAR_OFF
        off = abs(held - self._natural)
        if self._little:
            return SAYS_LITTLE if self._meets(yarn, strands) else TOO_LITTLE_KNOWN, off
        if self._guessed:
            return name_grade(held, self._around), FAR_OFF
        return gauge_grade(_inward(held / self._natural - 1)), off

    def _meets(self, yarn: Numbers, strands: int) -> bool:
        """Whether the gauge's interval may meet that of the pattern; strands are let pass."""
        if strands > 1 or yarn.stitches_low is None or yarn.stitches_high is None:
            return True
        assert self._around is not None
        return self._around.low <= yarn.stitches_high and yarn.stitches_low <= self._around.high

    def _category(self, yarn: Numbers, strands: int) -> Grade:
        if strands > 1:
            return NOT_SAID
        got = [
            number
            for number in range(yarn.categories.bit_length())
            if yarn.categories >> number & 1
        ]
        if not got:
            return TOO_LITTLE_KNOWN
        if not self._categories:
            return SAYS_LITTLE
        return category_grade(min(abs(a - b) for a in got for b in self._categories))

    def _length(self, yarn: Numbers, strands: int) -> Grade:
        if self._metres is None or yarn.tex is None:
            return NOT_SAID
        return hook_length_grade(_inward(100_000 / (yarn.tex * strands) / self._metres - 1))


def _with(size: Size, grade: Grade) -> Size | None:
    group, weight = grade
    if group is Group.AS_IT_IS:
        return size
    if group is Group.NOT_FOR_THIS:
        return None
    return Size(max(size.group, rank(group)), size.trouble + weight, size.off_st)


def _inward(off: float) -> float:
    return max(0.0, abs(off) - HAIR)
