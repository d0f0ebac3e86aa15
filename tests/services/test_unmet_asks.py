"""Unmet asks: kept without the customer, newest first, counted for buying in."""

from dataclasses import replace
from datetime import UTC, datetime, timedelta

from sqlalchemy import Engine

from shopdesk.answering.model.answer import Candidate, RuledOut, Suitability
from shopdesk.answering.model.ask import DesignerYarn, Wishes
from shopdesk.craft.messages import message
from shopdesk.services.unmet_asks import (
    NOTHING_LEFT,
    NOTHING_NEAR,
    Unmet,
    category_counts,
    fibre_counts,
    record_unmet,
    unmet_asks,
    unmet_of,
)
from shopdesk.shelf.writing import writing
from shopdesk.store.database import reading
from tests.factories import a_blend, an_ask
from tests.slip_factories import a_candidate, an_answer, plain

MONDAY = datetime(2026, 11, 23, 9, 30, tzinfo=UTC)
BABY = Unmet("cardigan", "knit", "care.not_machine", (1,), 28, ("cotton",), "machine 60", "yellow")
SOCKS = Unmet("socks", "knit", "judge.too_thick", (0, 1), 32.5, ("wool", "silk"))


def test_asks_come_back_newest_first(shelf: Engine) -> None:
    first, second = replace(BABY, at=MONDAY), replace(SOCKS, at=MONDAY + timedelta(days=1))
    with writing(shelf) as session:
        record_unmet(session, second)
        record_unmet(session, first)
    with reading(shelf) as session:
        assert unmet_asks(session) == (second, first)
        assert unmet_asks(session, since=MONDAY + timedelta(hours=1)) == (second,)
        assert unmet_asks(session, since=MONDAY) == (second, first)
        assert unmet_asks(session, since=MONDAY + timedelta(microseconds=1)) == (second,)


def test_the_moment_is_the_present_one(shelf: Engine) -> None:
    before = datetime.now(UTC)
    with writing(shelf) as session:
        record_unmet(session, BABY)
    with reading(shelf) as session:
        (ask,) = unmet_asks(session)
    assert ask.at is not None
    assert before <= ask.at <= datetime.now(UTC)


def test_an_ask_counts_in_each_category_that_it_allows() -> None:
    weightless = Unmet("bag", "crochet", "judge.unknown")
    counts = category_counts([SOCKS, BABY, SOCKS, weightless])
    assert counts == ((1, 3), (0, 2), (None, 1))


def test_of_as_many_asks_the_finest_category_comes_first_and_none_last() -> None:
    weightless = Unmet("bag", "crochet", "judge.unknown")
    wide = replace(SOCKS, categories=(6, 2))
    assert category_counts([weightless, wide]) == ((2, 1), (6, 1), (None, 1))


def not_for_this(*codes: str) -> tuple[Candidate, ...]:
    """Returns a yarn that is not for an ask for each of these reasons."""
    group = Suitability.NOT_FOR_THIS
    return tuple(a_candidate(group=group, reasons=(message(code), plain("x"))) for code in codes)


def reason(candidates: tuple[Candidate, ...], beyond: int = 0, **ruled_out: int) -> str:
    """Returns why an ask was unmet that left these candidates, and took yarns away by wishes."""
    taken = tuple(RuledOut(message(f"wishes.{code}"), n, ()) for code, n in ruled_out.items())
    answer = replace(an_answer(), candidates=candidates, ruled_out=taken, beyond=beyond)
    unmet = unmet_of(an_ask(), answer)
    assert unmet is not None
    return unmet.reason


def test_an_ask_is_unmet_by_what_stopped_most_yarns() -> None:
    thick, thin = "judge.too_thick", "judge.too_thin"
    assert reason(not_for_this(thick, thin, thick)) == thick
    assert reason(not_for_this(thin, thick)) == thick  # as many of each: the first by name
    assert reason(not_for_this(thick), fibre=2) == "wishes.fibre"
    assert reason(not_for_this(thick, thick), fibre=1, price=1) == thick
    assert reason(not_for_this(thick), fibre=2, beyond=3) == NOTHING_NEAR
    assert reason(not_for_this(thick, thick), beyond=1) == thick
    assert reason(()) == NOTHING_LEFT
    assert reason((), fibre=1) == "wishes.fibre"


def test_an_unmet_ask_keeps_what_was_wanted_and_nobody() -> None:
    yarn = DesignerYarn(fibres=a_blend("wool 75, silk 25"))
    ask = an_ask(stitches=24, designer_yarn=yarn, wishes=Wishes(colour_family="green"))
    answer = replace(an_answer(), candidates=not_for_this("judge.too_thick"))
    assert unmet_of(ask, answer) == Unmet(
        "pullover", "knit", "judge.too_thick", (3,), 24, ("wool", "silk"),
        ask.washing.value, "green",
    )  # fmt: skip
    without = unmet_of(an_ask(stitches=None), answer)
    assert without is not None
    assert (without.stitches, without.fibres, without.colour_family) == (None, (), None)


def test_an_ask_that_some_yarn_fits_is_met() -> None:
    some = (*not_for_this("judge.too_thick"), a_candidate(group=Suitability.WITH_A_CHANGE))
    assert unmet_of(an_ask(), replace(an_answer(), candidates=some)) is None


def test_fibres_are_counted_once_for_each_ask() -> None:
    twice = replace(BABY, fibres=("cotton", "cotton"))
    assert fibre_counts([twice]) == (("cotton", 1),)
    assert fibre_counts([SOCKS, BABY, SOCKS]) == (("silk", 2), ("wool", 2), ("cotton", 1))
