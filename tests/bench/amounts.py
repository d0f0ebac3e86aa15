"""Ways of adding the allowance: what is bought over the need, and how many visits fall short.

Each example ask is a visit for every yarn of the demo shelf in 50 g balls that it suits. What is
truly used is drawn from the spread that is stated: a count of balls evenly over what it can mean,
else a normal one whose interval is two standard deviations either way; what a pattern states
varies by hands beside. Own yarn and wishes are left out.
"""

import json
import random
from bisect import bisect_right
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from decimal import Decimal
from statistics import fmean

from shopdesk.answering.answer.whole_shelf import answer
from shopdesk.answering.ask.ask_reading import read_ask
from shopdesk.answering.model.answer import Need, Suitability
from shopdesk.answering.model.ask import Ask, Wishes
from shopdesk.answering.supply.amounts import part_amounts, skeins_of
from shopdesk.bundled import bundled
from shopdesk.craft.counts import sold_put_up
from shopdesk.craft.figures import Basis, Figure
from shopdesk.craft.quantity import (
    is_rounded_up,
    likely_m,
    most_m,
    planning_m,
    skeins_for,
    with_allowance,
)
from shopdesk.craft.yarn import PutUp
from shopdesk.reference.tables import constant
from shopdesk.shelf.loading import shelf_yarns
from shopdesk.store.database import reading
from shopdesk.store.settings import load_settings
from tests.bench.lines import Line
from tests.bench.shelves import Shelves, opened

BALL_G = 50
DRAWS = 4000
SEED = 14
ALLOWANCE = Decimal(10)
MOST_OVER, MOST_SHORT = 0.20, 0.02
Way = Callable[[Need, PutUp, int], int]


@dataclass(frozen=True, slots=True)
class Visit:
    """One ask and one yarn for it: what each part needs, in balls of what, and strands."""

    title: str
    needs: tuple[Need, ...]
    ball: PutUp
    strands: int


@dataclass(frozen=True, slots=True)
class Tried:
    """One way: the mean of what is bought over the need, and the share of visits that fall short.

    `short_if_hands` lets hands differ on a pattern's count of balls too, which was rounded up.
    """

    way: str
    over: float
    short: float
    short_if_hands: float


def _rounded(metres: Callable[[Figure], float]) -> Way:
    return lambda need, ball, strands: skeins_for(metres(_known(need)) * strands, ball.metres)


def _known(need: Need) -> Figure:
    assert need.pattern_m is not None
    return need.pattern_m


def _as_counted(need: Need, ball: PutUp, strands: int) -> int:
    skeins = skeins_of(need, ball.metres, strands)
    assert skeins is not None
    return skeins


def _with_one_more(need: Need, ball: PutUp, strands: int) -> int:
    [amount] = part_amounts((need,), ball, strands, None)
    return _as_counted(need, ball, strands) + amount.prudent_extra


WAYS: dict[str, Way] = {
    "what is likely, rounded up": _rounded(likely_m),
    "the value, rounded up": _rounded(lambda figure: figure.value),
    "the upper part and 10 % on top, rounded up": _rounded(
        lambda figure: with_allowance(planning_m(figure), ALLOWANCE)
    ),
    "the most it may be, rounded up": _rounded(most_m),
    "three quarters of the way to the most, rounded up": _as_counted,
    "the same, and one more where the counter offers it": _with_one_more,
}


def demo_visits(shelves: Shelves) -> list[Visit]:
    """Returns a visit for each example ask and each 50 g yarn of the demo shelf that suits it."""
    with opened(shelves.demo()) as engine, reading(engine) as session:
        terms, yarns = load_settings(session).terms(), list(shelf_yarns(session))
    puts = {yarn.sku: sold_put_up(yarn.label) for yarn in yarns}
    visits: list[Visit] = []
    for path in sorted((bundled("seed_catalog") / "asks").glob("*.json")):
        found = answer(_bare(read_ask(json.loads(path.read_text("utf-8")))), yarns, terms)
        for one in found.candidates:
            ball = puts[one.sku]
            suits = one.group is not Suitability.NOT_FOR_THIS and one.companion is None
            if suits and ball is not None and ball.grams == BALL_G:
                visits.append(Visit(path.stem, found.needs, ball, one.strands))
    return visits


def _bare(ask: Ask) -> Ask:
    parts = tuple(replace(part, own=None) for part in ask.parts)
    return replace(ask, parts=parts, wishes=Wishes())


def tried(visits: Sequence[Visit]) -> list[Tried]:
    """Returns what each way gives; every ask counts as much as another."""
    titles = list(dict.fromkeys(visit.title for visit in visits))
    by_title = [[visit for visit in visits if visit.title == title] for title in titles]
    used = {hands: [_uses(some[0], hands) for some in by_title] for hands in (False, True)}
    found = []
    for name, way in WAYS.items():
        over = fmean(fmean(_over(one, way) for one in some) for some in by_title)
        short, if_hands = (
            fmean(
                fmean(_short(one, way, uses) for one in some)
                for some, uses in zip(by_title, used[hands], strict=True)
            )
            for hands in (False, True)
        )
        found.append(Tried(name, over, short, if_hands))
    return found


def _over(visit: Visit, way: Way) -> float:
    """Metres bought over metres needed, by the value that the pattern or the estimate gives."""
    balls = sum(way(need, visit.ball, visit.strands) for need in visit.needs)
    needed = sum(_known(need).value for need in visit.needs) * visit.strands
    return balls * visit.ball.metres / needed - 1


def _short(visit: Visit, way: Way, uses: Sequence[Sequence[float]]) -> float:
    """The chance that one part or another takes more than was bought for it."""
    enough = 1.0
    for need, drawn in zip(visit.needs, uses, strict=True):
        bought = way(need, visit.ball, visit.strands) * visit.ball.metres / visit.strands
        enough *= bisect_right(drawn, bought) / len(drawn)
    return 1 - enough


def _uses(visit: Visit, hands: bool) -> list[list[float]]:
    """What each part of an ask truly takes, drawn many times and sorted."""
    chance = random.Random(SEED)
    return [sorted(_use(_known(need), chance, hands) for _ in range(DRAWS)) for need in visit.needs]


def _use(need: Figure, chance: random.Random, hands: bool) -> float:
    differs = chance.gauss(1.0, constant("amount_models", "hands").value / 2)
    if is_rounded_up(need):
        return chance.uniform(need.low, need.high) * (differs if hands else 1.0)
    off = chance.gauss(0.0, 0.5)
    drawn = need.value + off * ((need.high if off > 0 else 2 * need.value - need.low) - need.value)
    return max(0.0, drawn) * (differs if need.basis is Basis.PATTERN else 1.0)


def measure(shelves: Shelves) -> Iterator[Line]:
    """Yields both figures of each way side by side; the ratio is bought over need."""
    for one in tried(demo_visits(shelves)):
        yield Line(
            "amounts",
            one.way,
            f"bought over the need {one.over:.1%}, short in {one.short:.2%} of visits",
            f"if hands differ on counts of balls too, short in {one.short_if_hands:.2%}",
            1 + one.over,
            f"at most {MOST_OVER:.0%}, {MOST_SHORT:.0%}",
        )
