"""Swatches that came back: what they say of slip and yarn, kept once, as evidence."""

from dataclasses import replace
from datetime import UTC, date, datetime
from typing import Any

import pytest
from sqlalchemy import Engine, select

from shopdesk.answering.model.ask import (
    SINGLE_CROCHET,
    STOCKINETTE,
    PatternGauge,
    StitchPattern,
)
from shopdesk.answering.swatch.swatch_reading import SwatchEntry
from shopdesk.answering.swatch.swatch_result import SwatchResult, TakenLine
from shopdesk.craft.errors import InputError, InputErrors
from shopdesk.craft.yarn import Craft, PutUp
from shopdesk.services.privacy import forget_customer_of_slip
from shopdesk.services.sales import SlipUnknown
from shopdesk.services.slips import SlipOrder, make_slip
from shopdesk.services.swatches import (
    SwatchOf,
    SwatchRecord,
    SwatchReport,
    SwatchSubject,
    find_subject,
    find_swatch,
    list_swatches,
    report_swatch,
)
from shopdesk.shelf.loading import shelf_yarn
from shopdesk.shop.shop import Shop
from shopdesk.store.database import reading
from shopdesk.store.models import YarnMeasurement
from tests.ask_documents import a_gauge, a_length, an_ask_document
from tests.factories import an_ask
from tests.services.slips_at_counter import a_judged_yarn, shop_on, stock_shelf
from tests.slip_factories import (
    a_candidate,
    a_choice,
    an_amount,
    an_answer,
)

NOON = datetime(2026, 12, 2, 12, tzinfo=UTC)
SIZES = {
    "names": ["S", "M", "L", "XL"],
    "chosen": "M",
    "chest": {"values": [36, 40, 44, 48], "unit": "in"},
}


def a_slip(shelf: Engine, skeins: int = 6, **fields: Any) -> int:
    """Makes a slip of a pullover at 22 x 30, size M of 40 in, 1200 m, and returns its number."""
    fields.setdefault("item", {"kind": "pullover"})
    fields.setdefault("sizes", SIZES)
    order = SlipOrder(an_ask_document(**fields), a_choice(skeins), "AB")
    return make_slip(shop_on(shelf), a_judged_yarn(), order).summary.number


def shop_of(shelf: Engine) -> Shop:
    return Shop(shelf, clock=lambda: NOON)


def a_report(slip: int | None, **typed: str) -> SwatchReport:
    """Returns what is typed for a swatch of a slip, or of the yarn T-1 without one."""
    typed.setdefault("stitches", "20")
    typed.setdefault("rows", "27")
    typed.setdefault("washed", "yes")
    typed.setdefault("tool", "4.0")
    return SwatchReport(SwatchOf(slip, sku="T-1"), SwatchEntry(**typed), "AB")


def looked(shelf: Engine, number: int, **typed: str) -> SwatchResult:
    report = replace(a_report(number, **typed), keep=False)
    looked_at = report_swatch(shop_of(shelf), report)
    assert looked_at.number is None
    return looked_at.result


def kept(shelf: Engine, number: int | None, **typed: str) -> SwatchRecord:
    said = report_swatch(shop_of(shelf), a_report(number, **typed))
    assert said.number is not None
    found = find_swatch(shop_of(shelf), said.number)
    assert found == said
    return found


def codes(said: Any) -> list[str]:
    return [each.code for each in said]


@pytest.fixture
def slip(shelf: Engine) -> int:
    stock_shelf(shelf)
    return a_slip(shelf)


def test_22_wanted_and_20_got_turns_40_into_44_inches_and_size_s_comes_out_right(
    shelf: Engine, slip: int
) -> None:
    # Worked textbook example: 22 against 20 stitches turns 40 in into 44 in. Size S, meant for
    # 36 in, is 36 x 22/20 = 39.6 in, within the 3 % that a size may be off.
    result = looked(shelf, slip)
    assert result.measure is not None
    assert result.measure.which == "chest"
    assert result.measure.finished_cm == pytest.approx(44 * 2.54)
    assert codes(result.gauge)[0] == "swatch.too_few"
    assert codes(result.advice)[0] == "swatch.try_smaller"
    assert result.other_size is not None
    assert result.other_size.code == "swatch.other_size"
    assert result.other_size.values["size"] == "S"
    assert [size.finished_cm for size in result.sizes] == pytest.approx(
        [39.6 * 2.54, 44 * 2.54, 48.4 * 2.54, 52.8 * 2.54]
    )


def test_inches_and_fractions_are_read(shelf: Engine, slip: int) -> None:
    # 1 in = 2.54 cm exactly: 10 1/2 stitches over 2 in are 20.67 over 10 cm.
    result = looked(shelf, slip, stitches="10 1/2", over="2 in", rows="13.5", rows_over="2 in")
    assert result.got.stitches == pytest.approx(10.5 / 5.08 * 10)
    assert result.got.rows == pytest.approx(13.5 / 5.08 * 10)
    assert "swatch.measure_over_more" in codes(result.trust)


def test_a_swatch_equal_to_the_pattern_changes_nothing(shelf: Engine, slip: int) -> None:
    result = looked(shelf, slip, stitches="22", rows="30")
    assert codes(result.gauge) == ["swatch.right"]
    assert codes(result.advice) == ["swatch.keep_tool"]
    assert result.rows == ()
    assert result.trust == ()
    assert result.other_size is None
    (part,) = result.parts
    assert part.now_m == part.before_m
    # 1200 m and three quarters of the 5 % by hands are 1245 m: six skeins of 230 m hold 1380 m.
    assert part.plan_m == pytest.approx(1245)
    assert part.skeins_needed == 6
    assert part.said.code == "swatch.still_enough"
    assert result.firmness is not None
    assert result.firmness.said.code == "swatch.as_firm_than_meant"


def test_tighter_takes_more_yarn_at_the_same_size_and_looser_less(shelf: Engine, slip: int) -> None:
    tight = looked(shelf, slip, stitches="25", rows="34")
    loose = looked(shelf, slip, stitches="20", rows="27")
    # Munden (1959): length per area goes with the root of stitches per area.
    assert tight.parts[0].plan_m == pytest.approx(1245 * (25 * 34 / (22 * 30)) ** 0.5)
    assert tight.parts[0].said.code == "swatch.more_skeins"
    assert tight.parts[0].said.values["count"] == 1
    assert loose.parts[0].said.code == "swatch.still_enough"
    assert tight.measure is not None
    assert tight.measure.finished_cm < 101.6
    assert tight.firmness is not None
    assert tight.firmness.said.code == "swatch.firmer_than_meant"


def test_rows_alone_are_off(shelf: Engine, slip: int) -> None:
    result = looked(shelf, slip, stitches="22", rows="34")
    assert codes(result.rows) == ["swatch.keep_the_stitches", "swatch.rows_shape"]
    assert "swatch.rows_off" in codes(result.gauge)


def test_rows_that_were_not_counted_are_asked_for_and_said_to_be_assumed(
    shelf: Engine, slip: int
) -> None:
    assert codes(looked(shelf, slip, rows="").rows) == ["swatch.count_rows", "swatch.rows_assumed"]


def test_a_weighed_swatch_gives_its_own_need_beside_the_other(shelf: Engine, slip: int) -> None:
    result = looked(shelf, slip, width="15", height="15 cm", mass="6 g", stitches="22", rows="30")
    assert result.weighed is not None
    assert result.weighed.need_m is not None
    # 6 g over 225 cm2 are 267 g/m2 by arithmetic.
    assert result.weighed.grams_per_m2.value == pytest.approx(266.7, abs=0.1)
    assert result.weighed.need_m.low < result.weighed.need_m.value < result.weighed.need_m.high
    assert codes(result.weighed.said)[0] == "swatch.weighed_need"
    assert {"swatch.weighed_agrees", "swatch.weighed_differs"} & set(codes(result.weighed.said))


def test_a_swatch_that_is_far_too_heavy_disagrees(shelf: Engine, slip: int) -> None:
    result = looked(shelf, slip, width="15", height="15", mass="20", stitches="22", rows="30")
    assert result.weighed is not None
    assert "swatch.weighed_differs" in codes(result.weighed.said)


@pytest.mark.parametrize(
    ("typed", "field"),
    [
        ({"stitches": "22", "rows": "3"}, "rows"),
        ({"width": "15", "height": "15", "mass": "900"}, "mass"),
        # 435 tex at 20 x 27 weigh some 10 g on this square.
        ({"width": "15", "height": "15", "mass": "60"}, "mass"),
    ],
)
def test_what_cannot_be_is_asked_back_and_nothing_of_it_kept(
    shelf: Engine, slip: int, typed: dict[str, str], field: str
) -> None:
    report = replace(a_report(slip, **typed), request_key="a random word")
    for asked in (report, replace(report, keep=False)):
        with pytest.raises(InputErrors) as refused:
            report_swatch(shop_of(shelf), asked)
        assert [problem.place for problem in refused.value.problems] == [field]
    with reading(shelf) as session:
        assert session.scalars(select(YarnMeasurement)).all() == []
    assert list_swatches(shop_of(shelf), slip) == ()
    # The form may be put right and sent again under its own key.
    right = replace(report, entry=SwatchEntry("22", rows="30"))
    assert report_swatch(shop_of(shelf), right).number == 1


def test_another_stitch_pattern_is_not_compared(shelf: Engine, slip: int) -> None:
    result = looked(shelf, slip, stitch_pattern="garter")
    assert result.wanted is None
    assert codes(result.gauge) == ["swatch.other_pattern"]
    assert result.parts == ()
    assert result.own_gauge.after == result.own_gauge.before


def test_without_a_tool_the_direction_is_still_said(shelf: Engine, slip: int) -> None:
    assert codes(looked(shelf, slip, tool="").advice) == ["swatch.smaller_unnamed"]
    assert codes(looked(shelf, slip, tool="", stitches="25").advice) == ["swatch.larger_unnamed"]


def test_a_pattern_counted_before_washing_is_compared_so(shelf: Engine) -> None:
    stock_shelf(shelf)
    number = a_slip(shelf, gauge=a_gauge(after_washing=False))
    assert codes(looked(shelf, number).trust) == ["swatch.pattern_unwashed"]


def test_a_swatch_stays_with_slip_and_yarn_apart_from_the_label(shelf: Engine, slip: int) -> None:
    with reading(shelf) as session:
        before = shelf_yarn(session, "T-1")
    record = kept(shelf, slip, hand="Ada")
    with reading(shelf) as session:
        after = shelf_yarn(session, "T-1")
    of_slip = list_swatches(shop_of(shelf), slip)
    assert before is not None
    assert after is not None
    assert after.label == before.label
    (measured,) = after.measurements
    assert (measured.stitches, measured.rows, measured.tool_mm) == (20, 27, 4)
    assert (measured.from_customer, measured.hand, measured.by) == (True, "Ada", "AB")
    assert measured.on == date(2026, 12, 2)
    assert of_slip == (record,)
    assert record.subject.slip_number == slip
    assert record.result.own_gauge.after != record.result.own_gauge.before


@pytest.mark.parametrize(
    ("from_customer", "asked_for", "kept_so"),
    [(True, True, True), (True, False, False), (False, True, False), (False, False, False)],
)
def test_a_customers_swatch_is_marked_where_it_was_asked_for(
    shelf: Engine, slip: int, from_customer: bool, asked_for: bool, kept_so: bool
) -> None:
    """One made in the shop needs no asking."""
    report = replace(a_report(slip), from_customer=from_customer, asked_for=asked_for)
    record = report_swatch(shop_of(shelf), report)
    with reading(shelf) as session:
        yarn = shelf_yarn(session, "T-1")
    assert yarn is not None
    [measured] = yarn.measurements
    assert (measured.asked_for, measured.from_customer) == (kept_so, from_customer)
    assert list_swatches(shop_of(shelf), slip) == (record,)
    assert record.event.asked_for is kept_so


def test_what_is_kept_says_what_was_said(shelf: Engine, slip: int) -> None:
    said = looked(shelf, slip, width="15", height="15", mass="6")
    record = kept(shelf, slip, width="15", height="15", mass="6")
    assert record.result == said


def test_a_form_sent_twice_keeps_one(shelf: Engine, slip: int) -> None:
    report = replace(a_report(slip), request_key="a random word")
    first, again = (report_swatch(shop_of(shelf), report) for _ in range(2))
    assert first.number is not None
    assert again == first
    assert list_swatches(shop_of(shelf), slip) == (first,)


def test_a_form_for_a_yarn_sent_twice_keeps_one(shelf: Engine) -> None:
    stock_shelf(shelf)
    report = replace(a_report(None), request_key="a random word")
    first, again = (report_swatch(shop_of(shelf), report) for _ in range(2))
    assert (first.number, again.number) == (1, None)
    assert find_swatch(shop_of(shelf), 2) is None


def test_swatches_that_agree_never_widen_the_yarns_own_gauge(shelf: Engine, slip: int) -> None:
    widths = []
    for hand in ("Ada", "Bo", "Cy", "Di"):
        report = a_report(slip, hand=hand, stitches="22", rows="30")
        own = report_swatch(shop_of(shelf), replace(report, asked_for=True)).result.own_gauge
        assert own.after is not None
        widths.append(own.after.high / own.after.low)
    assert widths == sorted(set(widths), reverse=True)


def test_an_outlier_hardly_moves_it(shelf: Engine, slip: int) -> None:
    for hand in ("Ada", "Bo", "Cy", "Di"):
        kept(shelf, slip, hand=hand, stitches="22", rows="30")
    own = kept(shelf, slip, hand="Eve", stitches="30", rows="40").result.own_gauge
    assert own.before is not None
    assert own.after is not None
    # Half a stitch is what one reading may be off; common practice, no source.
    assert abs(own.after.value - own.before.value) < 0.5
    assert "swatch.outlier" in codes(own.after.notes)


def test_strands_held_together_are_no_evidence_of_one_strand(shelf: Engine) -> None:
    stock_shelf(shelf)
    answer = an_answer(a_candidate(amounts=(replace(an_amount(), strands=2),)))
    order = SlipOrder(an_ask_document(), a_choice(), "AB")
    made = make_slip(shop_on(shelf), a_judged_yarn(answer), order)
    record = kept(shelf, made.summary.number, stitches="15", rows="20")
    assert record.result.own_gauge.after == record.result.own_gauge.before
    # Every strand needs the whole length: 2 x 1245 m at the pattern's gauge.
    plan = record.result.parts[0].plan_m
    assert plan == pytest.approx(2 * 1245 * (15 * 20 / (22 * 30)) ** 0.5)


def test_a_yarn_without_a_slip_takes_a_swatch(shelf: Engine) -> None:
    stock_shelf(shelf)
    record = kept(shelf, None)
    assert record.subject.slip_number is None
    assert codes(record.result.gauge) == ["swatch.for_the_yarn"]
    assert record.result.parts == ()


def test_a_swatch_is_in_the_patterns_stitch_or_the_crafts_usual_one() -> None:
    """Stockinette and single crochet, where the pattern gives no gauge or there is none."""
    lace = an_ask(gauge=PatternGauge(20, 26, stitch_pattern=StitchPattern.LACE))
    bare = an_ask(stitches=None)
    subject = SwatchSubject("T-1", "Plain", Craft.KNIT)
    patterns = [replace(subject, ask=ask).usual_pattern for ask in (None, bare, lace)]
    assert patterns == [STOCKINETTE, STOCKINETTE, StitchPattern.LACE]
    assert replace(subject, craft=Craft.CROCHET, ask=bare).usual_pattern == SINGLE_CROCHET


@pytest.mark.parametrize(
    ("strands", "second", "together"),
    [((), None, 1), ((), "T-2", 2), ((1,), None, 1), ((2, 1), None, 2), ((2,), "T-2", 3)],
)
def test_strands_are_the_most_of_any_line_and_one_of_a_second_yarn(
    strands: tuple[int, ...], second: str | None, together: int
) -> None:
    lines = tuple(TakenLine("main", "T-1", 5, None, number) for number in strands)
    subject = SwatchSubject("T-1", "Plain", Craft.KNIT, lines=lines, second_sku=second)
    assert subject.strands == together


def test_a_swatch_is_held_against_what_went_home(shelf: Engine, slip: int) -> None:
    """Six skeins of 100 g and 230 m, as the band said then."""
    subject = find_subject(shop_of(shelf), SwatchOf(slip))
    assert subject.lines == (TakenLine("main", "T-1", 6, PutUp(100, 230)),)
    assert (subject.sku, subject.branch, subject.second_sku) == ("T-1", "main", None)


def test_swatches_of_a_slip_stay_with_it(shelf: Engine, slip: int) -> None:
    """The latest first; none of another slip, of another branch, or without one."""
    other = a_slip(shelf)
    kept(shelf, None)
    first, _, second = kept(shelf, slip), kept(shelf, other), kept(shelf, slip, stitches="21")
    found = list_swatches(shop_of(shelf), slip)
    assert [one.number for one in found] == [second.number, first.number]
    assert [one.event.swatch.gauge.stitches for one in found] == [21, 20]


def test_what_is_not_there_is_refused(shelf: Engine) -> None:
    shop = shop_of(shelf)
    for number in (7, 0, -1, 2**31, 10**30):
        with pytest.raises(SlipUnknown, match=f"there is no slip {number};"):
            find_subject(shop, SwatchOf(number))
        assert find_swatch(shop, number) is None
    with pytest.raises(InputError, match="there is no yarn 'T-9'"):
        find_subject(shop, SwatchOf(sku="T-9"))
    with pytest.raises(SlipUnknown):
        report_swatch(shop, a_report(7))


def test_a_forgotten_knitter_leaves_the_swatch(shelf: Engine, slip: int) -> None:
    kept(shelf, slip, hand="Ada")
    assert forget_customer_of_slip(Shop(shelf), slip).swatches == 1
    with reading(shelf) as session:
        hands = session.scalars(select(YarnMeasurement.hand)).all()
    (record,) = list_swatches(shop_of(shelf), slip)
    assert hands == [None]
    assert record.event.swatch.hand is None
    assert record.result.got.stitches == 20


def test_own_yarn_is_taken_off_the_need_and_not_scaled(shelf: Engine) -> None:
    stock_shelf(shelf)
    part = {
        "name": "main",
        "amount": {"kind": "length", "values": [1200], "unit": "m"},
        "own": {"length": a_length(320, "m")},
    }
    number = a_slip(shelf, parts=[part])
    plan = looked(shelf, number, stitches="25", rows="34").parts[0].plan_m
    assert plan == pytest.approx(1245 * (25 * 34 / (22 * 30)) ** 0.5 - 320)
