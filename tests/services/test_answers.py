"""Answers from a shelf: small ones whole, large ones by a shortlist, any yarn when asked about."""

import json
import random
from dataclasses import replace
from pathlib import Path

import pytest
from sqlalchemy import Engine, insert, update

from shopdesk.answering.ask.ask_reading import read_ask
from shopdesk.answering.model.answer import Answer, Suitability
from shopdesk.answering.model.ask import Ask, Wishes
from shopdesk.answering.shortlist.shortlist import MOST_LISTED
from shopdesk.bundled import bundled
from shopdesk.services import answers
from shopdesk.services.answers import answer_again, answer_from_shelf, judge_named, judge_yarn
from shopdesk.shelf.writing import writing
from shopdesk.shelf.yarn_index import refresh_index
from shopdesk.shop.shop import Shop
from shopdesk.store.database import reading
from shopdesk.store.models import Yarn, YarnIndex
from tests.ask_documents import an_ask_document
from tests.big_shelf import put_big_shelf
from tests.factories import shop_terms
from tests.random_asks import random_ask
from tests.shelf.rows import put_yarn

TERMS = shop_terms(country="GB")
ASKS = sorted((bundled("seed_catalog") / "asks").glob("*.json"))


@pytest.fixture
def large(monkeypatch: pytest.MonkeyPatch) -> None:
    """Every shelf counts as a large one."""
    monkeypatch.setattr(answers, "JUDGED_WHOLE", 0)


def both(shelf: Engine, ask: Ask, monkeypatch: pytest.MonkeyPatch) -> tuple[Answer, Answer]:
    """The answer of the shelf judged whole, and the one by a shortlist."""
    with reading(shelf) as session:
        whole = answer_from_shelf(session, ask, TERMS, "main")
        monkeypatch.setattr(answers, "JUDGED_WHOLE", 0)
        return whole, answer_from_shelf(session, ask, TERMS, "main")


@pytest.mark.parametrize("name", [path.stem for path in ASKS])
def test_a_shortlist_is_the_head_of_the_whole_answer(
    demo_shelf: Engine, monkeypatch: pytest.MonkeyPatch, name: str
) -> None:
    document = json.loads((bundled("seed_catalog") / "asks" / f"{name}.json").read_text("utf-8"))
    ask = replace(read_ask(document), wishes=Wishes())
    whole, short = both(demo_shelf, ask, monkeypatch)
    suiting = [one for one in whole.candidates if one.group is not Suitability.NOT_FOR_THIS]
    assert list(short.candidates) == suiting[:MOST_LISTED]
    assert short.beyond == whole.beyond + len(whole.candidates) - len(short.candidates)
    assert (short.target, short.needs, short.unknown) == (whole.target, whole.needs, whole.unknown)


def judged_as_in_the_whole_answer(shop: Shop, path: Path) -> None:
    ask = read_ask(json.loads(path.read_text("utf-8")))
    whole = answer_again(shop, ask)
    wishes = {sku: out.wish for out in whole.ruled_out for sku in out.skus}
    skus = [one.sku for one in whole.candidates] + list(wishes)
    apart = judge_yarn(shop, ask, skus)
    assert apart.keys() == set(skus)
    for candidate in whole.candidates:
        one = apart[candidate.sku]
        assert (one.candidate, one.ruled_out) == (candidate, None)
        # What the whole answer says of every yarn, this yarn's own answer says of it too.
        alone = replace(whole, beyond=0, ruled_out=())
        shared = replace(alone, candidates=(candidate,), cautions=candidate.cautions)
        assert one.answer == shared
        assert set(whole.cautions) <= set(one.answer.cautions)
    assert {sku: apart[sku].ruled_out for sku in wishes} == wishes


@pytest.mark.parametrize("path", ASKS, ids=lambda path: path.stem)
def test_any_yarn_is_judged_apart_as_the_whole_answer_judges_it(
    demo_shelf: Engine, path: Path
) -> None:
    judged_as_in_the_whole_answer(Shop(demo_shelf), path)


@pytest.mark.parametrize("path", ASKS, ids=lambda path: path.stem)
def test_a_yarn_is_judged_apart_without_an_index_of_other_rules(
    demo_shelf: Engine, path: Path
) -> None:
    """Every yarn of the index is as fine as a companion, which the yarns themselves are not."""
    with writing(demo_shelf) as session:
        session.execute(update(YarnIndex).values(stitches=40.0, tex=50.0, made_by="another"))
    judged_as_in_the_whole_answer(Shop(demo_shelf), path)


def test_a_companion_has_no_fibre_that_is_avoided(demo_shelf: Engine) -> None:
    """By the index and without it: the lace strand beside this yarn is mohair and silk."""
    shop, path = Shop(demo_shelf), bundled("seed_catalog") / "asks" / "hat-without-amount.json"
    ask = read_ask(json.loads(path.read_text("utf-8")))
    without = replace(ask, wishes=Wishes(avoid_fibres=frozenset({"mohair"})))

    def companions(asked: Ask) -> list[str | None]:
        beside = judge_yarn(shop, asked, ["OY-3118"])["OY-3118"].candidate.companion
        return [beside and beside.sku]

    found = companions(ask), companions(without)
    assert None not in found[0]
    with writing(demo_shelf) as session:
        session.execute(update(YarnIndex).values(made_by="another"))
    assert (companions(ask), companions(without)) == found


@pytest.mark.parametrize(
    ("kept", "current", "listed_whole"),
    [(0, True, True), (200, True, True), (201, True, False), (201, False, True)],
)
def test_a_shelf_of_200_yarns_is_judged_whole(
    shelf: Engine, monkeypatch: pytest.MonkeyPatch, kept: int, current: bool, listed_whole: bool
) -> None:
    """More of them only where their summaries cannot be relied on."""
    monkeypatch.setattr(answers, "index_is_current", lambda _: current)
    monkeypatch.setattr(answers, "answer", lambda *_: "whole")
    monkeypatch.setattr(answers, "shortlist", lambda _asked, _search, number, _most: number)
    with writing(shelf) as session:
        yarns = [
            {"sku": f"T-{n}", "name": "x", "price_minor": 1, "version_id": 1} for n in range(kept)
        ]
        if yarns:
            session.execute(insert(Yarn), yarns)
        refresh_index(session)
    with reading(shelf) as session:
        found = answer_from_shelf(
            session, read_ask(json.loads(ASKS[0].read_text("utf-8"))), TERMS, "main"
        )
    assert found == ("whole" if listed_whole else kept)


def test_yarns_are_judged_by_their_names_or_by_one_that_is_meant(shelf: Engine) -> None:
    """The SKU in whatever capitals is the only one, though others go on from it."""
    with writing(shelf) as session:
        for sku, name in (("T-1", "Moor"), ("T-10", "Moorland"), ("U-1", "Harbour 100 %")):
            put_yarn(session, sku, name=name)
        put_yarn(session, "T-12", name="Moor T-1").retired = True
    ask = read_ask(an_ask_document())

    def named(words: str, most: int = 9) -> list[tuple[str, bool]]:
        found = judge_named(Shop(shelf), ask, words, most)
        return [(one.sku, one.judged is not None) for one in found]

    assert named("t-1") == [("T-1", True)]
    assert named("MOOR") == [("T-1", True), ("T-12", False), ("T-10", True)]
    assert named("moor", 2) == [("T-1", True), ("T-12", False)]
    assert named("%") == [("U-1", True)]
    assert named("nothing") == []


def test_a_yarn_that_is_not_on_offer_is_not_judged(demo_shelf: Engine) -> None:
    ask = read_ask(json.loads(ASKS[0].read_text("utf-8")))
    assert judge_yarn(Shop(demo_shelf), ask, ["NO-SUCH"]) == {}


def test_both_databases_find_the_same_rings(shelf: Engine, monkeypatch: pytest.MonkeyPatch) -> None:
    """SQL is the databases' own; what it finds must not be."""
    put_big_shelf(shelf, 60, colours=2)
    chance = random.Random(4)
    for _ in range(12):
        ask = read_ask(random_ask(chance))
        monkeypatch.setattr(answers, "JUDGED_WHOLE", 200)
        whole, short = both(shelf, ask, monkeypatch)
        suiting = [one for one in whole.candidates if one.group is not Suitability.NOT_FOR_THIS]
        assert list(short.candidates) == suiting[:MOST_LISTED]


@pytest.mark.usefixtures("large")
def test_summaries_of_other_rules_are_not_relied_on(demo_shelf: Engine) -> None:
    """Nothing may be missed because of what an older version wrote: then all are judged."""
    ask = read_ask(json.loads(ASKS[0].read_text("utf-8")))
    with writing(demo_shelf) as session:
        session.execute(update(YarnIndex).values(stitches=1.0, made_by="another"))
    with reading(demo_shelf) as session:
        answered = answer_from_shelf(session, ask, TERMS, "main")
    # Judged whole: it lists too what is not for the ask.
    assert answered.in_group(Suitability.NOT_FOR_THIS)
    assert len(answered.candidates) > MOST_LISTED
