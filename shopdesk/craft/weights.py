"""The eight standard weight categories, by name, gauge, wraps and length per mass.

Source: Craft Yarn Council, Standard Yarn Weight System (gauge, tools, wraps per inch); metres
per 100 g are common practice. Its publisher calls all ranges guidelines, and they overlap or
leave gaps: each question is answered with every category that fits, finest first.
"""

import re
from dataclasses import dataclass
from functools import cache
from math import inf
from typing import NamedTuple

from shopdesk.craft.yarn import Craft
from shopdesk.reference.tables import table


@dataclass(frozen=True, slots=True)
class WeightCategory:
    """One category. Stitches are per 10 cm, metres per 100 g; None where a range is open."""

    number: int
    name: str
    trade_names: tuple[str, ...]
    knit_low: float | None
    knit_high: float | None
    needle_mm_low: float | None
    needle_mm_high: float | None
    crochet_low: float | None
    crochet_high: float | None
    crochet_stitch: str
    hook_mm_low: float | None
    hook_mm_high: float | None
    wraps_low: float | None
    wraps_high: float | None
    metres_low: float | None
    metres_high: float | None

    @property
    def words(self) -> str:
        """Number, name and what the trade calls it: '3 Light (DK, light worsted)'."""
        also = [name for name in self.trade_names if name.casefold() != self.name.casefold()]
        return f"{self.number} {self.name} ({', '.join(also)})"


Range = tuple[int, float, float]


class _CategoryRange(NamedTuple):
    """A category's range with the open gaps that lie on either side of it."""

    number: int
    first: float
    last: float
    gap_from: float
    gap_to: float


def _number_in(cell: str) -> float | None:
    return float(cell) if cell else None


@cache
def categories() -> tuple[WeightCategory, ...]:
    """Returns the eight categories, finest first."""
    wraps = {row["weight"]: row for row in table("weight_wraps")}
    lengths = {row["weight"]: row for row in table("weight_lengths")}
    return tuple(
        WeightCategory(
            number=int(row["number"]),
            name=row["name"],
            trade_names=tuple(row["trade_names"].split("; ")),
            knit_low=_number_in(row["knit_low"]),
            knit_high=_number_in(row["knit_high"]),
            needle_mm_low=_number_in(row["needle_mm_low"]),
            needle_mm_high=_number_in(row["needle_mm_high"]),
            crochet_low=_number_in(row["crochet_low"]),
            crochet_high=_number_in(row["crochet_high"]),
            crochet_stitch=row["crochet_stitch"],
            hook_mm_low=_number_in(row["hook_mm_low"]),
            hook_mm_high=_number_in(row["hook_mm_high"]),
            wraps_low=_number_in(wraps[row["number"]]["wraps_low"]),
            wraps_high=_number_in(wraps[row["number"]]["wraps_high"]),
            metres_low=_number_in(lengths[row["number"]]["metres_low"]),
            metres_high=_number_in(lengths[row["number"]]["metres_high"]),
        )
        for row in table("weights")
    )


def category(number: int) -> WeightCategory:
    """Returns the category of this number, 0 to 7. Raises KeyError."""
    for found in categories():
        if found.number == number:
            return found
    raise KeyError(number)


def categories_by_gauge(low: float, high: float, craft: Craft = Craft.KNIT) -> tuple[int, ...]:
    """Returns the categories whose gauge may lie in [low, high], in stitches per 10 cm.

    Knitted: stockinette. Crocheted: single crochet (US terms). A value between two ranges
    (20.5) belongs to both neighbours. Finer than all is lace, for which the standard gives no
    single crochet gauge, so there category 1 stays possible too. Raises ValueError for a range
    that is reversed or not above zero.
    """
    found = _meeting(_gauge_places(craft), low, high)
    finer_than_all = craft is Craft.CROCHET and high > _finest_crochet()
    return (0, *found) if finer_than_all else found


def categories_by_wraps(low: float, high: float) -> tuple[int, ...]:
    """Returns the categories whose wraps per inch may lie in [low, high].

    The ranges overlap widely, so wraps alone never decide. Raises ValueError as above.
    """
    return _meeting(_wraps_places(), low, high)


def categories_by_length(low: float, high: float) -> tuple[int, ...]:
    """Returns the categories that may have a length in [low, high], in metres per 100 g.

    Common practice, no source: the widest spread of several tables. Raises ValueError as above.
    """
    return _meeting(_length_places(), low, high)


@cache
def _gauge_places(craft: Craft) -> tuple[_CategoryRange, ...]:
    if craft is Craft.CROCHET:
        return _places(_open_at_the_finest(_crochet_ranges()))
    ranges = [(c.number, c.knit_low or 0, c.knit_high or inf) for c in categories()]
    return _places(_open_at_the_finest(ranges))


@cache
def _wraps_places() -> tuple[_CategoryRange, ...]:
    ranges = [(c.number, c.wraps_low or 0, c.wraps_high or inf) for c in categories()]
    return _places(_down_to_nothing(ranges))


@cache
def _length_places() -> tuple[_CategoryRange, ...]:
    return _places([(c.number, c.metres_low or 0, c.metres_high or inf) for c in categories()])


@cache
def _finest_crochet() -> float:
    return max(finest for _, _, finest in _crochet_ranges())


def _crochet_ranges() -> list[Range]:
    return [
        (c.number, c.crochet_low or 0, c.crochet_high or inf)
        for c in categories()
        if c.crochet_stitch == "single crochet"
    ]


def _open_at_the_finest(ranges: list[Range]) -> list[Range]:
    number, low, _ = max(ranges, key=lambda each: each[1])
    return [(number, low, inf) if each[0] == number else each for each in ranges]


def _down_to_nothing(ranges: list[Range]) -> list[Range]:
    number, _, high = min(ranges, key=lambda each: each[1])
    return [(number, 0, high) if each[0] == number else each for each in ranges]


def _places(ranges: list[Range]) -> tuple[_CategoryRange, ...]:
    return tuple(_place(ranges, *one) for one in ranges)


def _place(ranges: list[Range], number: int, first: float, last: float) -> _CategoryRange:
    joined_below = any(start < first <= end for _, start, end in ranges)
    joined_above = any(start <= last < end for _, start, end in ranges)
    gap_from = first if joined_below else max((e for _, _, e in ranges if e < first), default=first)
    gap_to = last if joined_above else min((s for _, s, _ in ranges if s > last), default=last)
    return _CategoryRange(number, first, last, gap_from, gap_to)


def _meeting(places: tuple[_CategoryRange, ...], low: float, high: float) -> tuple[int, ...]:
    """Returns the categories whose range, or the open gap on either side, [low, high] meets."""
    if not 0 < low <= high:
        raise ValueError(f"{low} to {high} is not a range above zero")
    return tuple(
        [
            number
            for number, first, last, gap_from, gap_to in places
            if (high >= first or high > gap_from) and (low <= last or low < gap_to)
        ]
    )


_PLY = re.compile(r"([0-9]{1,2})ply")
_NUMBER = re.compile(r"(?:#|no|category|weight)?([0-7])")
_BETWEEN = re.compile(r"/|,|&| or | to | and ")


def categories_named(text: str) -> tuple[int, ...]:
    """Returns the categories that a weight name may mean, finest first; () if it is unknown.

    Knows the standard's numbers and trade names, some German and French ones, and the ply names
    of the UK, Australia and New Zealand, where '4-ply' is a thickness; an old American '4-ply'
    means worsted, so both are given. Two names ('DK / light worsted') give what either allows.
    """
    whole = _one_name(text)
    if whole:
        return whole
    names = [_one_name(part) for part in _BETWEEN.split(text.casefold())]
    if not all(names):
        return ()
    return tuple(sorted({number for name in names for number in name}))


def _one_name(text: str) -> tuple[int, ...]:
    plain = _plain_name(text)
    number = _NUMBER.fullmatch(plain)
    if number is not None:
        return (int(number[1]),)
    ply = _PLY.fullmatch(plain)
    if ply is not None:
        return _ply_names().get(int(ply[1]), ())
    return _weight_names().get(plain.removesuffix("yarn").removesuffix("weight"), ())


def _plain_name(text: str) -> str:
    return re.sub(r"[-_.\s\u2010\u2011]+", "", text.casefold())


@cache
def _ply_names() -> dict[int, tuple[int, ...]]:
    return {int(row["plies"]): _numbers_in(row["weights"]) for row in table("ply_names")}


@cache
def _weight_names() -> dict[str, tuple[int, ...]]:
    found: dict[str, tuple[int, ...]] = {}
    for each in categories():
        for name in {_plain_name(name) for name in (each.name, *each.trade_names)}:
            found[name] = (*found.get(name, ()), each.number)
    rows = table("weight_names")
    return {_plain_name(row["name"]): _numbers_in(row["weights"]) for row in rows} | found


def _numbers_in(cell: str) -> tuple[int, ...]:
    return tuple(int(number) for number in cell.split())
