"""The shelf as a shortlist looks through it: windows by index, summaries by key, yarns in full."""

from collections import Counter
from collections.abc import Collection, Mapping, Sequence

from sqlalchemy import ColumnElement, and_, false, func, not_, or_, select, true
from sqlalchemy.orm import Session

from shopdesk.answering.answer.candidates import PreparedAsk
from shopdesk.answering.model.answer import RuledOut
from shopdesk.answering.profile.profile import shelf_profile
from shopdesk.answering.profile.summary import ProfiledYarn, WearAndCare, YarnSummary
from shopdesk.answering.shortlist.bounds import IndexRow
from shopdesk.answering.shortlist.price_bound import price_bound
from shopdesk.answering.shortlist.windows import SearchWindow
from shopdesk.answering.supply.wishes import avoiding
from shopdesk.answering.thresholds import HAIR, threshold
from shopdesk.shelf.loading import yarn_keys, yarns_planned_in
from shopdesk.shelf.yarn_index import bits_of, summary_of, wear_and_care_of
from shopdesk.store.tables.yarns import YarnIndex

_INDEX = YarnIndex.__table__.c
_INDEX_ROW = tuple(_INDEX["yarn_id" if name == "key" else name] for name in IndexRow._fields)


class YarnIndexSearch:
    """The yarns on offer in a session, without what the ask's wishes rule out beforehand.

    Read in full, a yarn has the lots that a counter in `branch` plans with.
    """

    def __init__(self, session: Session, asked: PreparedAsk, branch: str) -> None:
        self._session = session
        self._avoid = asked.wanted.ask.wishes.avoid_fibres
        self._price = price_bound(asked)
        self._branch, self._currency = branch, asked.terms.currency

    def window(
        self, window: SearchWindow, beyond: Sequence[SearchWindow] = ()
    ) -> Sequence[IndexRow]:
        """Returns the index rows of a window that lie in none of the windows `beyond`."""
        new = [not_(func.coalesce(and_(true(), *_conditions(each)), false())) for each in beyond]
        return self._rows([*_conditions(window), *new, *self._affordable()])

    def summary(self, yarn: IndexRow) -> YarnSummary:
        """Returns the summary of one yarn."""
        return summary_of(yarn)

    def companions(self) -> Sequence[YarnSummary]:
        """Returns the yarns fine enough to be held along with another, and a hair beyond."""
        finest = 100_000 / threshold("companion_length") * (1 + HAIR)
        return list(map(summary_of, self._rows([_INDEX.tex <= finest])))

    def wear_and_care(self, key: str) -> WearAndCare:
        """Returns the wear and care that is kept under a key."""
        return wear_and_care_of(key)

    def read(self, skus: Collection[str]) -> Mapping[str, ProfiledYarn]:
        """Returns yarns in full, with their stock."""
        keys = yarn_keys(self._session, skus)
        ids = list(keys.values())
        yarns = yarns_planned_in(self._session, self._branch, self._currency, ids)
        return {yarn.sku: ProfiledYarn(yarn, shelf_profile(yarn)) for yarn in yarns}

    def ruled_out(self) -> Sequence[RuledOut]:
        """Returns what the customer's wishes rule out beforehand."""
        return *self._beyond_fibres(), *self._beyond_price()

    def _rows(self, conditions: Sequence[ColumnElement[bool]]) -> list[IndexRow]:
        wanted = select(*_INDEX_ROW).where(*conditions, *self._without_avoided())
        return list(map(IndexRow._make, self._session.execute(wanted).all()))

    def _without_avoided(self) -> list[ColumnElement[bool]]:
        if not self._avoid:
            return []
        fibres = sorted(self._avoid)
        return [_INDEX.blend != "", *(~_INDEX.blend.contains(f",{f},") for f in fibres)]

    def _beyond_fibres(self) -> tuple[RuledOut, ...]:
        """Returns a line for each fibre to avoid; a yarn counts for the first it has."""
        if not self._avoid:
            return ()
        blends = select(_INDEX.blend, func.count()).group_by(_INDEX.blend)
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
        skeins = func.round(self._price.length_m / _INDEX.metres + self._price.UP)
        return [_INDEX.price_minor * skeins <= self._price.limit_minor]

    def _beyond_price(self) -> tuple[RuledOut, ...]:
        """Returns the lines of the price limit; a yarn with a fibre to avoid is not in them."""
        if self._price is None:
            return ()
        if self._price.length_m is None:
            return self._price.lines(0, self._number([]))
        unknown, dear = _INDEX.metres.is_(None), not_(and_(*self._affordable()))
        return self._price.lines(self._number([~unknown, dear]), self._number([unknown]))

    def _number(self, conditions: Sequence[ColumnElement[bool]]) -> int:
        wanted = select(func.count()).select_from(YarnIndex.__table__)
        return self._session.scalars(wanted.where(*conditions, *self._without_avoided())).one()


def _conditions(window: SearchWindow) -> list[ColumnElement[bool]]:
    found: list[ColumnElement[bool]] = []
    if window.stitches is not None:
        found.append(_INDEX.stitches.between(*window.stitches))
    if window.meets is not None:
        found += [_INDEX.stitches_high >= window.meets[0], _INDEX.stitches_low <= window.meets[1]]
    if window.tex is not None:
        found.append(_INDEX.tex.between(*window.tex))
    if window.volume is not None:
        volume = _INDEX.tex / _INDEX.density
        found.append(or_(volume.is_(None), volume.between(*window.volume)))
    if window.no_stitches:
        found.append(_INDEX.stitches.is_(None))
    if window.no_tex:
        found.append(_INDEX.tex.is_(None))
    if window.categories:
        found.append(_INDEX.categories.op("&")(bits_of(window.categories)) != 0)
    return found
