"""The judgement on shelves laid by hand: groups, reasons, strands, wishes, felting."""

from dataclasses import replace
from decimal import Decimal
from typing import Any

import pytest

from shopdesk.answering.answer.candidates import prepare, rank_candidate
from shopdesk.answering.answer.whole_shelf import answer, answer_of
from shopdesk.answering.judging.companions import Companions
from shopdesk.answering.judging.judge import judge_one
from shopdesk.answering.model.answer import Candidate, Caution, Suitability
from shopdesk.answering.profile.profile import shelf_profile
from shopdesk.answering.profile.summary import ProfiledYarn
from shopdesk.craft.messages import message
from shopdesk.craft.yarn import ShelfYarn, YarnCount
from tests.ask_documents import a_designer_yarn, a_gauge, a_length, a_part, a_put_up, an_ask
from tests.factories import a_band_gauge, a_care, a_label, a_lot, a_yarn, shop_terms

TERMS = shop_terms()
NOT = Suitability.NOT_FOR_THIS


def a_wool(sku: str, stitches: float, metres: float, fibres: str = "wool 100", **facts: Any) -> Any:
    label = a_label(None, metres, fibres=fibres, gauge=a_band_gauge(stitches), **facts)
    return a_yarn(sku, label=label, lots=(a_lot(40),))


def judged(yarn: ShelfYarn, *others: ShelfYarn, **fields: Any) -> Candidate:
    candidate = answer(an_ask(**fields), [yarn, *others], TERMS).candidate(yarn.sku)
    assert candidate is not None
    return candidate


def codes(candidate: Candidate) -> set[str]:
    return {said.code for said in candidate.reasons}


@pytest.mark.parametrize(
    ("stitches", "metres", "group", "reason"),
    [
        # The designer's yarn has 22 stitches and 240 m per 100 g; 2 % is a band's rounding.
        (22, 240, Suitability.AS_IT_IS, "judging.same_facts"),
        (22, 246, Suitability.AS_IT_IS, "judging.gauge_same"),
        (20.5, 225, Suitability.SWATCH_FIRST, "judging.gauge_near_coarser"),
        (19, 200, Suitability.WITH_A_CHANGE, "judging.gauge_reach_coarser"),
        (25, 270, Suitability.WITH_A_CHANGE, "judging.gauge_reach_finer"),
        (16, 150, Suitability.NOT_FOR_THIS, "judging.gauge_far_coarser"),
    ],
)
def test_gauge_decides(stitches: float, metres: float, group: Suitability, reason: str) -> None:
    candidate = judged(a_wool("W", stitches, metres), designer_yarn=a_designer_yarn())
    assert candidate.group is group
    assert candidate.reasons[0].code == reason


def test_what_needs_a_change_and_is_unlike_is_not_proposed_beside_what_needs_none() -> None:
    """Few and right: 22 stitches are wanted; 19 would do with a change, were there nothing else."""
    own, coarse = a_wool("OWN", 22, 240), a_wool("COARSE", 19, 200)
    fields: dict[str, Any] = {"designer_yarn": a_designer_yarn()}
    assert judged(coarse, **fields).group is Suitability.WITH_A_CHANGE
    beside = answer(an_ask(**fields), [coarse, own], TERMS)
    assert ([one.sku for one in beside.candidates], beside.beyond) == (["OWN"], 1)
    # One that no wish leaves over does not count.
    blue = {**fields, "wishes": {"colour_family": "grey"}}
    elsewhere = replace(own, lots=(a_lot(40, family="blue"),))
    assert judged(coarse, elsewhere, **blue).group is Suitability.WITH_A_CHANGE


def test_the_best_there_is_may_differ_in_more_than_those_behind_it() -> None:
    """Three strands weigh 14, and their gauge is estimated: 2. The limit is 13, or 20."""
    one, too = a_wool("ONE", 20.8, 180), a_wool("TOO", 20.8, 180)
    fields = {"designer_yarn": a_designer_yarn(12, 30), "gauge": a_gauge(12, 16)}
    alone = answer(an_ask(**fields), [too], TERMS)
    assert [yarn.sku for yarn in alone.candidates if yarn.group is not NOT] == ["TOO"]
    both = answer(an_ask(**fields), [one, too], TERMS)
    assert ([yarn.sku for yarn in both.candidates], both.beyond) == (["ONE"], 1)


def test_an_open_fabric_stays_open() -> None:
    """A lace-weight yarn knitted loosely: the substitute is another lace, not what knits to it."""
    designer = a_designer_yarn(32, 400)
    lace, dk = a_wool("LACE", 32, 800), a_wool("DK", 20, 225)
    found = answer(an_ask(gauge=a_gauge(20, 28), designer_yarn=designer), [lace, dk], TERMS)
    assert found.candidate("LACE").group is Suitability.AS_IT_IS  # type: ignore[union-attr]
    assert found.candidate("DK").group is Suitability.NOT_FOR_THIS  # type: ignore[union-attr]


def test_openwork_says_little_about_the_yarn() -> None:
    candidate = judged(a_wool("W", 22, 240), gauge=a_gauge(22, 30, stitch_pattern="lace"))
    assert candidate.group is Suitability.SWATCH_FIRST
    assert "judging.openwork_possible" in codes(candidate)


def test_the_same_gauge_in_a_much_heavier_yarn_is_another_fabric() -> None:
    candidate = judged(a_wool("H", 22, 140), designer_yarn=a_designer_yarn())
    assert candidate.group is Suitability.NOT_FOR_THIS
    assert candidate.reasons[0].code == "judging.fabric_too_firmer"


def test_two_strands_of_a_fine_yarn_do_for_a_thick_one() -> None:
    candidate = judged(a_wool("F", 30.5, 480), designer_yarn=a_designer_yarn())
    assert (candidate.group, candidate.strands) == (Suitability.WITH_A_CHANGE, 2)
    # Every strand needs the whole length: 1200 m + 10 % twice, in balls of 240 m.
    assert candidate.amounts[0].skeins == 11


def test_every_change_is_named_once_the_gravest_first() -> None:
    """A blanket is taken to be washed often, which a wool without a band's care does not stand."""
    fields: dict[str, Any] = {"item": {"kind": "blanket"}, "designer_yarn": a_designer_yarn()}
    candidate = judged(a_wool("F", 30.5, 480), **fields)
    # Two strands weigh seven, washing otherwise four.
    assert candidate.change == message("judging.change_strands", count=2)
    assert candidate.also_change == (message("judging.change_washing"),)
    assert judged(a_wool("W", 22, 240), **fields).also_change == ()


def test_a_lace_strand_held_along_thickens_a_yarn() -> None:
    lace = a_wool("LACE", 34, 850)
    candidate = judged(a_wool("S", 25.5, 300), lace, designer_yarn=a_designer_yarn(21, 110))
    assert candidate.group is Suitability.WITH_A_CHANGE
    assert candidate.companion is not None
    assert candidate.companion.sku == "LACE"
    assert candidate.companion.skeins


def test_a_pattern_in_two_strands_is_met_by_one_thicker_yarn() -> None:
    designer = a_designer_yarn(30, 200) | {"strands": 2}
    candidate = judged(a_wool("DK", 21.5, 205), gauge=a_gauge(21.5, 29), designer_yarn=designer)
    assert candidate.strands == 1
    assert candidate.group is Suitability.SWATCH_FIRST
    assert candidate.change == message("judging.change_strands", count=1)
    # The pattern states the length of both strands: 1200 m are 600 m of the thicker one.
    assert candidate.amounts[0].need.plan_m == pytest.approx(660)


def test_treated_wool_will_not_felt() -> None:
    # Knitted a fifth looser than the yarn's usual 22 or 23 stitches (common practice).
    treated = a_wool("T", 22, 230, attributes=frozenset({"superwash"}))
    plain = a_wool("P", 22, 230)
    fields = {"item": {"kind": "felted bag"}, "gauge": a_gauge(18, 24)}
    assert judged(treated, **fields).group is Suitability.NOT_FOR_THIS
    assert judged(plain, **fields).group is not Suitability.NOT_FOR_THIS


def test_what_does_not_stand_the_washing_that_is_asked_is_not_for_this() -> None:
    label = a_label(None, 240, gauge=a_band_gauge(22), care=a_care(30, "hand"))
    yarn = a_yarn(label=label)
    by_machine = judged(yarn, designer_yarn=a_designer_yarn(), washing="machine 40")
    by_hand = judged(yarn, designer_yarn=a_designer_yarn(), washing="hand")
    assert by_machine.group is Suitability.NOT_FOR_THIS
    assert by_machine.change is None
    assert by_hand.group is Suitability.AS_IT_IS


def test_what_does_not_stand_a_washing_that_is_only_supposed_is_washed_otherwise() -> None:
    label = a_label(None, 240, gauge=a_band_gauge(22), care=a_care(30, "hand"))
    fields = {"designer_yarn": a_designer_yarn(), "washing": "unknown", "wearer": "child"}
    of_a_child = judged(a_yarn(label=label), **fields)
    assert of_a_child.group is Suitability.WITH_A_CHANGE
    assert of_a_child.change is not None
    assert of_a_child.change.code == "judging.change_washing"


def test_where_the_original_is_known_by_name_and_length_length_decides() -> None:
    """A lace yarn with no gauge on its band: 33 to 40 stitches by name, 800 m per 100 g."""
    designer = {"weight": ["lace"], "put_up": a_put_up(50, 400)}
    gauge = a_gauge(18, 24, stitch_pattern="lace")
    fields = {"gauge": gauge, "designer_yarn": designer, "tool": {"size": "4.5", "system": "mm"}}
    same = judged(a_wool("L", 34, 800), **fields)
    assert same.group is Suitability.AS_IT_IS
    assert same.reasons[0].code == "judging.by_length_same"
    assert same.start_tool is not None
    assert same.start_tool.mm == 4.5
    assert judged(a_wool("F", 29, 400), **fields).group is Suitability.NOT_FOR_THIS


def test_with_a_name_alone_its_range_is_all_that_is_known() -> None:
    fields = {"gauge": None, "designer_yarn": {"weight": ["aran"]}}
    # Standard Yarn Weight System: category 4 is 16 to 20 stitches.
    inside, near, far = (judged(a_wool("W", n, 180), **fields) for n in (17, 21, 12))
    assert inside.reasons[0].code == "judging.in_names_range"
    assert near.reasons[0].code == "judging.near_names_range"
    assert far.group is Suitability.NOT_FOR_THIS


def test_a_cone_is_counted_by_mass_and_count() -> None:
    count = YarnCount("2/28", "Nm")
    label = a_label(None, None, count=count, net_grams=200, gauge=a_band_gauge(22))
    candidate = judged(a_yarn(label=label))
    # 14 m per g (definition of Nm): a 200 g cone holds 2800 m.
    assert candidate.amounts[0].skeins == 1
    assert candidate.amounts[0].spare_m == pytest.approx(2800 - 1200)


def test_nothing_known_is_not_guessed() -> None:
    yarn = a_yarn(label=a_label(None, None, fibres=""))
    candidate = judged(yarn)
    assert candidate.group is Suitability.NOT_FOR_THIS
    assert candidate.reasons[0].code == "judging.too_little_known"


def test_an_unknown_amount_stays_unknown() -> None:
    candidate = judged(a_wool("W", 22, 240), parts=[{"amount": {"kind": "unknown"}}])
    assert candidate.amounts[0].skeins is None
    assert candidate.price.total is None


def test_an_estimated_amount_is_a_range_and_says_so() -> None:
    found = answer(
        an_ask(
            parts=[{"amount": {"kind": "unknown"}}],
            item={"kind": "pullover", "measurements": {"chest": a_length(100)}},
        ),
        [a_wool("W", 22, 240)],
        TERMS,
    )
    need = found.needs[0]
    assert need.pattern_m is not None
    assert need.plan_m is not None
    assert need.pattern_m.low < need.pattern_m.value < need.plan_m < need.pattern_m.high * 1.2
    assert "needs.estimated" in {said.code for said in need.why}


def test_a_crocheted_blanket_is_estimated_with_a_wide_range() -> None:
    sides = {"width": a_length(80), "length": a_length(100)}
    found = answer(
        an_ask(
            craft="crochet",
            gauge=a_gauge(14, 16, stitch_pattern="single crochet"),
            item={"kind": "blanket", "measurements": sides},
            parts=[{"amount": {"kind": "unknown"}}],
        ),
        [],
        TERMS,
    )
    need = found.needs[0].pattern_m
    assert need is not None
    assert (need.high - need.low) / need.value > 0.3


def test_own_yarn_is_deducted_by_length_or_weighed() -> None:
    by_length = judged(
        a_wool("W", 22, 240), parts=[a_part(1200, own={"length": a_length(220, "m")})]
    )
    weighed = {"mass": {"value": 100, "unit": "g"}, "put_up": a_put_up(50, 110)}
    by_weight = judged(a_wool("W", 22, 240), parts=[a_part(1200, own=weighed)])
    assert by_length.amounts[0].need.plan_m == pytest.approx(1200 * 1.1 - 220)
    # Damp may be 4 % of what the scale says: 211.2 m are sure.
    assert by_weight.amounts[0].need.plan_m == pytest.approx(1200 * 1.1 - 211.2)


def test_wishes_say_how_many_they_ruled_out() -> None:
    yarns = [a_wool("A", 22, 240), a_wool("B", 22, 240, "cotton 100")]
    ask = an_ask(wishes={"avoid_fibres": ["wool"]})
    found = answer(ask, yarns, TERMS)
    assert [(r.wish.code, r.count) for r in found.ruled_out] == [("wishes.avoid_fibre", 1)]
    assert found.candidate("A") is None


def test_a_price_limit_is_for_the_whole_item() -> None:
    dear = a_yarn("D", price="9.00", label=a_label(None, 240, gauge=a_band_gauge(22)))
    found = answer(an_ask(wishes={"price_limit": 60}), [dear], TERMS)
    assert [r.wish.code for r in found.ruled_out] == ["wishes.price"]


def test_price_and_unit_prices_are_exact() -> None:
    candidate = judged(a_wool("W", 22, 240))
    # 1200 m and 10 % are 1320 m: 11 balls of 120 m at 6.50.
    assert candidate.amounts[0].skeins == 11
    assert candidate.price.total == Decimal("71.50")
    assert candidate.price.per_100g == Decimal("13.00")
    assert candidate.price.per_100m == Decimal("5.42")


def test_crochet_is_judged_by_weight_without_knitting_rules() -> None:
    fields = {
        "craft": "crochet",
        "gauge": a_gauge(13, 14, stitch_pattern="single crochet"),
        "designer_yarn": {"weight": ["worsted"], "put_up": a_put_up(100, 200)},
    }
    same, far = a_wool("W", 18, 200), a_wool("F", 30, 420)
    assert judged(same, **fields).group is Suitability.AS_IT_IS
    assert judged(far, **fields).group is not Suitability.AS_IT_IS
    assert judged(same, **fields).fabric.firmness is None  # type: ignore[union-attr]


NOT_KNOWN = {"after_washing", "designer_yarn", "wearer", "washing"}
"""What an ask with only a plain gauge and an amount leaves open."""


@pytest.mark.parametrize(
    ("fields", "more", "fewer"),
    [
        ({}, set(), set()),
        ({"gauge": a_gauge(22, None)}, {"rows"}, set()),
        ({"gauge": a_gauge(after_washing=False)}, set(), {"after_washing"}),
        (
            {"gauge": None, "designer_yarn": a_designer_yarn()},
            {"gauge"},
            {"after_washing", "designer_yarn"},
        ),
        ({"designer_yarn": a_designer_yarn()}, set(), {"designer_yarn"}),
        (
            {"designer_yarn": {"weight": ["DK"]}},
            {"designer_length", "designer_fibres"},
            {"designer_yarn"},
        ),
        ({"parts": [{"amount": {"kind": "unknown"}}]}, {"amount"}, set()),
        ({"wearer": "adult", "washing": "hand"}, set(), {"wearer", "washing"}),
        ({"craft": "crochet", "gauge": a_gauge(14, 16)}, set(), set()),
        (
            {"gauge": None, "designer_yarn": {"put_up": a_put_up(50, 500)}},
            {"gauge", "designer_fibres", "target"},
            {"after_washing", "designer_yarn"},
        ),
    ],
)
def test_what_is_not_known_and_matters_is_said(
    fields: dict[str, Any], more: set[str], fewer: set[str]
) -> None:
    found = answer(an_ask(**fields), [], TERMS)
    assert {said.code for said in found.unknown} == {
        f"unknown.{name}" for name in NOT_KNOWN - fewer | more
    }
    assert found.beyond == 0


def test_cautions_of_the_answer_are_those_of_every_yarn() -> None:
    asked = prepare(an_ask(), TERMS)
    one, two = (
        Caution(code, message(f"cautions.{code}"), False, "", "", True)
        for code in ("sleep", "hat_off")
    )
    yarns = [a_wool(sku, 22, 240) for sku in "ABC"]
    judged = answer(an_ask(), yarns, TERMS).candidates
    told = [(one, two), (one,), (one, two)]
    candidates = [replace(c, cautions=said) for c, said in zip(judged, told, strict=True)]
    assert answer_of(asked, candidates, ()).cautions == (one,)
    assert answer_of(asked, candidates[:1], ()).cautions == (one, two)
    assert answer_of(asked, [], ()).cautions == ()


def test_a_companion_is_counted_and_priced_as_one_strand() -> None:
    # Beside 25 stitches of 300 m per 100 g a lace of 33.3 and 800 m makes 20 of 218 m.
    lace, yarn = a_wool("LACE", 100 / 3, 800), a_wool("Y", 25, 300)
    companion = judged(yarn, lace, designer_yarn=a_designer_yarn(20, 109)).companion
    assert companion is not None
    # 1200 m and 10 % are 1320 m: four balls of 50 g, 400 m, at 6.50.
    assert (companion.sku, companion.name, companion.skeins) == ("LACE", "Yarn LACE", 4)
    assert companion.price.total == Decimal("26.00")


def test_a_yarn_of_which_no_colour_has_enough_stands_behind_its_like() -> None:
    short = a_yarn("A", label=a_label(None, 240, gauge=a_band_gauge(22)), lots=(a_lot(2),))
    enough = a_yarn("B", label=a_label(None, 240, gauge=a_band_gauge(22)), lots=(a_lot(40),))
    found = answer(an_ask(), [short, enough], TERMS)
    assert [c.sku for c in found.candidates] == ["B", "A"]


def test_what_a_wish_rules_out_stands_without_regard_to_stock() -> None:
    short = a_yarn("A", label=a_label(None, 240, gauge=a_band_gauge(22)), lots=(a_lot(2),))
    for wishes, stands_short in (({}, True), ({"colour_family": "blue"}, False)):
        asked = prepare(an_ask(wishes=wishes), TERMS)
        known = ProfiledYarn(short, shelf_profile(short))
        verdict = judge_one(asked.wanted, known.summary, Companions())
        ranked = rank_candidate(asked, verdict, {"A": known})
        assert (ranked.sort_key.stock == 2) is stands_short
        assert (ranked.unmet is None) is stands_short
