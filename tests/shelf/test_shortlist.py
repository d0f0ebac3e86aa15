"""Narrowing changes no answer: the shortlist against judging every yarn there is."""

import random
from collections import Counter
from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import replace
from fractions import Fraction
from math import ceil

import pytest
from sqlalchemy import Engine
from sqlalchemy.orm import Session

from shopdesk.answering.answer.candidates import (
    RankedCandidate,
    few_and_right,
    prepare,
    rank_candidate,
)
from shopdesk.answering.ask.ask_reading import read_ask
from shopdesk.answering.ask.document import AskRefused
from shopdesk.answering.judging.companions import Companions
from shopdesk.answering.judging.grades import GradeStep, steps
from shopdesk.answering.judging.judge import judge_one
from shopdesk.answering.model.answer import Answer, Suitability
from shopdesk.answering.model.ask import Ask
from shopdesk.answering.profile.profile import shelf_profile
from shopdesk.answering.profile.summary import ProfiledYarn
from shopdesk.answering.shortlist import windows
from shopdesk.answering.shortlist.shortlist import shortlist
from shopdesk.answering.supply.wishes import avoided_fibre
from shopdesk.answering.thresholds import threshold
from shopdesk.craft.counts import sold_put_up
from shopdesk.craft.messages import Message, message
from shopdesk.craft.yarn import ShelfYarn
from shopdesk.shelf.loading import shelf_yarns
from shopdesk.shelf.yarn_index_search import YarnIndexSearch
from shopdesk.store.database import open_shelf, reading
from shopdesk.store.upgrading import upgrade
from tests.big_shelf import put_big_shelf
from tests.factories import shop_terms
from tests.random_asks import random_ask

TERMS = shop_terms(country="GB")
SHELVES = 9
ASKS_OF_A_SHELF = 60
YARNS = 90


def asks(chance: random.Random, number: int) -> Iterator[Ask]:
    while number:
        try:
            ask = read_ask(random_ask(chance))
        except AskRefused:
            continue
        number -= 1
        yield ask


def beforehand(yarn: ShelfYarn, ask: Ask) -> Message | None:
    """The wish that rules a yarn out whatever else is found about it, by plain arithmetic."""
    avoided, limit = avoided_fibre(yarn, ask.wishes), ask.wishes.price_limit
    if avoided is not None or limit is None:
        return avoided
    needs, put_up = prepare(ask, TERMS).needs, sold_put_up(yarn.label)
    if put_up is None or any(need.skein_m is None for need in needs):
        return message("wishes.price_unknown")
    metres = sum(Fraction(need.skein_m or 0) for need in needs)
    dear = Fraction(yarn.price) * ceil(metres / Fraction(put_up.metres)) > Fraction(limit)
    return message("wishes.price", limit_price=limit) if dear else None


def exhaustive(ask: Ask, yarns: Sequence[ShelfYarn], most: int) -> list[RankedCandidate]:
    """Everyone who stands in line up to the last that is listed, after a look at every yarn."""
    known = [ProfiledYarn(yarn, shelf_profile(yarn)) for yarn in yarns]
    known = [one for one in known if beforehand(one.yarn, ask) is None]
    all_of_them = {yarn.sku: ProfiledYarn(yarn, shelf_profile(yarn)) for yarn in yarns}
    companions = Companions(
        ProfiledYarn(yarn, shelf_profile(yarn)).summary
        for yarn in yarns
        if avoided_fibre(yarn, ask.wishes) is None
    )
    asked = prepare(ask, TERMS)
    everyone = [
        rank_candidate(asked, judge_one(asked.wanted, one.summary, companions), all_of_them)
        for one in known
    ]
    everyone = few_and_right(asked, sorted(everyone, key=lambda one: one.sort_key))
    line = [one for one in everyone if one.candidate.group is not Suitability.NOT_FOR_THIS]
    listed = [place for place, one in enumerate(line) if one.unmet is None]
    return line[: listed[most - 1] + 1] if len(listed) >= most else line


class Watched(YarnIndexSearch):
    """A index that counts the yarns it is asked to read in full."""

    yarns_read = 0

    def read(self, skus: Collection[str]) -> Mapping[str, ProfiledYarn]:
        self.yarns_read += len(skus)
        return super().read(skus)


def short(session: Session, ask: Ask, on_offer: int, most: int) -> tuple[Answer, int]:
    asked = prepare(ask, TERMS)
    index = Watched(session, asked, lambda yarn: yarn)
    return shortlist(asked, index, on_offer, most), index.yarns_read


@pytest.fixture(scope="module")
def big(
    request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory
) -> Iterator[Engine]:
    """A shelf of many yarns with little of each colour, so that wishes are often not met."""
    engine = open_shelf(f"sqlite:///{tmp_path_factory.mktemp('big') / 'big.sqlite3'}")
    upgrade(engine)
    put_big_shelf(engine, YARNS, colours=3, seed=request.param)
    yield engine
    engine.dispose()


@pytest.mark.parametrize("big", range(SHELVES), indirect=True)
def test_narrowing_never_changes_the_answer(big: Engine, request: pytest.FixtureRequest) -> None:
    """540 asks on 9 shelves: each candidate to its last figure, and what wishes took."""
    chance = random.Random(str(request.node.name))
    saved = 0
    with reading(big) as session:
        yarns = list(shelf_yarns(session))
        for ask in asks(chance, ASKS_OF_A_SHELF):
            most = chance.choice((1, 3, 6, 12))
            found, read = short(session, ask, len(yarns), most)
            line = exhaustive(ask, yarns, most)
            assert found.candidates == tuple(o.candidate for o in line if o.unmet is None)
            wishes = [one.unmet for one in line] + [beforehand(yarn, ask) for yarn in yarns]
            ruled_out = Counter(wish for wish in wishes if wish is not None)
            assert {one.wish: one.count for one in found.ruled_out} == ruled_out
            assert found.beyond == len(yarns) - len(found.candidates) - ruled_out.total()
            saved += read < len(yarns) / 2
    assert saved > ASKS_OF_A_SHELF / 2, "narrowing was not at work"


def half_as_wide(scale: str) -> tuple[GradeStep, ...]:
    """Returns the steps of a scale, each of half the width."""
    return tuple(replace(each, up_to=each.up_to / 2) for each in steps(scale))


@pytest.mark.parametrize("big", [0], indirect=True)
def test_a_yarn_out_of_every_window_is_missed(big: Engine) -> None:
    """The comparison above can fail: with the rings half as wide, answers do change."""
    chance = random.Random(1)
    changed = 0
    with reading(big) as session, pytest.MonkeyPatch.context() as patch:
        yarns = list(shelf_yarns(session))
        patch.setattr(windows, "steps", half_as_wide)
        patch.setattr(windows, "threshold", lambda name: threshold(name) / 2)
        for ask in asks(chance, 12):
            found, _ = short(session, ask, len(yarns), 12)
            line = exhaustive(ask, yarns, 12)
            changed += found.candidates != tuple(o.candidate for o in line if o.unmet is None)
    assert changed
