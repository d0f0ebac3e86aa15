"""Finds yarns: by barcode, by the first letters of their words, and by what they are.

What somebody types or scans is looked up through indexes only, so that it stays quick however
long the shelf is. Only where nothing begins with the letters are all names looked through.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from decimal import Decimal
from math import inf
from typing import Any

from sqlalchemy import ColumnElement, FromClause, Row, Select, and_, func, or_, select
from sqlalchemy.orm import Session

from shopdesk.craft.messages import Message, message
from shopdesk.craft.money import from_minor, in_minor
from shopdesk.craft.weights import category
from shopdesk.parsing.gtins import GtinRefused, article_key, read_gtin
from shopdesk.shelf.index_keeping import plain_words
from shopdesk.shelf.stock import available_expression
from shopdesk.store.models import Colourway, DyeLot, Stock, Yarn, YarnFibre, YarnWord
from shopdesk.store.settings import load_settings

MOST_FOUND = 50
MOST_WORDS = 6
LAST = "\U0010ffff"
_YARN = Yarn.__table__.c
_WORDS = YarnWord.__table__
_OTHERS = _WORDS.alias()


@dataclass(frozen=True, slots=True)
class YarnQuery:
    """What is looked for; what is None or '' does not matter.

    Stitches are per 10 cm as the band has them. `machine` wants a machine wash by the band.
    """

    text: str = ""
    stitches_low: float | None = None
    stitches_high: float | None = None
    category: int | None = None
    fibre: str | None = None
    machine: bool = False
    price_to: Decimal | None = None
    in_stock: bool = False
    retired: bool = False


@dataclass(frozen=True, slots=True)
class FoundYarn:
    """A yarn in a list. `colour_code` is that of the barcode, `skeins` may be promised now."""

    sku: str
    name: str
    weight_name: str | None
    put_up: str
    price: Decimal
    skeins: int
    retired: bool
    colour_code: str | None = None


@dataclass(frozen=True, slots=True)
class SearchResult:
    """What was found. `more` tells that there are further ones; `note` says what was odd."""

    yarns: tuple[FoundYarn, ...]
    more: bool = False
    note: Message | None = None


def search_yarns(session: Session, wish: YarnQuery, most: int = MOST_FOUND) -> SearchResult:
    """Returns the yarns that meet every part of the wish, at most `most`."""
    scanned, note = _scanned(wish.text)
    conditions = list(_conditions(session, wish))
    if scanned:
        colours = _by_barcode(session, scanned)
        if colours:
            return _result(session, _select(conditions, _YARN.id.in_(colours)), most, colours)
    if not wish.text.strip():
        return _result(session, _select(conditions).order_by(_YARN.name), most, note=note)
    words = plain_words(wish.text)
    keys = _by_words(session, words, most + 1, conditions) if words else []
    if keys:
        found = _select(conditions, _YARN.id.in_(keys)).order_by(_YARN.name)
        return _result(session, found, most, note=note)
    inside = _YARN.name.icontains(wish.text.strip(), autoescape=True)
    return _result(session, _select(conditions, inside).order_by(_YARN.name), most, note=note)


def suggest(session: Session, text: str, most: int = 10) -> list[tuple[str, str]]:
    """Returns SKU and name of the first yarns that go on from what was typed or scanned."""
    scanned, _ = _scanned(text)
    keys = _by_barcode(session, scanned) if scanned else {}
    words = plain_words(text)
    wanted: Select[*tuple[Any, ...]] = select(_YARN.sku, _YARN.name)
    if keys:
        wanted = wanted.where(_YARN.id.in_(keys))
    elif words:
        wanted = _with_words(session, wanted, words).where(_YARN.retired.is_(False))
    else:
        return []
    found = [(row.sku, row.name) for row in _first_different(session, wanted, most)]
    return sorted(found, key=lambda pair: pair[1].casefold())


def sku_of(session: Session, text: str) -> str | None:
    """Returns the SKU of the one yarn that this is the SKU or barcode of, else None."""
    exact = session.scalar(select(Yarn.sku).where(Yarn.sku == text.strip()))
    if exact is not None:
        return exact
    scanned, _ = _scanned(text)
    keys = list(_by_barcode(session, scanned)) if scanned else []
    if len(keys) != 1:
        return None
    return session.scalar(select(Yarn.sku).where(Yarn.id == keys[0]))


def _scanned(text: str) -> tuple[str | None, Message | None]:
    """Returns the key of an article number, and a note if it is a wrong one."""
    plain = text.replace(" ", "").replace("-", "")
    if not (plain.isascii() and plain.isdigit()) or len(plain) < 8:
        return None, None
    try:
        return article_key(read_gtin(plain).digits), None
    except GtinRefused as refusal:
        sentence = refusal.problem.sentence
        return None, message("problem_shelf.as_barcode", sentence=sentence)


def _by_barcode(session: Session, key: str) -> dict[int, str | None]:
    """Returns the keys of the yarns that have this number, with the colour that has it."""
    yarns = session.scalars(select(Yarn.id).where(Yarn.gtin_key == key))
    found: dict[int, str | None] = dict.fromkeys(yarns)
    colours = select(Colourway.yarn_id, Colourway.code).where(Colourway.gtin_key == key)
    found.update((row.yarn_id, row.code) for row in session.execute(colours))
    return found


def _by_words(
    session: Session, words: Sequence[str], most: int, conditions: Sequence[ColumnElement[bool]]
) -> list[int]:
    """Returns the keys of yarns that have a word beginning with each of these."""
    wanted = _with_words(session, select(_WORDS.c.yarn_id), words)
    return [row.yarn_id for row in _first_different(session, wanted.where(*conditions), most)]


def _first_different(
    session: Session, wanted: Select[*tuple[Any, ...]], most: int
) -> list[Row[*tuple[Any, ...]]]:
    """Returns the first rows, each once; more are read while rows that come up again fill them."""
    limit = most
    while True:
        limit *= 3
        rows = session.execute(wanted.limit(limit)).all()
        different = list(dict.fromkeys(rows))
        if len(different) >= most or len(rows) < limit:
            return different[:most]


def _with_words(
    session: Session, wanted: Select[*tuple[Any, ...]], words: Sequence[str]
) -> Select[*tuple[Any, ...]]:
    """Adds that a yarn has a word beginning with each of these; a yarn may come up twice."""
    rarest, *others = _rarest_first(session, words)
    yarn = _WORDS.c.yarn_id
    wanted = wanted.join_from(_WORDS, Yarn.__table__, _YARN.id == yarn).where(_begins(rarest))
    for word in others:
        also = select(_OTHERS.c.yarn_id).where(_OTHERS.c.yarn_id == _YARN.id)
        also = also.where(_begins(word, _OTHERS)).correlate(Yarn.__table__)
        wanted = wanted.where(also.exists())
    return wanted.order_by(_WORDS.c.word, yarn)


def _rarest_first(session: Session, words: Sequence[str]) -> list[str]:
    """Returns the words without doubles, the one that the fewest yarns have before the others."""
    different = list(dict.fromkeys(words))[:MOST_WORDS]
    if len(different) == 1:
        return different
    counted = select(func.count(_WORDS.c.yarn_id))
    counting = select(*(counted.where(_begins(word)).scalar_subquery() for word in different))
    counts = dict(zip(different, session.execute(counting).one(), strict=True))
    return sorted(different, key=counts.__getitem__)


def _begins(word: str, words: FromClause = _WORDS) -> ColumnElement[bool]:
    return and_(words.c.word >= word, words.c.word < word + LAST)


def _select(
    conditions: Sequence[ColumnElement[bool]], *more: ColumnElement[bool]
) -> Select[*tuple[Any, ...]]:
    columns = (_YARN.id, _YARN.sku, _YARN.name, _YARN.weight_name, _YARN.put_up_printed)
    return select(*columns, _YARN.price_minor, _YARN.retired).where(*conditions, *more)


def _result(
    session: Session,
    wanted: Select[*tuple[Any, ...]],
    most: int,
    colours: dict[int, str | None] | None = None,
    note: Message | None = None,
) -> SearchResult:
    rows = session.execute(wanted.limit(most + 1)).all()
    shown = rows[:most]
    skeins = _skeins(session, [row.id for row in shown])
    currency = load_settings(session).currency
    yarns = tuple(
        _found(row, currency, skeins.get(row.id, 0), (colours or {}).get(row.id)) for row in shown
    )
    return SearchResult(yarns, len(rows) > most, note)


def _found(row: Row[Any], currency: str, skeins: int, colour: str | None) -> FoundYarn:
    return FoundYarn(
        row.sku,
        row.name,
        row.weight_name,
        row.put_up_printed,
        from_minor(row.price_minor, currency),
        skeins,
        row.retired,
        colour,
    )


def _skeins(session: Session, keys: Sequence[int]) -> dict[int, int]:
    wanted = (
        select(Colourway.yarn_id, func.sum(available_expression()))
        .select_from(Colourway)
        .join(DyeLot, DyeLot.colourway_id == Colourway.id)
        .join(Stock, Stock.lot_id == DyeLot.id)
        .where(Colourway.yarn_id.in_(keys))
        .group_by(Colourway.yarn_id)
    )
    return {yarn: int(skeins) for yarn, skeins in session.execute(wanted)}


def _conditions(session: Session, wish: YarnQuery) -> Iterable[ColumnElement[bool]]:
    if not wish.retired:
        yield _YARN.retired.is_(False)
    if wish.stitches_low is not None:
        yield _YARN.knit_stitches_high >= wish.stitches_low
    if wish.stitches_high is not None:
        yield _YARN.knit_stitches_low <= wish.stitches_high
    if wish.category is not None:
        yield _in_category(wish.category)
    if wish.fibre is not None:
        made_of = select(YarnFibre.yarn_id).where(YarnFibre.fibre == wish.fibre)
        yield _YARN.id.in_(made_of)
    if wish.machine:
        yield _YARN.wash_action.in_(("normal", "mild", "very mild"))
    if wish.price_to is not None:
        minor = in_minor(wish.price_to, load_settings(session).currency)
        yield _YARN.price_minor <= int(minor)
    if wish.in_stock:
        yield _has_stock()


def _in_category(number: int) -> ColumnElement[bool]:
    """By the band's gauge; by its length per 100 g (common practice) where it gives none."""
    found = category(number)
    low, high = found.knit_low or -inf, found.knit_high or inf
    by_gauge = and_(_YARN.knit_stitches_high >= low, _YARN.knit_stitches_low <= high)
    length = _YARN.put_up_m * 100.0 / _YARN.put_up_g
    by_length = length.between(found.metres_low or -inf, found.metres_high or inf)
    return or_(by_gauge, and_(_YARN.knit_stitches_low.is_(None), by_length))


def _has_stock() -> ColumnElement[bool]:
    lying = (
        select(DyeLot.id)
        .join(Colourway, Colourway.id == DyeLot.colourway_id)
        .join(Stock, Stock.lot_id == DyeLot.id)
        .where(Colourway.yarn_id == Yarn.id, available_expression() > 0)
    )
    return lying.correlate(Yarn).exists()
