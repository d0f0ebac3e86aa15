"""Where on the shelf to look: the windows of an ask, worked out by hand."""

from dataclasses import replace
from typing import Any

import pytest

from shopdesk.answering.judging.companions import Companions
from shopdesk.answering.judging.judge import Requirements, requirements
from shopdesk.answering.model.answer import Target
from shopdesk.answering.model.ask import PatternGauge, StitchPattern
from shopdesk.answering.shortlist.windows import SearchWindow, search_windows, window_beside
from shopdesk.answering.thresholds import wider
from shopdesk.craft.figures import Basis
from shopdesk.craft.yarn import Craft
from tests.answering.summaries import a_figure, a_summary, a_target
from tests.factories import an_ask

GUESS = a_figure(20, 18, 24, Basis.ESTIMATE)
STEPS = [(0, 0), (1, 6.045), (2, 6.095)]
"""The least group and penalty of a gauge that is the same, near (4.5 %) and in reach (9.5 %)."""


def wanting(target: Target, **facts: Any) -> Requirements:
    return replace(requirements(an_ask(20, **facts)), target=target)


def crocheting(target: Target) -> Requirements:
    return wanting(target, craft=Craft.CROCHET)


def windows(wanted: Requirements) -> list[SearchWindow]:
    return list(search_windows(wanted))


def near(low: float, high: float) -> Any:
    return pytest.approx((low, high), rel=1e-6)


def least(window: SearchWindow) -> tuple[int, Any]:
    return window.least[0], pytest.approx(window.least[1])


def test_without_a_gauge_wanted_every_yarn_may_do() -> None:
    assert windows(wanting(a_target())) == [SearchWindow((1, 5))]


def test_rings_of_a_gauge_widen_step_by_step() -> None:
    unknown, *steps, two, three, four = windows(wanting(a_target(20)))
    assert unknown == SearchWindow((1, 5), no_stitches=True)
    assert [least(one) for one in steps] == STEPS
    # 20 less and more 4.5, 9.5 and 17 %.
    assert [one.stitches for one in steps] == [near(19.1, 20.9), near(18.1, 21.9), near(16.6, 23.4)]
    assert all(one.strands == 1 and one.volume is None and one.tex is None for one in steps)
    # Strands land near, 18.1 to 21.9, and n of them have 1/root(n) of the gauge of one.
    assert [(one.strands, one.least) for one in (two, three, four)] == [
        (2, (2, 7)),
        (3, (2, 8)),
        (4, (2, 9)),
    ]
    assert two.stitches == near(18.1 * 2**0.5, 21.9 * 2**0.5)
    assert three.stitches == near(18.1 * 3**0.5, 21.9 * 3**0.5)
    assert four.stitches == near(36.2, 43.8)
    assert (two.volume, two.beside, two.no_stitches) == (None, False, False)


def test_rings_are_parted_by_the_fabric_they_make() -> None:
    # 200 m per 100 g are 500 tex; of 1.25 g/cm3 that is 400, and firmness goes with its root:
    # 8 % are 400 x 0.92^2 to 400 x 1.08^2, 25 % are 225 to 625.
    _, *steps, two, three, four = windows(wanting(a_target(20, 200, density=1.25)))
    alike, unlike = steps[::2], steps[1::2]
    assert [one.volume for one in alike] == [near(338.56, 466.56)] * 3
    assert [one.volume for one in unlike] == [near(225, 625)] * 3
    assert [least(one) for one in alike] == STEPS
    # What is more than 8 % off weighs 5 and the share, and wants a swatch.
    assert [least(one) for one in unlike] == [(1, 5.08), (1, 6.045 + 5.08), (2, 6.095 + 5.08)]
    assert [a.stitches for a in alike] == [u.stitches for u in unlike]
    assert [one.volume for one in (two, three, four)] == [
        near(112.5, 312.5),
        near(75, 208.3333333),
        near(56.25, 156.25),
    ]


def test_a_guessed_gauge_is_looked_for_by_length_and_by_name_where_length_is_unknown() -> None:
    # Gauge goes with the root of length: 200 m x 1.045^2 = 218.405 m, which are 457.86 tex.
    _, same, close, reach, named, *strands = windows(wanting(a_target(GUESS, 200)))
    assert [least(one) for one in (same, close, reach)] == [(1, 4), (1, 6.045), (2, 6.095)]
    assert same.tex == near(100_000 / (200 * 1.045**2), 100_000 / (200 * 0.955**2))
    assert close.tex == near(100_000 / (200 * 1.095**2), 100_000 / (200 * 0.905**2))
    assert reach.tex == near(100_000 / (200 * 1.17**2), 100_000 / (200 * 0.83**2))
    assert all(one.stitches is None for one in (same, close, reach))
    assert (named.no_tex, named.least) == (True, (1, 4))
    assert named.stitches == near(18 / 1.095, 24 * 1.095)
    assert len(strands) == 3


def test_a_weight_name_alone_is_looked_for_in_and_near_its_range() -> None:
    _, named, *strands = windows(wanting(a_target(GUESS)))
    assert named == SearchWindow((1, 4), stitches=named.stitches)
    assert named.stitches == near(18 / 1.095, 24 * 1.095)
    assert len(strands) == 3


def test_openwork_is_looked_for_by_gauges_that_may_meet() -> None:
    lace = wanting(
        a_target(a_figure(20, 14, 26), from_designer_yarn=False),
        gauge=PatternGauge(20, 28, StitchPattern.LACE),
    )
    _, meeting, *strands = windows(lace)
    assert (meeting.least, meeting.stitches) == ((1, 4), None)
    assert meeting.meets == near(14, 26)
    assert len(strands) == 3


def test_crochet_without_a_length_is_looked_for_by_category() -> None:
    same, beside = windows(crocheting(a_target(categories=(3, 4))))
    assert same == SearchWindow((0, 0), categories=(3, 4))
    assert beside == SearchWindow((2, 6), categories=(2, 3, 4, 5))
    assert windows(crocheting(a_target(categories=(0,))))[1].categories == (0, 1)


def test_crochet_with_a_length_is_looked_for_by_both() -> None:
    # 200 m less and more 15 % are 170 to 230 m, 40 % are 120 to 280 m.
    close, reach = near(100_000 / 230, 100_000 / 170), near(100_000 / 280, 100_000 / 120)
    found = windows(crocheting(a_target(metres=200, categories=(4,))))
    # What only another hook meets weighs 5 and at least 15 %.
    expected = [
        ((0, 0), (4,), close, False),
        ((0, 0), (4,), None, True),
        ((1, 5.15), (4,), reach, False),
        ((2, 6), (3, 4, 5), close, False),
        ((2, 6), (3, 4, 5), None, True),
        ((2, 11.15), (3, 4, 5), reach, False),
    ]
    rest = found[6:]
    assert [(least(one), one.categories, one.tex, one.no_tex) for one in found[:6]] == expected
    assert [(one.strands, one.least) for one in rest] == [(2, (2, 7)), (3, (2, 8)), (4, (2, 9))]
    assert [one.tex for one in rest] == [
        near(100_000 / 230 / n, 100_000 / 170 / n) for n in (2, 3, 4)
    ]


def beside(wanted: Requirements, *gauges: float, texes: tuple[float, ...] = ()) -> Any:
    if texes:
        yarns = [a_summary(f"{tex:g}", 30, a_figure(tex)) for tex in texes]
    else:
        yarns = [a_summary(f"{one:g}", one, 800) for one in gauges]
    return window_beside(wanted, Companions(yarns))


def test_beside_a_companion_a_yarn_may_be_a_little_finer() -> None:
    # 18.1 to 21.9 stitches; the finest companion has 40, the coarsest 33:
    # 1/18.1^2 - 1/40^2 = 1/20.297^2 and 1/21.9^2 - 1/33^2 = 1/29.276^2.
    found = beside(wanting(a_target(20)), 33, 36, 40)
    assert (found.least, found.beside, found.strands, found.tex) == ((2, 8), True, 1, None)
    assert found.stitches == pytest.approx((20.297, 29.276), abs=1e-3)


def test_beside_a_companion_no_finer_than_the_target_any_fine_yarn_may_do() -> None:
    found = beside(wanting(a_target(20)), 20, 40)
    assert found.stitches == (pytest.approx(20.297, abs=1e-3), float("inf"))


def test_there_is_no_ring_beside_where_nothing_can_be_near() -> None:
    assert beside(wanting(a_target(20)), 15, 18) is None
    assert beside(wanting(a_target(20))) is None
    assert beside(wanting(a_target()), 33, 40) is None
    assert beside(crocheting(a_target()), texes=(50, 200)) is None
    assert beside(crocheting(a_target(metres=200))) is None


def test_beside_a_companion_of_a_crocheted_pattern_tex_is_what_is_missing() -> None:
    wanted = crocheting(a_target(metres=1000))
    found = beside(wanted, texes=(50, 80))
    # Near 1000 m within 15 %, 850 to 1150 m, are 86.957 to 117.647 tex: less 80 and less 50.
    assert (found.least, found.beside, found.stitches) == ((2, 8), True, None)
    assert found.tex == pytest.approx((6.957, 67.647), abs=1e-3)
    assert beside(wanted, texes=(50, 90)).tex == pytest.approx((0, 67.647), abs=1e-3)
    # Of companions that are too thick the others are left, as long as anything is missing.
    assert beside(wanted, texes=(50, 118)).tex == pytest.approx((0, 67.647), abs=1e-3)
    assert beside(wanted, texes=(118, 150)) is None
    assert beside(wanted, texes=(100_000 / 850, 150)) is None


def test_a_window_is_a_hair_wider_than_it_is_meant() -> None:
    assert wider(1.0, 1.0) == (1 - 1e-9, 1 + 1e-9)
    assert wider(2.0, 3.0) == (2 * (1 - 1e-9), 3 * (1 + 1e-9))
