"""From the answer and the choice to the slip: counts, spare, price, cautions, warnings."""

from dataclasses import replace
from datetime import date
from decimal import Decimal
from typing import Any

import pytest

from shopdesk.answering.model.answer import (
    Companion,
    LotQuantity,
    LotTaken,
    SelectedPart,
    Selection,
    Suitability,
)
from shopdesk.craft.figures import Basis, Figure
from shopdesk.craft.messages import message
from shopdesk.slips import composing
from shopdesk.slips.composing import CautionsNotTold, compose, untold_cautions
from shopdesk.slips.content import SlipContent
from shopdesk.slips.slip_lines import SelectionError
from shopdesk.wording.catalog import text_of
from shopdesk.wording.translate import english
from tests.factories import a_label, a_yarn
from tests.slip_factories import (
    A_GTIN,
    a_candidate,
    a_care_view,
    a_caution,
    a_choice,
    a_colour,
    a_need,
    a_price,
    a_pullover_ask,
    a_shelf_yarn,
    a_shop,
    a_stamp,
    an_amount,
    an_answer,
    plain,
)


def composed(choice: Selection | None = None, **facts: Any) -> SlipContent:
    answer = facts.pop("answer", None) or an_answer(a_candidate(**facts))
    shelf = {"T-1": a_shelf_yarn(), "L-1": a_yarn("L-1", label=a_label(grams=25))}
    return compose(a_pullover_ask(), answer, choice or a_choice(), shelf, a_shop(), a_stamp())


def test_a_line_has_all_that_the_till_needs() -> None:
    (line,) = composed().lines
    assert (line.yarn, line.colour, line.skeins) == ("Meadow DK", "Moss 14", 5)
    assert [(lot.lot, lot.skeins) for lot in line.lots] == [("M2231", 5)]
    assert (line.length_m, line.mass_g) == (1150, 500)
    assert (line.spare_m, line.spare_g) == (50, 22)
    assert (line.each, line.total) == (Decimal("8.50"), Decimal("42.50"))
    assert line.gtin == A_GTIN


@pytest.mark.parametrize(("skeins", "spare_m", "spare_g"), [(6, 280, 122), (4, -180, -78)])
def test_taking_more_or_fewer_moves_the_spare(skeins: int, spare_m: float, spare_g: float) -> None:
    (line,) = composed(a_choice(skeins)).lines
    assert (line.spare_m, line.spare_g) == (spare_m, spare_g)
    assert line.total == Decimal("8.50") * skeins


def test_lots_that_are_split_bring_their_advice() -> None:
    advice = (plain("Alternate two rows of each lot."),)
    colour = a_colour(advice=advice, picks=(LotQuantity("A", 3, 0), LotQuantity("B", 2, 1)))
    split = Selection("T-1", (SelectedPart("main", "14", (LotTaken("A", 3), LotTaken("B", 2))),))
    assert advice[0] in composed(split, colours=(colour,)).lines[0].notes
    one = Selection("T-1", (SelectedPart("main", "14", (LotTaken("A", 5),)),))
    assert advice[0] not in composed(one, colours=(colour,)).lines[0].notes


def two_parts(*taken: tuple[LotTaken, ...]) -> SlipContent:
    """A body that counts two skeins, 200 m over, and a muzzle that counts one, 205 m over."""
    parts = ("body", "muzzle")
    amounts = (
        an_amount("body", 2, spare_m=200.0, spare_g=87.0),
        an_amount("muzzle", 1, spare_m=205.0, spare_g=89.0),
    )
    chosen = tuple(SelectedPart(part, "14", lots) for part, lots in zip(parts, taken, strict=True))
    colours = tuple(a_colour(part) for part in parts)
    return composed(Selection("T-1", chosen), amounts=amounts, colours=colours)


def test_parts_that_share_skeins_are_one_line_rounded_up_once() -> None:
    (line,) = two_parts((LotTaken("A", 2),), ()).lines
    assert (line.part, line.parts, line.skeins) == ("body, muzzle", ("body", "muzzle"), 2)
    assert [(lot.lot, lot.skeins) for lot in line.lots] == [("A", 2)]
    # One skein of 230 m and 100 g fewer than both count: 200 + 205 - 230.
    assert (line.spare_m, line.spare_g) == (175, 76)
    assert line.total == Decimal("17.00")
    told = [english(note) for note in line.notes]
    assert told[-1] == "2 skeins for these parts together, rounded up once."
    assert told[:3] == [
        "“body”: The pattern takes 1000 m.",
        "“muzzle”: The pattern takes 1000 m.",
        "Counted in whole skeins for at least 2075 m; what is left of the last one stands for an "
        "allowance.",
    ]


def test_parts_of_one_lot_are_one_line_and_of_other_lots_two() -> None:
    (line,) = two_parts((LotTaken("A", 2),), (LotTaken("A", 1),)).lines
    assert (line.skeins, line.spare_m) == (3, 405)
    assert "slip.rounded_together" not in {note.code for note in line.notes}
    body, muzzle = two_parts((LotTaken("A", 2),), (LotTaken("B", 1),)).lines
    assert (body.part, body.skeins, body.parts) == ("body", 2, ())
    assert (muzzle.part, muzzle.skeins, muzzle.spare_m) == ("muzzle", 1, 205)


def test_a_part_without_skeins_needs_another_of_its_colour() -> None:
    with pytest.raises(SelectionError):
        two_parts((), ())


def notes(need: Any, **facts: Any) -> str:
    amounts = (an_amount(need=need, **facts),)
    return " ".join(english(note) for note in composed(amounts=amounts).lines[0].notes)


def test_the_count_is_explained() -> None:
    # Three quarters of the 5 % by which hands differ: 1037.5 m.
    told = notes(a_need())
    assert "The pattern takes 1000 m. Counted in whole skeins for at least 1038 m" in told
    ranged = replace(a_need(low_m=900), why=())
    assert "The pattern takes 900 m to 1000 m. Counted in whole skeins for at least 1000 m" in (
        notes(ranged)
    )


def test_what_is_sold_by_length_has_the_allowance_on_top() -> None:
    by_length = {"skeins": None, "spare_m": None, "spare_g": None}
    assert "1000 m and 10% allowance make 1100 m" in notes(a_need(), **by_length)
    ranged = replace(a_need(low_m=900), why=())
    assert "takes 900 m to 1000 m; its upper part and 10%" in notes(ranged, **by_length)
    estimate = replace(a_need(), pattern_m=Figure(900, 800, 1000, Basis.ESTIMATE))
    assert "Our estimate" in notes(estimate, **by_length)
    assert "A rough guide only" in notes(replace(estimate, rough=True), **by_length)
    own = replace(a_need(), own_m=200.0, own_strand_m=200.0, plan_m=900.0)
    told = notes(own, **by_length)
    assert "make 1100 m. You have 200 m of it already, so 900 m are to be bought." in told


def test_own_yarn_is_taken_off_what_skeins_must_hold() -> None:
    own = replace(a_need(), own_m=200.0, own_strand_m=100.0, skein_m=938.0)
    assert "You have 100 m of it already, so 938 m are to be bought." in notes(own)


def test_what_is_told_of_the_yarn_in_hand_stands_on_the_slip() -> None:
    assert "The yarn in hand pills." in notes(
        replace(a_need(), own_told=(plain("The yarn in hand pills."),))
    )


def test_what_was_offered_at_the_counter_is_not_told_after_the_sale() -> None:
    why = (
        message("needs.counted_more", count=1, most_m=1100.0, spare_m=10.0),
        message("needs.prudent_extra_plain", spare_m=3.0),
    )
    told = notes(a_need(), why=why)
    assert "1 skein of it is counted because" in told
    assert "Only 3 m would be spare" not in told
    # One fewer was taken than was counted, so no reason for that one is given.
    amounts = (an_amount(need=a_need(), why=why),)
    (line,) = composed(a_choice(4), amounts=amounts).lines
    assert "needs.counted_more" not in {note.code for note in line.notes}


def test_an_estimate_is_called_one() -> None:
    figure = Figure(900, 800, 1000, Basis.ESTIMATE)
    assert "Our estimate" in notes(replace(a_need(), pattern_m=figure))


@pytest.mark.parametrize("basis", [Basis.ESTIMATE, Basis.PATTERN])
def test_a_rough_guide_is_called_one_and_says_where_in_it_is_planned(basis: Basis) -> None:
    figure = Figure(1200.0, 700.0, 2080.0, basis)
    why = (message("needs.why_there", planned_m=1804.0, likely_m=1200.0), plain("Something else."))
    told = notes(replace(a_need(), pattern_m=figure, rough=True, why=why))
    assert "A rough guide only, by what is usual: 700 m to 2080 m" in told
    assert "Of this range 1804 m is planned for" in told
    assert "Our estimate" not in told
    assert "Something else." not in told


def test_an_unknown_need_says_so() -> None:
    unknown = replace(a_need(), pattern_m=None, plan_m=None, why=(plain("No amount given."),))
    amount = an_amount(skeins=None, need=unknown, spare_m=None, spare_g=None)
    (line,) = composed(amounts=(amount,)).lines
    words = " ".join(english(note) for note in line.notes)
    assert "is not known; this count is your choice" in words
    assert "No amount given." in words
    assert line.spare_m is None


@pytest.mark.parametrize(
    "choice",
    [
        replace(a_choice(), sku="none"),
        replace(a_choice(), parts=()),
        Selection("T-1", (SelectedPart("sleeves", "14", (LotTaken("A", 1),)),)),
        Selection("T-1", (SelectedPart("main", "99", (LotTaken("A", 1),)),)),
        Selection("T-1", (SelectedPart("main", "14", ()),)),
        Selection("T-1", (SelectedPart("main", "14", (LotTaken("A", 0),)),)),
        Selection("T-1", (SelectedPart("main", "14", (LotTaken("A", 4), LotTaken("B", -1))),)),
    ],
)
def test_a_choice_that_does_not_fit_is_refused_in_words(choice: Selection) -> None:
    with pytest.raises(SelectionError) as refusal:
        composed(choice)
    assert refusal.value.wrong
    assert refusal.value.right


def test_flagged_cautions_must_be_told_and_others_need_not() -> None:
    cautions = (a_caution("sleep", flag=True), a_caution("hat off", flag=True), a_caution())
    with pytest.raises(CautionsNotTold) as refusal:
        composed(a_choice(told=("sleep",)), cautions=cautions)
    assert [caution.code for caution in refusal.value.cautions] == ["hat off"]
    content = composed(a_choice(told=("sleep", "hat off")), cautions=cautions)
    assert [note.told for note in content.cautions] == [True, True, False]


def test_a_flagged_caution_of_yarn_or_answer_is_untold_until_it_is_told() -> None:
    own, common = a_caution("sleep", flag=True), a_caution("hat off", flag=True)
    candidate = a_candidate(cautions=(own, a_caution()))
    answer = an_answer(candidate, cautions=(own, common))
    assert untold_cautions(answer, candidate) == (own, common)
    assert untold_cautions(answer, candidate, ["sleep", "never heard of"]) == (common,)
    assert untold_cautions(answer, candidate, ["hat off", "sleep"]) == ()


def test_a_caution_of_yarn_and_answer_stands_once() -> None:
    answer = an_answer(a_candidate(cautions=(a_caution(),)), cautions=(a_caution(),))
    assert len(composed(answer=answer).cautions) == 1


@pytest.mark.parametrize("group", Suitability)
def test_where_the_yarn_stands_is_said(group: Suitability) -> None:
    first = english(composed(group=group).standing[0])
    assert ("do not recommend" in first) == (group is Suitability.NOT_FOR_THIS)


def test_change_and_deciding_reason_follow() -> None:
    content = composed(change=plain("Take 3.5 mm."), reasons=(plain("Because."), plain("Also.")))
    assert content.standing[1:] == (plain("Take 3.5 mm."), plain("Because."))
    assert plain("Also.") in content.differences
    assert plain("Because.") not in content.differences


def test_what_is_the_same_is_no_difference() -> None:
    for code in composing.THE_SAME | composing.SAID_ELSEWHERE:
        assert text_of(code, "en")


def test_differences_stand_once() -> None:
    again = plain("It felts.")
    care = a_care_view(differences=(again,), changes=(again,))
    content = composed(reasons=(plain("x"), again), care=care)
    assert content.differences.count(again) == 1


def test_a_second_strand_has_its_own_line() -> None:
    second = Companion("L-1", "Mist", 3, a_price("4.20"))
    lines = composed(companion=second).lines
    assert [(line.yarn, line.skeins, line.total) for line in lines] == [
        ("Meadow DK", 5, Decimal("42.50")),
        ("Mist", 3, Decimal("12.60")),
    ]
    assert composed(companion=second).total == Decimal("55.10")


@pytest.mark.parametrize(
    ("gtin", "printed", "code"),
    [
        (A_GTIN, True, "slip.warn_in_store"),
        ("4006381333931", True, None),
        ("4006381333932", False, "slip.warn_not_printed"),
        ("not a number", False, "slip.warn_not_printed"),
        (None, False, "slip.warn_no_barcode"),
    ],
)
def test_bar_codes_are_checked_and_warned_of(
    gtin: str | None, printed: bool, code: str | None
) -> None:
    content = composed(colours=(a_colour(gtin=gtin),))
    assert bool(content.lines[0].gtin) is printed
    assert [warning.code for warning in content.warnings] == ([code] if code else [])


def test_hold_and_unknown_are_kept() -> None:
    answer = an_answer(unknown=(plain("x"),))
    content = compose(
        a_pullover_ask(),
        answer,
        a_choice(),
        {"T-1": a_shelf_yarn()},
        a_shop(),
        a_stamp(),
        held_until=date(2026, 12, 9),
    )
    assert content.held_until == date(2026, 12, 9)
    assert content.unknown == (plain("x"),)
