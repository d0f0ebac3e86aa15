"""What a swatch says of size, tool, rows and firmness, worked out by hand."""

from dataclasses import replace
from decimal import Decimal
from typing import Any

import pytest

from shopdesk.answering.judging.companions import StrandCombination
from shopdesk.answering.model.ask import (
    Ask,
    DesignerYarn,
    ItemKind,
    PatternGauge,
    StitchPattern,
)
from shopdesk.answering.swatch.swatch_effects import SwatchCase, swatch_result
from shopdesk.answering.swatch.swatch_reading import MeasuredSwatch
from shopdesk.answering.swatch.swatch_result import OwnGauge, SwatchResult
from shopdesk.craft.figures import Basis
from shopdesk.craft.items import Measurements
from shopdesk.craft.messages import Message, message
from shopdesk.craft.swatch import Fit, Gauge
from shopdesk.craft.yarn import Craft, PutUp
from tests.answering.summaries import a_figure
from tests.factories import a_blend, an_ask

HELD = StrandCombination(1, None, a_figure(400, 360, 440), a_figure(20), 1.0)
OWN = OwnGauge(a_figure(20), a_figure(21))
SWATCH = MeasuredSwatch(Gauge(24, 27), 10.0, StitchPattern.STOCKINETTE, washed=True)
ASK = an_ask(20, 27)


def result(ask: Ask | None = ASK, held: StrandCombination = HELD, **measured: Any) -> SwatchResult:
    case = SwatchCase(ask, (), held, Decimal(10), OWN)
    return swatch_result(case, replace(SWATCH, **measured))


def codes(said: tuple[Message, ...]) -> list[str]:
    return [one.code.removeprefix("swatch.") for one in said]


def test_a_swatch_is_held_against_the_patterns_gauge() -> None:
    found = result()
    assert (found.wanted, found.got, found.fit) == (Gauge(20, 27), Gauge(24, 27), Fit.TIGHT)
    assert codes(found.gauge) == ["too_many"]
    assert found.own_gauge is OWN
    assert (found.parts, found.weighed) == ((), None)


@pytest.mark.parametrize(
    ("ask", "measured", "said"),
    [
        (None, {}, message("swatch.for_the_yarn", got_st=24)),
        (an_ask(None), {}, message("swatch.no_pattern_gauge", got_st=24)),
        (
            ASK,
            {"stitch_pattern": StitchPattern.RIB},
            message(
                "swatch.other_pattern",
                swatch_term="terms.stitch.rib",
                pattern_term="terms.stitch.stockinette",
            ),
        ),
    ],
)
def test_what_cannot_be_compared_says_why(
    ask: Ask | None, measured: dict[str, Any], said: Message
) -> None:
    found = result(ask, tool_mm=4.0, **measured)
    assert found.gauge == (said,)
    assert (found.wanted, found.fit, found.tool, found.measure) == (None, None, None, None)
    assert (found.advice, found.regardless, found.rows, found.parts) == ((), (), (), ())
    assert (found.sizes, found.other_size, found.firmness) == ((), None, None)


@pytest.mark.parametrize(
    ("after_washing", "washed", "said"),
    [
        (False, True, ["pattern_unwashed"]),
        (True, True, []),
        (None, True, []),
        (False, False, ["wash_it"]),
        (True, None, ["if_washed"]),
    ],
)
def test_washing_of_pattern_and_swatch(
    after_washing: bool | None, washed: bool | None, said: list[str]
) -> None:
    ask = an_ask(gauge=PatternGauge(20, 27, after_washing=after_washing))
    assert codes(result(ask, washed=washed).trust) == said
    assert codes(result(None, washed=True).trust) == []
    assert codes(result(an_ask(None), washed=True).trust) == []


@pytest.mark.parametrize(
    ("stitches", "advice"), [(20, "keep_tool"), (24, "larger_unnamed"), (16, "smaller_unnamed")]
)
def test_without_a_tool_named_the_way_to_go_is_said(stitches: float, advice: str) -> None:
    found = result(gauge=Gauge(stitches))
    assert (found.tool, codes(found.advice)) == (None, [advice])


def test_with_a_tool_named_the_next_is_named() -> None:
    # 24 for 20 on 4 mm: 4 x 1.2^2 = 5.76 mm, made in 6; as a hook as well.
    found = result(tool_mm=4.0)
    assert found.tool is not None
    assert found.tool.made_mm == 6.0
    assert found.advice == found.tool.advice
    assert codes(found.advice)[0] == "try_larger"


@pytest.mark.parametrize(
    ("cm", "which", "wanted_cm"),
    [
        ({"chest_cm": 120, "width_cm": 60, "around_cm": 30}, "chest", 120),
        ({"width_cm": 60, "around_cm": 30, "length_cm": 90}, "width", 60),
        ({"around_cm": 30, "length_cm": 90}, "around", 30),
    ],
)
def test_the_measure_across_the_stitches(
    cm: dict[str, float], which: str, wanted_cm: float
) -> None:
    # 24 for 20 stitches: five sixths of it.
    found = result(an_ask(20, 27, measurements=Measurements(**cm)))
    assert found.measure is not None
    assert (found.measure.which, found.measure.pattern_cm) == (which, wanted_cm)
    assert found.measure.finished_cm == pytest.approx(wanted_cm * 20 / 24)
    assert found.regardless[0] == found.measure.said
    assert found.measure.said.code == "swatch.comes_out_smaller"


@pytest.mark.parametrize(
    ("stitches", "code", "percent"),
    [(24, "narrower_by", 100 / 6), (16, "wider_by", 25), (20.2, None, None)],
)
def test_without_a_measure_it_is_wider_or_narrower_by_a_share(
    stitches: float, code: str | None, percent: float | None
) -> None:
    found = result(gauge=Gauge(stitches))
    share, *rest = found.regardless if code else (None, *found.regardless)
    if code:
        assert share is not None
        assert (codes((share,)), share.values) == (
            [code],
            {"off_percent": pytest.approx(percent)},
        )
    assert codes(tuple(rest)) == ["regardless_yarn"]
    length_only = an_ask(20, 27, None, measurements=Measurements(length_cm=60))
    assert codes(result(length_only, gauge=Gauge(20.2)).regardless) == []


@pytest.mark.parametrize(
    ("wanted_rows", "got_rows", "metres", "said"),
    [
        (27, 27, 1000, []),
        (27, None, 1000, ["count_rows", "rows_assumed"]),
        (None, 27, 1000, ["rows_assumed"]),
        (27, None, None, ["count_rows"]),
        (27, 33, 1000, ["rows_shape"]),
    ],
)
def test_rows(
    wanted_rows: float | None, got_rows: float | None, metres: float | None, said: list[str]
) -> None:
    found = result(an_ask(20, wanted_rows, metres), gauge=Gauge(24, got_rows))
    assert codes(found.rows) == said


SIZED = an_ask(
    20,
    27,
    size_names=("S", "M", "L"),
    chosen_size="M",
    size_chests_cm=(83.0, 100.0, 120.0),
)


def test_sizes_come_out_otherwise_and_another_may_do() -> None:
    # At 24 for 20 stitches 83, 100 and 120 cm come out as 69.2, 83.3 and 100 cm: L for M.
    found = result(SIZED)
    assert [(one.name, one.pattern_cm) for one in found.sizes] == [
        ("S", 83), ("M", 100), ("L", 120),
    ]  # fmt: skip
    assert [one.finished_cm for one in found.sizes] == pytest.approx([69.1667, 83.3333, 100])
    assert found.other_size is not None
    assert found.other_size.values == {"size": "L", "finished_cm": pytest.approx(100)}
    none = result(SIZED, gauge=Gauge(22))
    assert none.other_size == message("swatch.no_other_size")
    right = result(SIZED, gauge=Gauge(20))
    assert (len(right.sizes), right.other_size) == (3, None)


@pytest.mark.parametrize(
    "ask", [replace(SIZED, size_chests_cm=()), replace(SIZED, chosen_size=None), an_ask(None)]
)
def test_sizes_that_are_not_listed_say_nothing(ask: Ask) -> None:
    found = result(ask)
    assert (found.sizes, found.other_size) == ((), None)


def ends(figure: Any) -> Any:
    return pytest.approx((figure.low, figure.value, figure.high), rel=1e-4)


def test_firmness_beside_what_the_yarn_was_meant_for() -> None:
    # Munden: 20 x 27 loops in 100 cm2 are of 2 cm (root of 21.6/5.4), 30 x 40.5 of 1.3333 cm.
    # The root of 400 tex over 1 g/cm3 is 20, of 360 and 440 it is 18.974 and 20.976.
    found = result(gauge=Gauge(30, 40.5)).firmness
    assert found is not None
    assert ends(found.now) == (18.9737 * 0.75, 15, 20.9762 * 0.75)
    assert ends(found.reference) == (18.9737 / 2, 10, 20.9762 / 2)
    assert found.now.basis is Basis.LABEL
    assert found.said == message("swatch.firmer_than_meant")
    looser = result(gauge=Gauge(15, 20.25)).firmness
    assert looser is not None
    assert looser.said == message("swatch.looser_than_meant")
    alike = result(gauge=Gauge(20.5, 27)).firmness
    assert alike is not None
    assert alike.said == message("swatch.as_firm_than_meant")


def test_rows_that_were_not_counted_make_the_firmness_an_estimate() -> None:
    found = result(gauge=Gauge(20)).firmness
    assert found is not None
    # Rows of 1.27 to 1.45 for a stitch move it by 0.96992 and 1.03638.
    assert ends(found.now) == (9.48683 * 0.96992, 10, 10.48809 * 1.03638)
    assert found.now.basis is Basis.ESTIMATE
    assert [note.code for note in found.now.notes] == ["amount.rows_guessed"]


def test_firmness_beside_the_originals_where_it_is_known() -> None:
    # 100 m in 50 g are 500 tex; cotton is 1.52 g/cm3: root of 328.95 is 18.137, over 2 cm.
    designer = DesignerYarn(put_up=PutUp(50, 100), fibres=a_blend("cotton 100"))
    found = result(an_ask(20, 27, designer_yarn=designer), gauge=Gauge(20, 27)).firmness
    assert found is not None
    assert found.reference.value == pytest.approx(18.137 / 2, rel=1e-4)
    # 10 over 9.07 is a tenth more.
    assert found.said == message("swatch.firmer")
    for unknown in (
        replace(designer, strands=2),
        replace(designer, fibres=()),
        replace(designer, put_up=None),
    ):
        beside = result(an_ask(20, 27, designer_yarn=unknown), gauge=Gauge(20, 27)).firmness
        assert beside is not None
        assert beside.said == message("swatch.as_firm_than_meant")


@pytest.mark.parametrize(
    ("ask", "held", "measured"),
    [
        (ASK, replace(HELD, tex=None), {}),
        (ASK, replace(HELD, density=None), {}),
        (
            an_ask(gauge=PatternGauge(20, 27, StitchPattern.GARTER)),
            HELD,
            {"stitch_pattern": StitchPattern.GARTER},
        ),
        (an_ask(20, 27, craft=Craft.CROCHET), HELD, {}),
    ],
)
def test_firmness_is_of_plain_knitting_in_a_known_yarn_only(
    ask: Ask, held: StrandCombination, measured: dict[str, Any]
) -> None:
    assert result(ask, held, **measured).firmness is None


def test_a_weighed_swatch_and_the_lines_are_told() -> None:
    scarf = an_ask(
        20, 27, item=ItemKind.SCARF, measurements=Measurements(width_cm=50, length_cm=200)
    )
    found = result(scarf, width_cm=15, height_cm=15, mass_g=10)
    assert found.weighed is not None
    assert found.weighed.grams_per_m2.value == pytest.approx(4000 / 9)
