"""The best that a yarn can reach for an ask, told from plain numbers kept in its summary.

A bound is never worse than the truth: it may only promise too much, never too little.
"""

from collections.abc import Callable
from dataclasses import dataclass, replace
from functools import cache
from math import fsum
from typing import NamedTuple

from shopdesk.answering.answer.candidates import PreparedAsk
from shopdesk.answering.judging.companions import share_of_gauge
from shopdesk.answering.judging.grades import Grade, grade, order_of
from shopdesk.answering.judging.item_care import care_differences, possible
from shopdesk.answering.judging.judge import Requirements, behaviour_findings, doubt_grades
from shopdesk.answering.judging.judge_knit import (
    original_volume,
    outside_range,
    pattern_says_little,
)
from shopdesk.answering.judging.ranking import FAR_OFF, SortKey, caution_penalty, sort_key
from shopdesk.answering.model.answer import RuledOut, Suitability
from shopdesk.answering.profile.summary import WearAndCare, washing_only
from shopdesk.answering.shortlist.windows import SearchWindow
from shopdesk.answering.supply.own_yarn import least_need
from shopdesk.answering.supply.wishes import unmet_price
from shopdesk.answering.thresholds import HAIR, wider
from shopdesk.craft.behaviour import Traits
from shopdesk.craft.cautions import YarnFacts, heard
from shopdesk.craft.figures import Basis
from shopdesk.craft.messages import Message, message
from shopdesk.craft.money import minor_units
from shopdesk.craft.yarn import Craft


@dataclass(frozen=True, slots=True)
class PriceBound:
    """The limit in minor units, and the metres that are needed of one strand; None is unknown.

    A yarn whose metres alone cost more is too dear in any way it may be held: whole skeins and
    more strands only add to that.
    """

    limit_minor: float
    length_m: float | None
    too_dear: Message
    unknown: Message

    def lines(self, dear: int, unknown: int) -> tuple[RuledOut, ...]:
        """Returns what the limit rules out: so many too dear, so many of unknown price."""
        both = ((self.too_dear, dear), (self.unknown, unknown))
        return tuple(RuledOut(wish, number, ()) for wish, number in both if number)


def price_bound(asked: PreparedAsk) -> PriceBound | None:
    """Returns the bound of an ask; None if the customer sets no limit."""
    wishes = asked.wanted.ask.wishes
    limit = wishes.price_limit
    if limit is None:
        return None
    too_dear, unknown = message("wishes.price", limit_price=limit), unmet_price(None, wishes)
    assert unknown is not None
    minor = float(limit.scaleb(minor_units(asked.terms.currency))) * (1 + HAIR)
    return PriceBound(minor, _priced_length_m(asked), too_dear, unknown)


def _priced_length_m(asked: PreparedAsk) -> float | None:
    plans = [least_need(need).skein_m for need in asked.needs]
    known = [plan for plan in plans if plan is not None]
    return sum(known) if plans and len(known) == len(plans) else None


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
    """The best group's number, the penalty in it, and the gauge's distance (st/10 cm)."""

    group: int
    penalty: float
    off_st: float


class SizeBounds:
    """The bounds that one ask sets. Yarns share figures, so that each is graded once."""

    def __init__(self, wanted: Requirements) -> None:
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
        self._hooks: dict[tuple[int | None, float | None, int], Size | None] = {}

    def best(self, yarn: IndexRow, strands: int) -> Size | None:
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
        return _with(gauge, grade("fabric", _inward(ratio**0.5 - 1)))

    def off_percent(self, yarn: IndexRow, strands: int) -> float:
        """Returns the least distance in length per 100 g, in whole percent."""
        if self._metres is None or yarn.tex is None:
            return FAR_OFF
        if strands > 1:
            return 0.0
        return float(round(abs((100_000 / yarn.tex / self._metres - 1) * 100)))

    def _hooked(self, yarn: IndexRow, strands: int) -> Size | None:
        key = (yarn.categories if strands == 1 else None, yarn.tex, strands)
        if key not in self._hooks:
            size = _with(Size(0, 0.0, FAR_OFF), self._category(yarn, strands))
            length = self._length(yarn, strands)
            self._hooks[key] = size and _with(size, length)
        return self._hooks[key]

    def _gauge(self, yarn: IndexRow, strands: int) -> Size | None:
        found, off = self._graded_gauge(yarn, strands)
        return _with(Size(0, 0.0, round(max(0.0, off - HAIR), 6)), found)

    def _graded_gauge(self, yarn: IndexRow, strands: int) -> tuple[Grade, float]:
        if yarn.stitches is None or self._natural is None or self._around is None:
            nothing = yarn.stitches is None and yarn.tex is None
            return grade("too_little_known" if nothing else "gauge_unknown"), FAR_OFF
        held = yarn.stitches * share_of_gauge(strands)
        if self._guessed and self._metres is not None and yarn.tex is not None:
            ratio = 100_000 / (yarn.tex * strands) / self._metres
            return grade("gauge_by_length", _inward(ratio**0.5 - 1)), FAR_OFF
        off = abs(held - self._natural)
        if self._little:
            return grade("openwork", float(not self._meets(yarn, strands))), off
        if self._guessed:
            return grade("weight_name", outside_range(held, self._around)), FAR_OFF
        return grade("gauge", _inward(held / self._natural - 1)), off

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


def _with(size: Size, found: Grade | None) -> Size | None:
    """Returns the size with what was found beside; None: not for this."""
    if found is None or found[0] is Suitability.AS_IT_IS:
        return size
    group, weight = found
    if group is Suitability.NOT_FOR_THIS:
        return None
    return Size(max(size.group, order_of(group)), size.penalty + weight, size.off_st)


def _inward(off: float) -> float:
    return max(0.0, abs(off) - HAIR)


NOT_FOR_THIS = order_of(Suitability.NOT_FOR_THIS)


class _Worn(NamedTuple):
    """What a yarn's wear and care alone does to its sort key."""

    group: int
    penalty: float
    small_print: int


class SortKeyBound:
    """The bounds of one ask in a shop of `country`, from the wear and care a key stands for."""

    def __init__(
        self, wanted: Requirements, country: str, wear_and_care_by_key: Callable[[str], WearAndCare]
    ) -> None:
        self._wanted = wanted
        self._wear_and_care_by_key = wear_and_care_by_key
        self._by_wear_and_care: dict[str, _Worn] = {}
        self._washed = cache(self._worked_out_washed)
        self._behaving = cache(self._worked_out_behaving)
        self._cautions = possible(wanted.ask, country)
        self._sizes = SizeBounds(wanted)

    def best(self, window: SearchWindow, yarn: IndexRow) -> SortKey | None:
        """Returns the best sort key of a yarn held in this way; None: it is not for this."""
        doubts, doubted = self._doubts(yarn.doubts)
        if window.beside:
            group, penalty = window.least
            return SortKey(group, penalty + doubts, False, 0, 0.0, 0.0, yarn.sku)
        size = self._sizes.best(yarn, window.strands)
        if size is None:
            return None
        key = yarn.wear_and_care
        worn = self._by_wear_and_care.get(key) or self._worked_out_worn(key)
        if worn.group == NOT_FOR_THIS:
            return None
        group, penalty, off = size
        if window.strands > 1:
            together, more = window.least
            group, penalty = max(group, together), penalty + more
        return SortKey(
            max(group, doubted, worn.group),
            round(penalty + doubts + worn.penalty, 6),
            False,
            worn.small_print,
            off,
            self._sizes.off_percent(yarn, window.strands),
            yarn.sku,
        )

    @staticmethod
    @cache
    def _doubts(doubts: int) -> tuple[float, int]:
        """Returns the penalty of so many doubts and the number of the group they leave."""
        grades = doubt_grades(doubts)
        return sum(weight for _, weight in grades), max((order_of(g) for g, _ in grades), default=0)

    def _worked_out_worn(self, key: str) -> _Worn:
        """Returns how a yarn stands by its wear and care alone."""
        wear_and_care = self._wear_and_care_by_key(key)
        washed = self._washed(washing_only(wear_and_care))
        behaving = self._behaving(wear_and_care.traits)
        found = self._by_wear_and_care[key] = _Worn(
            max(washed.group, behaving.group),
            behaving.penalty + self._to_tell(wear_and_care),
            washed.small_print + behaving.small_print,
        )
        return found

    def _to_tell(self, wear_and_care: WearAndCare) -> float:
        """Returns the penalty of the cautions that must be told."""
        yarn = YarnFacts(wear_and_care.care, wear_and_care.by_default, wear_and_care.traits)
        told = heard(one.text for one in self._cautions if one.applies(yarn))
        return fsum(caution_penalty() for one in told if one.flag)

    def _worked_out_washed(self, wear_and_care: WearAndCare) -> SortKey:
        return sort_key((), care_differences(self._wanted.ask, [wear_and_care]), (), "")

    def _worked_out_behaving(self, behaviour: Traits) -> SortKey:
        return sort_key(list(behaviour_findings(self._wanted.item, behaviour)), (), (), "")
