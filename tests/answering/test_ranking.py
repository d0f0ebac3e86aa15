"""Where a yarn stands among the others."""

from dataclasses import replace
from typing import Any

import pytest

from shopdesk.answering.answer.whole_shelf import answer
from shopdesk.answering.judging.grades import Reason
from shopdesk.answering.judging.ranking import (
    ANOTHER_BUTTON,
    FAR_OFF,
    SortKey,
    is_short,
    sort_key,
    washing_findings,
    washing_group,
)
from shopdesk.answering.model.answer import Caution, Suitability
from shopdesk.craft.messages import Message, message
from tests.factories import a_lot, a_yarn, an_ask, shop_terms

AS_IT_IS, SWATCH_FIRST, WITH_A_CHANGE, NOT_FOR_THIS = Suitability
TOO_HOT = message("washing.too_hot", label_c=30, asked_c=40)
FLAT = message("washing.dry_flat")


def a_caution(flag: bool) -> Caution:
    return Caution("sleep", message("cautions.sleep"), False, "", "", flag)


def a_reason(group: Suitability, weight: float, code: str = "judging.x", **values: Any) -> Reason:
    return Reason(group, Message(code, values), weight)


def test_nothing_found_stands_first() -> None:
    assert sort_key((), (), (), "A") == SortKey(0, 0.0, False, 0, FAR_OFF, FAR_OFF, "A")


def test_the_penalty_is_what_holds_the_yarn_back_and_a_point_for_each_caution_to_tell() -> None:
    findings = [
        a_reason(AS_IT_IS, 2),
        a_reason(SWATCH_FIRST, 6.05),
        a_reason(WITH_A_CHANGE, 7.1234567),
    ]
    told = [a_caution(True), a_caution(False), a_caution(True)]
    key = sort_key(findings, (), told, "A", short=True)
    # 6.05 + 7.1234567 + 2 x 1, to six places.
    assert (key.group, key.penalty, key.short) == (2, 15.173457, True)


def test_small_print_counts_what_is_otherwise_in_washing_and_behaviour() -> None:
    findings = [
        a_reason(AS_IT_IS, 0.3, "behaviour.grows"),
        a_reason(SWATCH_FIRST, 4.5, "behaviour.pills"),
        a_reason(AS_IT_IS, 0.5, "judging.length_same"),
    ]
    assert sort_key(findings, [FLAT], (), "A").small_print == 3
    assert sort_key([], [FLAT, FLAT], (), "A").small_print == 2


def test_the_worse_of_findings_and_washing_is_the_group() -> None:
    assert sort_key([a_reason(SWATCH_FIRST, 1)], [TOO_HOT], (), "A").group == 2
    assert sort_key([a_reason(NOT_FOR_THIS, 1)], [TOO_HOT], (), "A").group == 3
    assert sort_key([a_reason(SWATCH_FIRST, 1)], [FLAT], (), "A").group == 1


def test_the_least_distance_of_gauge_counts_to_a_millionth_of_a_stitch() -> None:
    findings = [
        a_reason(AS_IT_IS, 2, off_st=1.23456789),
        a_reason(AS_IT_IS, 2, off_st=3.0),
    ]
    assert sort_key(findings, (), (), "A").off_st == 1.234568


@pytest.mark.parametrize(
    ("code", "values", "percent"),
    [
        ("judging.length_same", {}, 0),
        ("judging.length_more", {"off_percent": 7}, 7),
        ("judging.length_less", {"off_percent": 8}, 8),
        # The fabric's percents are no distance of length.
        ("judging.fabric_firmer", {"off_percent": 9}, FAR_OFF),
    ],
)
def test_distance_of_length(code: str, values: dict[str, int], percent: float) -> None:
    assert sort_key([a_reason(AS_IT_IS, 0.5, code, **values)], (), (), "A").off_percent == percent


def test_what_another_programme_meets_leaves_the_yarn_as_it_is() -> None:
    assert {washing_group(Message(code, {})) for code in ANOTHER_BUTTON} == {AS_IT_IS}
    assert washing_group(message("washing.drying_not_known")) is AS_IT_IS
    assert washing_group(TOO_HOT) is WITH_A_CHANGE


def test_differences_told_later_weigh_a_tenth_less_each() -> None:
    first, second, third = washing_findings([TOO_HOT, FLAT, TOO_HOT])
    change = message("judging.change_washing")
    assert (first.group, first.weight, first.change) == (WITH_A_CHANGE, 5.5, change)
    assert (second.group, second.change) == (AS_IT_IS, None)
    assert second.weight == pytest.approx(3 - 0.1)
    assert third.weight == pytest.approx(5.5 - 0.2)
    assert [one.said for one in (first, second, third)] == [TOO_HOT, FLAT, TOO_HOT]


def test_a_yarn_is_short_if_there_are_colours_and_none_has_enough() -> None:
    lots = (a_lot(40, colour="1"), a_lot(1, colour="2"))
    [enough_of_one] = answer(an_ask(), [a_yarn(lots=lots)], shop_terms()).candidates
    assert not is_short(enough_of_one)
    [short] = answer(an_ask(), [a_yarn(lots=lots[1:])], shop_terms()).candidates
    assert is_short(short)
    assert not is_short(replace(short, colours=()))
