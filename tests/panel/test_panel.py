"""The panel's files hold together, and its counts are what they say."""

from pathlib import Path

import pytest

from shopdesk.answering.ask.ask_reading import read_ask
from tests.panel.answering import answered, panel_shop, skus
from tests.panel.panel import HALVES, PROPOSED, Agreed, Case, agreed_on, cases_of, judgements_of
from tests.panel.scoring import Score, scored

A_JUDGEMENT = {"as_it_is": ["A", "B"], "swatch_first": ["C"], "with_change": ["D"]}
ANOTHER = {"as_it_is": ["B"], "swatch_first": ["A"], "with_change": ["D", "E"]}
A_THIRD = {"as_it_is": [], "swatch_first": ["B"], "with_change": ["C"]}


def test_what_two_of_three_say_is_agreed_on() -> None:
    # A: promised once, good twice. B: promised twice. C: good once, listed twice. E: listed once.
    found = agreed_on([A_JUDGEMENT, ANOTHER, A_THIRD])
    assert set(found.good) == {"A", "B"}
    assert found.as_it_is == {"B"}
    assert found.listed == {"A", "B", "C", "D"}


def test_the_gladliest_proposed_is_first() -> None:
    # B stands second, first and first; A first, second and nowhere.
    assert agreed_on([A_JUDGEMENT, ANOTHER, A_THIRD]).good == ("B", "A")


def test_a_change_counts_as_good_only_where_nothing_better_is_agreed_on() -> None:
    only_changes = {"as_it_is": [], "swatch_first": [], "with_change": ["E", "D"]}
    assert agreed_on([only_changes, ANOTHER, only_changes]).good == ("E", "D")
    assert agreed_on([A_JUDGEMENT, ANOTHER, only_changes]).good == ("A", "B")


AGREED = Agreed(("A", "B", "C", "D"), frozenset("A"), frozenset("ABCDE"))


@pytest.mark.parametrize(
    ("ranked", "promised", "score"),
    [
        # Three of four good yarns are all that three places can show; F and G are refused.
        ("DCBA", "A", Score(1, 3, 3, 0, 0, 1, 1)),
        # E may be proposed with a change: neither good nor bad.
        ("ABEC", "A", Score(1, 2, 3, 0, 0, 1, 0)),
        # F stands fourth: only promised wrongly.
        ("ABCF", "AF", Score(1, 3, 3, 0, 1, 2, 0)),
        ("FGA", "", Score(1, 1, 3, 2, 0, 0, 0)),
        # B is good, and yet no two judges promise it.
        ("ABC", "AB", Score(1, 3, 3, 0, 0, 2, 0)),
        ("", "", Score(1, 0, 3, 0, 0, 0, 0)),
    ],
)
def test_scores_worked_by_hand(ranked: str, promised: str, score: Score) -> None:
    assert scored(list(ranked), list(promised), AGREED) == score


def test_one_good_yarn_wants_one_place() -> None:
    agreed = Agreed(("A",), frozenset("A"), frozenset("A"))
    assert scored(["A"], ["A"], agreed) == Score(1, 1, 1, 0, 0, 1, 1)


def test_scores_add_up_count_by_count() -> None:
    assert Score(1, 2, 3, 4, 5, 6, 7) + Score(10, 20, 30, 40, 50, 60, 70) == Score(
        11, 22, 33, 44, 55, 66, 77
    )


@pytest.mark.parametrize(("half", "asks"), [("open", 96), ("sealed", 48)])
def test_every_ask_is_read_and_judged_three_times(half: str, asks: int) -> None:
    cases = list(cases_of(half))
    assert len(cases) == asks
    for case in cases:
        read_ask(case.document)
    for judgements in judgements_of(half):
        assert judgements.keys() == {case.number for case in cases}
        for one in judgements.values():
            named = [sku for group in PROPOSED for sku in one[group]]
            assert len(named) == len(set(named))
            assert skus().issuperset(named)


def test_no_ask_stands_in_both_halves() -> None:
    numbers = [case.number for half in HALVES for case in cases_of(half)]
    assert len(set(numbers)) == len(numbers) == 144


def test_the_shelf_answers_for_every_yarn_of_it(tmp_path: Path) -> None:
    first = next(cases_of("open"))
    nothing_agreed = Case(first.number, first.document, Agreed((), frozenset(), frozenset()))
    with panel_shop(tmp_path) as engine:
        by_judges, by_none = answered(engine, first), answered(engine, nothing_agreed)
    assert len(skus()) == 66
    assert by_judges.first == by_none.first
    assert by_none.score.bad_first == len(by_none.first)
    assert by_none.score.bad_promised == by_none.score.promised == by_judges.score.promised
