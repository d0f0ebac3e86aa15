"""Whether a yarn makes the fabric that a knitted pattern wants, and how firm it is."""

import pytest

from shopdesk.answering.judging.judge_knit import (
    fabric_ratio,
    knit_findings,
    makes_the_fabric,
    original_volume,
)
from shopdesk.answering.model.answer import Suitability
from shopdesk.craft.figures import Basis
from shopdesk.craft.messages import message
from tests.answering.summaries import ASK, a_figure, a_target, on_the_needles, the_finding

AS_IT_IS, SWATCH_FIRST, WITH_A_CHANGE, NOT_FOR_THIS = Suitability


@pytest.mark.parametrize(
    ("stitches", "makes"),
    # Yarns of 180 to 220 stitches make the fabric, and 4.5 % beside: 171.9 to 229.9.
    [(171.8, False), (172, True), (200, True), (229.8, True), (230, False)],
)
def test_a_yarn_makes_the_fabric_that_yarns_of_its_gauge_make(stitches: float, makes: bool) -> None:
    target = a_target(150, fabric_stitches=a_figure(200, 180, 220))
    for basis in (Basis.LABEL, Basis.SHOP):
        assert makes_the_fabric(target, a_figure(stitches, basis=basis)) is makes
    assert not makes_the_fabric(target, a_figure(stitches, basis=Basis.ESTIMATE))
    assert not makes_the_fabric(a_target(150), a_figure(stitches))


@pytest.mark.parametrize(
    ("low", "high", "basis", "makes"),
    [
        # The original's band says 195 to 205; a name or a fabric says nothing so sure.
        (205, 240, Basis.LABEL, True),
        (206, 240, Basis.LABEL, False),
        (160, 195, Basis.LABEL, True),
        (160, 194, Basis.LABEL, False),
        (205, 240, Basis.PATTERN, False),
        (205, 240, Basis.ESTIMATE, False),
    ],
)
def test_a_yarn_makes_the_fabric_where_the_ranges_of_two_bands_meet(
    low: float, high: float, basis: Basis, makes: bool
) -> None:
    target = a_target(a_figure(200, 195, 205, basis))
    assert makes_the_fabric(target, a_figure((low + high) / 2, low, high)) is makes


@pytest.mark.parametrize(
    ("stitches", "code", "group", "weight"),
    [
        # All of them lie within the fabric's usual 150 to 250: a swatch tells where another tool
        # would be needed, but not where none reaches; 2 and the share as for what is near.
        (205, "same", AS_IT_IS, 2 - 0.025),
        (215, "near_finer", SWATCH_FIRST, 2.075),
        (230, "near_finer", SWATCH_FIRST, 2.15),
        (170, "near_coarser", SWATCH_FIRST, 2.15),
        (240, "far_finer", NOT_FOR_THIS, 6.2),
        (160, "far_coarser", NOT_FOR_THIS, 6.2),
    ],
)
def test_within_the_patterns_fabric_a_swatch_tells_what_another_tool_would_reach(
    stitches: float, code: str, group: Suitability, weight: float
) -> None:
    found = the_finding(a_target(200, fabric_stitches=a_figure(200, 150, 250)), stitches)
    assert (found.said.code, found.group, found.change) == (f"judging.gauge_{code}", group, None)
    assert found.weight == pytest.approx(weight)


@pytest.mark.parametrize(
    ("metres", "stitches", "code", "group", "weight"),
    [
        # 484 m for 400 are 10 % off by the root, 576 m are 20 %; 20 stitches make the fabric.
        (484, 20, "near_finer", SWATCH_FIRST, 2.1),
        (324, 20, "near_coarser", SWATCH_FIRST, 2.1),
        (576, 20, "far_finer", NOT_FOR_THIS, 6.2),
        (484, 30, "reach_finer", WITH_A_CHANGE, 6.1),
    ],
)
def test_within_the_patterns_fabric_a_swatch_tells_by_length_too(
    metres: float, stitches: float, code: str, group: Suitability, weight: float
) -> None:
    guess = a_figure(20, 18, 22, Basis.ESTIMATE)
    target = a_target(guess, 400, fabric_stitches=a_figure(20, 18, 22))
    found = the_finding(target, stitches, metres)
    assert (found.said.code, found.group) == (f"judging.by_length_{code}", group)
    assert found.weight == pytest.approx(weight)


def test_firmness_goes_with_the_root_of_tex_over_density() -> None:
    # 250 m per 100 g are 400 tex; of 1.25 g/cm3 that is 320. 80 m of 1.0 are 1250 tex:
    # root of 1250 / 320 = 1.9764.
    target = a_target(metres=250, density=1.25)
    assert original_volume(target) == pytest.approx(320)
    assert fabric_ratio(target, on_the_needles(metres=80, density=1.0)) == pytest.approx(
        1.9764, abs=1e-4
    )
    assert original_volume(a_target(metres=250)) is None
    assert original_volume(a_target(density=1.25)) is None
    assert fabric_ratio(target, on_the_needles(metres=80)) is None
    assert fabric_ratio(a_target(), on_the_needles(metres=80, density=1.0)) is None


@pytest.mark.parametrize(
    ("ratio", "code", "group", "weight", "percent"),
    [
        # Firmness within 5 % is the same, within 13 % it shows in the hand, within 25 % it is
        # another fabric that one must want (judgement.csv). It weighs 0.4; 1.5 and five times
        # the share; 3 and five times the share; 5 and the share (grades.csv).
        (1.049, "same", AS_IT_IS, 0.4, 5),
        (1.051, "firmer", SWATCH_FIRST, 1.5 + 0.255, 5),
        (1.129, "firmer", SWATCH_FIRST, 1.5 + 0.645, 13),
        (1.131, "firmer", WITH_A_CHANGE, 3 + 0.655, 13),
        (1.249, "firmer", WITH_A_CHANGE, 3 + 1.245, 25),
        (1.256, "too_firmer", NOT_FOR_THIS, 5.256, 26),
        (0.951, "same", AS_IT_IS, 0.4, 5),
        (0.949, "looser", SWATCH_FIRST, 1.5 + 0.255, 5),
        (0.871, "looser", SWATCH_FIRST, 1.5 + 0.645, 13),
        (0.869, "looser", WITH_A_CHANGE, 3 + 0.655, 13),
        (0.751, "looser", WITH_A_CHANGE, 3 + 1.245, 25),
        (0.744, "too_looser", NOT_FOR_THIS, 5.256, 26),
    ],
)
def test_firmness_at_the_limits(
    ratio: float, code: str, group: Suitability, weight: float, percent: int
) -> None:
    # At the same density the root of tex, so of one over length: 200 m / ratio^2.
    held = on_the_needles(22, 200 / ratio**2, 1.3)
    found = knit_findings(ASK, a_target(22, 200, density=1.3), held)[-1]
    assert (found.said.code, found.group) == (f"judging.fabric_{code}", group)
    assert found.weight == pytest.approx(weight)
    assert found.said.values == {"off_percent": percent}
    change = message(f"judging.change_fabric_{code}") if group is WITH_A_CHANGE else None
    assert found.change == change


@pytest.mark.parametrize(
    ("basis", "codes"),
    [
        (Basis.ESTIMATE, ["by_length_reach_finer", "length_more"]),
        (Basis.PATTERN, ["in_names_range", "length_more", "fabric_looser"]),
    ],
)
def test_firmness_is_not_counted_beside_a_length_that_decides(
    basis: Basis, codes: list[str]
) -> None:
    # 242 m for 200 are the same fact twice: 10 % finer by the root, and 1 / 1.1 of the firmness.
    target = a_target(a_figure(22, 20, 24, basis), 200, density=1.3)
    found = knit_findings(ASK, target, on_the_needles(22, 242, 1.3))
    assert [one.said.code for one in found] == [f"judging.{code}" for code in codes]


def test_nothing_is_said_of_a_fabric_that_cannot_be_told() -> None:
    found = knit_findings(ASK, a_target(22, 200), on_the_needles(22, 200, 1.3))
    assert [one.said.code for one in found] == ["judging.gauge_same", "judging.length_same"]
