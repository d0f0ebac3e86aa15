"""The shelf as a shortlist looks through it: rings by index, briefs by key, yarns in full."""

from collections import Counter
from collections.abc import Collection, Mapping, Sequence

from sqlalchemy import ColumnElement, and_, false, func, not_, or_, select
from sqlalchemy.orm import Session

from shopdesk.answering.answer.candidates import PreparedAsk
from shopdesk.answering.model.answer import RuledOut
from shopdesk.answering.profile.profile import shelf_profile
from shopdesk.answering.profile.summary import ProfiledYarn, WearAndCare, YarnSummary
from shopdesk.answering.shortlist.bounds import IndexRow, price_bound
from shopdesk.answering.shortlist.windows import SearchWindow
from shopdesk.answering.supply.wishes import avoiding
from shopdesk.answering.thresholds import HAIR, threshold
from shopdesk.shelf.loading import yarn_keys, yarns_planned_in
from shopdesk.shelf.yarn_index import bits_of, brief_of, nature_of
from shopdesk.store.tables.yarns import YarnBrief

_BRIEF = YarnBrief.__table__.c
_INDEX_ROW = tuple(_BRIEF["yarn_id" if name == "key" else name] for name in IndexRow._fields)


class YarnIndexSearch:
    """The yarns on offer in a session, without what the ask's wishes rule out beforehand.

    Read in full, a yarn has the lots that a counter in `branch` plans with.
    """

    def __init__(self, session: Session, asked: PreparedAsk, branch: str) -> None:
        self._session = session
        self._avoid = asked.wanted.ask.wishes.avoid_fibres
        self._price = price_bound(asked)
        self._branch, self._currency = branch, asked.terms.currency

    def ring(self, ring: SearchWindow) -> Sequence[IndexRow]:
        """Returns the yarns of a ring in numbers."""
        return self._numbers([*_conditions(ring), *self._affordable()])

    def brief(self, yarn: IndexRow) -> YarnSummary:
        """Returns one yarn in brief."""
        return brief_of(yarn)

    def companions(self) -> Sequence[YarnSummary]:
        """Returns the yarns fine enough to be held along with another, and a hair beyond."""
        finest = 100_000 / threshold("companion_length") * (1 + HAIR)
        return list(map(brief_of, self._numbers([_BRIEF.tex <= finest])))

    def nature(self, key: str) -> WearAndCare:
        """Returns the nature that is kept under a key."""
        return nature_of(key)

    def read(self, skus: Collection[str]) -> Mapping[str, ProfiledYarn]:
        """Returns yarns in full, with their stock."""
        keys = yarn_keys(self._session, skus)
        ids = list(keys.values())
        yarns = yarns_planned_in(self._session, self._branch, self._currency, ids)
        return {yarn.sku: ProfiledYarn(yarn, shelf_profile(yarn)) for yarn in yarns}

    def ruled_out(self) -> Sequence[RuledOut]:
        """Returns what the customer's wishes rule out beforehand."""
        return *self._beyond_fibres(), *self._beyond_price()

    def _numbers(self, conditions: Sequence[ColumnElement[bool]]) -> list[IndexRow]:
        wanted = select(*_INDEX_ROW).where(*conditions, *self._without_avoided())
        return list(map(IndexRow._make, self._session.execute(wanted).all()))

    def _without_avoided(self) -> list[ColumnElement[bool]]:
        if not self._avoid:
            return []
        fibres = sorted(self._avoid)
        return [_BRIEF.blend != "", *(~_BRIEF.blend.contains(f",{f},") for f in fibres)]

    def _beyond_fibres(self) -> tuple[RuledOut, ...]:
        """Returns a line for each fibre to avoid; a yarn counts for the first it has."""
        if not self._avoid:
            return ()
        blends = select(_BRIEF.blend, func.count()).group_by(_BRIEF.blend)
        found: Counter[str | None] = Counter()
        for blend, number in self._session.execute(blends):
            avoided = sorted(self._avoid & set(blend.split(",")))
            if avoided or not blend:
                found[avoided[0] if avoided else None] += number
        return avoiding(found)

    def _affordable(self) -> list[ColumnElement[bool]]:
        if self._price is None:
            return []
        if self._price.length_m is None:
            return [false()]
        return [
            _BRIEF.price_minor * self._price.length_m / _BRIEF.metres <= self._price.limit_minor
        ]

    def _beyond_price(self) -> tuple[RuledOut, ...]:
        """Returns the lines of the price limit; a yarn with a fibre to avoid is not in them."""
        if self._price is None:
            return ()
        if self._price.length_m is None:
            return self._price.lines(0, self._number([]))
        unknown, dear = _BRIEF.metres.is_(None), not_(and_(*self._affordable()))
        return self._price.lines(self._number([~unknown, dear]), self._number([unknown]))

    def _number(self, conditions: Sequence[ColumnElement[bool]]) -> int:
        wanted = select(func.count()).select_from(YarnBrief.__table__)
        return self._session.scalars(wanted.where(*conditions, *self._without_avoided())).one()


def _conditions(ring: SearchWindow) -> list[ColumnElement[bool]]:
    found: list[ColumnElement[bool]] = []
    if ring.stitches is not None:
        found.append(_BRIEF.stitches.between(*ring.stitches))
    if ring.meets is not None:
        found += [_BRIEF.stitches_high >= ring.meets[0], _BRIEF.stitches_low <= ring.meets[1]]
    if ring.tex is not None:
        found.append(_BRIEF.tex.between(*ring.tex))
    if ring.volume is not None:
        volume = _BRIEF.tex / _BRIEF.density
        found.append(or_(volume.is_(None), volume.between(*ring.volume)))
    if ring.no_stitches:
        found.append(_BRIEF.stitches.is_(None))
    if ring.no_tex:
        found.append(_BRIEF.tex.is_(None))
    if ring.categories:
        found.append(_BRIEF.categories.op("&")(bits_of(ring.categories)) != 0)
    return found
