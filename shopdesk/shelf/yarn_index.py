"""The summary of every yarn on offer, stored so that an answer need not read them all."""

import hashlib
import json
from collections.abc import Collection, Iterable, Iterator
from functools import cache, lru_cache
from importlib.resources import files
from typing import Any, cast

from sqlalchemy import delete, func, insert, or_, select
from sqlalchemy.orm import Session

from shopdesk.answering.profile.profile import shelf_profile
from shopdesk.answering.profile.summary import ProfiledYarn, WearAndCare, YarnSummary
from shopdesk.answering.shortlist.bounds import IndexRow
from shopdesk.craft.behaviour import TRAITS, Level, Traits
from shopdesk.craft.care import AXES
from shopdesk.craft.counts import sold_put_up
from shopdesk.craft.figures import Basis, Figure
from shopdesk.craft.messages import Message
from shopdesk.craft.yarn import CareLabel, ShelfYarn
from shopdesk.shelf.loading import BATCH, shelf_yarns, yarn_keys
from shopdesk.shelf.mapping import to_minor
from shopdesk.store.settings import load_settings
from shopdesk.store.tables.yarns import Yarn, YarnIndex


def bits_of(numbers: Iterable[int]) -> int:
    """Returns the number that has the bits of these categories set, each given once."""
    return sum(1 << number for number in numbers)


def numbers_in(bits: int) -> tuple[int, ...]:
    """Returns the categories whose bits are set, finest first."""
    return tuple(number for number in range(bits.bit_length()) if bits >> number & 1)


_NUMBERS = frozenset({"wash_c", "iron_c"})


def wear_and_care_text(wear_and_care: WearAndCare) -> str:
    """Returns the text that `wear_and_care_of` reads back; equal ones have equal texts."""
    levels = [getattr(wear_and_care.traits, trait) for trait in TRAITS]
    values = [getattr(wear_and_care.care, axis) for axis in AXES]
    words = ["" if value is None else str(value) for value in (*levels, *values)]
    return "|".join([*words, "by default" if wear_and_care.by_default else ""])


@lru_cache(maxsize=20_000)
def wear_and_care_of(text: str) -> WearAndCare:
    """Returns the wear and care that a text stands for."""
    *words, by_default = text.split("|")
    care = zip(AXES, words[len(TRAITS) :], strict=True)
    values: dict[str, Any] = {axis: _value(axis, word) for axis, word in care if word}
    return WearAndCare(_traits(tuple(words[: len(TRAITS)])), CareLabel(**values), bool(by_default))


@lru_cache(maxsize=4096)
def _traits(levels: tuple[str, ...]) -> Traits:
    return Traits(**{t: Level(word) for t, word in zip(TRAITS, levels, strict=True) if word})


def _value(axis: str, word: str) -> str | int:
    return int(word) if axis in _NUMBERS else word


RULES = 2
"""Raised whenever the same label and measurements give another summary than before."""

_INDEX, _YARN = YarnIndex.__table__.c, Yarn.__table__.c


def write_summaries(session: Session, keys: Collection[int]) -> None:
    """Writes the summaries of these yarns anew; one that is not on offer has none.

    Who writes the same yarn's at the same time waits, and then sees what the first one changed.
    """
    ordered = sorted(keys)
    for start in range(0, len(ordered), BATCH):
        some = ordered[start : start + BATCH]
        alone = select(_YARN.id).where(_YARN.id.in_(some)).order_by(_YARN.id)
        session.execute(alone.with_for_update(key_share=True)).all()
        session.execute(delete(YarnIndex).where(YarnIndex.yarn_id.in_(some)))
        rows = list(_rows(session, shelf_yarns(session, some, with_stock=False)))
        if rows:
            session.execute(insert(YarnIndex), rows)


def refresh_index(session: Session) -> None:
    """Writes the summaries that are missing or were made by other rules."""
    write_summaries(session, outdated_summaries(session))


def outdated_summaries(session: Session) -> set[int]:
    """Returns the keys of the yarns whose summary is missing, too many, or made by other rules."""
    has_one = select(_INDEX.yarn_id).where(_INDEX.yarn_id == _YARN.id).exists()
    missing = select(_YARN.id).where(_YARN.retired.is_(False), ~has_one)
    too_many = select(_YARN.id).where(_YARN.retired.is_(True), has_one)
    outdated = select(_INDEX.yarn_id).where(_made_by_others())
    return {key for wanted in (missing, too_many, outdated) for key in session.scalars(wanted)}


def index_is_current(session: Session) -> bool:
    """True if none of the summaries was made by other rules than these."""
    made_by = select(
        select(func.min(_INDEX.made_by)).scalar_subquery(),
        select(func.max(_INDEX.made_by)).scalar_subquery(),
    )
    return {rules_name(), None}.issuperset(session.execute(made_by).one())


def stale_index_rows(session: Session) -> list[str]:
    """Returns the SKU of every yarn whose summary is not what would be written now."""
    kept = (dict(zip(_INDEX.keys(), row, strict=True)) for row in session.execute(select(*_INDEX)))
    stored = {row["sku"]: row for row in kept}
    fresh = {row["sku"]: row for row in _rows(session, shelf_yarns(session, with_stock=False))}
    return sorted(sku for sku in stored.keys() | fresh.keys() if stored.get(sku) != fresh.get(sku))


def summary_of(yarn: IndexRow) -> YarnSummary:
    """Returns the summary that is kept in these columns."""
    return YarnSummary(
        sku=yarn.sku,
        name=yarn.name,
        tex=_exactly(yarn.tex),
        natural_stitches=_stitches(yarn),
        density=_exactly(yarn.density),
        categories=numbers_in(yarn.categories),
        doubts=_sayings(yarn.doubts_text) if yarn.doubts else (),
        wear_and_care=wear_and_care_of(yarn.wear_and_care),
    )


def blend_text(fibres: Iterable[str]) -> str:
    """Returns the fibres in order, between commas; '' for none."""
    ordered = sorted(set(fibres))
    return f",{','.join(ordered)}," if ordered else ""


@cache
def rules_name() -> str:
    """Returns the name of the rules that summaries are made by: code and reference tables."""
    tables = hashlib.sha256()
    for file in sorted(files("shopdesk.reference").iterdir(), key=lambda each: each.name):
        if file.name.endswith(".csv"):
            tables.update(file.read_bytes())
    return f"{RULES}-{tables.hexdigest()[:12]}"


def _made_by_others() -> Any:
    return or_(YarnIndex.made_by < rules_name(), YarnIndex.made_by > rules_name())


def _rows(session: Session, yarns: Iterable[ShelfYarn]) -> Iterator[dict[str, Any]]:
    given = list(yarns)
    keys = yarn_keys(session, [yarn.sku for yarn in given])
    currency = load_settings(session).currency
    for yarn in given:
        yield _row(keys[yarn.sku], yarn, currency)


def _row(key: int, yarn: ShelfYarn, currency: str) -> dict[str, Any]:
    summary, put_up = ProfiledYarn(yarn, shelf_profile(yarn)).summary, sold_put_up(yarn.label)
    stitches = summary.natural_stitches
    return {
        "yarn_id": key,
        "sku": summary.sku,
        "name": summary.name,
        "stitches": stitches.value if stitches else None,
        "stitches_low": stitches.low if stitches else None,
        "stitches_high": stitches.high if stitches else None,
        "stitches_basis": stitches.basis.value if stitches else None,
        "tex": summary.tex.value if summary.tex else None,
        "density": summary.density.value if summary.density else None,
        "categories": bits_of(summary.categories),
        "doubts": len(summary.doubts),
        "doubts_text": json.dumps([[said.code, dict(said.values)] for said in summary.doubts]),
        "blend": blend_text(share.fibre for share in yarn.label.fibres),
        "wear_and_care": wear_and_care_text(summary.wear_and_care),
        "price_minor": to_minor(yarn.price, currency),
        "metres": put_up.metres if put_up else None,
        "made_by": rules_name(),
    }


def _exactly(value: float | None) -> Figure | None:
    return None if value is None else Figure(value, value, value, Basis.LABEL)


def _stitches(yarn: IndexRow) -> Figure | None:
    """All four columns are known, or none."""
    if yarn.stitches_basis is None:
        return None
    values = cast(
        tuple[float, float, float], (yarn.stitches, yarn.stitches_low, yarn.stitches_high)
    )
    return Figure(*values, Basis(yarn.stitches_basis))


def _sayings(text: str) -> tuple[Message, ...]:
    return tuple(Message(code, values) for code, values in json.loads(text))
