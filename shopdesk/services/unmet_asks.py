"""Asks that nothing on the shelf fitted: what to buy in, kept without the customer, and counted."""

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime
from math import inf

from sqlalchemy import select
from sqlalchemy.orm import Session

from shopdesk.answering.model.answer import Answer, Suitability
from shopdesk.answering.model.ask import Ask
from shopdesk.store.tables.settings import UnmetAsk
from shopdesk.store.types import now


@dataclass(frozen=True, slots=True)
class Unmet:
    """What was wanted and why nothing did. `stitches` per 10 cm; `reason` a Message's code.

    `fibres` are those of the designer's yarn, as keys of fibres.csv; `categories` the standard's
    numbers that the ask allows.
    """

    item: str
    craft: str
    reason: str
    categories: tuple[int, ...] = ()
    stitches: float | None = None
    fibres: tuple[str, ...] = ()
    washing: str = ""
    colour_family: str | None = None
    at: datetime | None = None


def record_unmet(session: Session, ask: Unmet) -> None:
    """Keeps an unmet ask with the present moment, unless it has its own."""
    session.add(
        UnmetAsk(
            at=ask.at or now(),
            item=ask.item,
            craft=ask.craft,
            categories=list(ask.categories),
            stitches=ask.stitches,
            fibres=list(ask.fibres),
            washing=ask.washing,
            colour_family=ask.colour_family,
            reason=ask.reason,
        )
    )
    session.flush()


def unmet_asks(session: Session, since: datetime | None = None) -> tuple[Unmet, ...]:
    """Returns the unmet asks since a moment, or all of them, newest first."""
    wanted = select(UnmetAsk).order_by(UnmetAsk.at.desc(), UnmetAsk.id.desc())
    if since is not None:
        wanted = wanted.where(UnmetAsk.at >= since)
    return tuple(_unmet(row) for row in session.scalars(wanted))


def category_counts(asks: Sequence[Unmet]) -> tuple[tuple[int | None, int], ...]:
    """Returns how many asks allow each weight category, whatever the reason, most frequent first.

    An ask that allows two counts in both; one that allows none counts under None.
    """
    counts: dict[int | None, int] = {}
    for ask in asks:
        for category in ask.categories or (None,):
            counts[category] = counts.get(category, 0) + 1
    return tuple(
        sorted(counts.items(), key=lambda item: (-item[1], inf if item[0] is None else item[0]))
    )


def fibre_counts(asks: Sequence[Unmet]) -> tuple[tuple[str, int], ...]:
    """Returns how many asks name each fibre, the most frequent first."""
    counts: dict[str, int] = {}
    for ask in asks:
        for fibre in dict.fromkeys(ask.fibres):
            counts[fibre] = counts.get(fibre, 0) + 1
    return tuple(sorted(counts.items(), key=lambda item: (-item[1], item[0])))


def _unmet(row: UnmetAsk) -> Unmet:
    return Unmet(
        item=row.item,
        craft=row.craft,
        reason=row.reason,
        categories=tuple(row.categories),
        stitches=row.stitches,
        fibres=tuple(row.fibres),
        washing=row.washing,
        colour_family=row.colour_family,
        at=row.at,
    )


NOTHING_LEFT = "wishes.all_ruled_out"
NOTHING_NEAR = "judging.none_near"


def unmet_of(ask: Ask, answer: Answer) -> Unmet | None:
    """Returns the unmet ask, or None if some yarn will do."""
    if any(candidate.group is not Suitability.NOT_FOR_THIS for candidate in answer.candidates):
        return None
    yarn = ask.designer_yarn
    return Unmet(
        item=ask.item.value,
        craft=ask.craft.value,
        reason=_reason(answer),
        categories=answer.target.categories,
        stitches=ask.gauge.stitches if ask.gauge else None,
        fibres=tuple(share.fibre for share in yarn.fibres) if yarn else (),
        washing=ask.washing.value,
        colour_family=ask.wishes.colour_family,
    )


def _reason(answer: Answer) -> str:
    """Returns the code that decided most often; a wish counts for every yarn it took away."""
    counts = Counter(c.reasons[0].code for c in answer.candidates if c.reasons)
    for taken in answer.ruled_out:
        counts[taken.wish.code] += taken.count
    counts[NOTHING_NEAR] += answer.beyond
    code, yarns = min(counts.items(), key=lambda item: (-item[1], item[0]))
    return code if yarns else NOTHING_LEFT
