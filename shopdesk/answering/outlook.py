"""The best standing that a yarn can have for an ask, told from plain numbers kept in brief.

It is a bound: judging in full never finds a yarn to stand better than this. Where the bound is
tight, only the yarns that are shown need be judged in full.
"""

from collections.abc import Callable
from functools import cache
from typing import NamedTuple

from shopdesk.answering.answer import Group
from shopdesk.answering.care_view import care_differences, possible
from shopdesk.answering.findings import rank
from shopdesk.answering.judging import (
    COMPANION_TROUBLE,
    Sought,
    behaviour_findings,
    doubt_troubles,
    strands_trouble,
)
from shopdesk.answering.nature import Nature, in_the_wash
from shopdesk.answering.rings import Ring
from shopdesk.answering.size_bounds import Numbers, SizeBounds
from shopdesk.answering.standing import Standing, standing_of
from shopdesk.craft.behaviour import Traits
from shopdesk.craft.cautions import YarnFacts

WITH_A_CHANGE, NOT_FOR_THIS = rank(Group.WITH_A_CHANGE), rank(Group.NOT_FOR_THIS)


class _Nature(NamedTuple):
    """What a yarn's nature alone does to its standing."""

    group: int
    trouble: float
    small_print: int


class Outlook:
    """The bounds of one ask in a shop of `country`; `natures` gives the nature of a key."""

    def __init__(self, wanted: Sought, country: str, natures: Callable[[str], Nature]) -> None:
        self._wanted = wanted
        self._natures = natures
        self._by_nature: dict[str, _Nature] = {}
        self._washed = cache(self._worked_out_washed)
        self._behaving = cache(self._worked_out_behaving)
        self._flagged = [one for one in possible(wanted.ask, country) if one.text.flag]
        self._sizes = SizeBounds(wanted)

    def best(self, ring: Ring, yarn: Numbers) -> Standing | None:
        """Returns the best standing of a yarn held in the ring's way; None: it is not for this."""
        doubts = sum(doubt_troubles(yarn.doubts)) if yarn.doubts else 0.0
        if ring.beside:
            trouble = COMPANION_TROUBLE + doubts
            return Standing(WITH_A_CHANGE, trouble, False, 0, 0.0, 0.0, yarn.sku)
        size = self._sizes.best(yarn, ring.strands)
        if size is None:
            return None
        nature = self._by_nature.get(yarn.nature) or self._by_its_nature(yarn.nature)
        if nature.group == NOT_FOR_THIS:
            return None
        group, trouble, off = size
        if ring.strands > 1:
            group, trouble = WITH_A_CHANGE, trouble + strands_trouble(ring.strands)
        elif doubts and not group:
            group = 1
        return Standing(
            max(group, nature.group),
            round(trouble + doubts + nature.trouble, 6),
            False,
            nature.small_print,
            off,
            self._sizes.off_percent(yarn, ring.strands),
            yarn.sku,
        )

    def _by_its_nature(self, key: str) -> _Nature:
        """Returns how a yarn stands by its nature alone."""
        nature = self._natures(key)
        washed, behaving = self._washed(in_the_wash(nature)), self._behaving(nature.traits)
        flags = self._flags(nature) if self._flagged else 0
        found = self._by_nature[key] = _Nature(
            max(washed.group, behaving.group),
            behaving.trouble + flags,
            washed.small_print + behaving.small_print,
        )
        return found

    def _flags(self, nature: Nature) -> int:
        """Returns the number of cautions that must be told."""
        yarn = YarnFacts(nature.care, nature.by_default, nature.traits)
        return len([one for one in self._flagged if one.applies(yarn)])

    def _worked_out_washed(self, nature: Nature) -> Standing:
        return standing_of((), care_differences(self._wanted.ask, [nature]), (), "")

    def _worked_out_behaving(self, behaviour: Traits) -> Standing:
        return standing_of(list(behaviour_findings(self._wanted.item, behaviour)), (), (), "")
