"""What a substitute is measured against."""

from typing import Any

import pytest

from shopdesk.answering.judging.requirements import gauge_tells, target_of
from shopdesk.answering.model.answer import Target
from shopdesk.answering.model.ask import DesignerYarn, PatternGauge, StitchPattern
from shopdesk.craft.figures import Basis
from shopdesk.craft.yarn import Craft, PutUp
from tests.factories import a_band_gauge, a_blend, an_ask

SC = PatternGauge(14, 16, StitchPattern.SINGLE_CROCHET)
LACE = PatternGauge(20, 28, StitchPattern.LACE)


def target(**facts: Any) -> Target:
    return target_of(an_ask(**facts))


def why(found: Target) -> list[str]:
    return [said.code.removeprefix("judging.") for said in found.why]


def ends(found: Target) -> Any:
    natural = found.natural_stitches
    assert natural is not None
    return pytest.approx((natural.low, natural.value, natural.high))


def test_the_patterns_gauge_is_known_to_7_percent_and_openwork_to_30() -> None:
    plain, lace = target(stitches=20), target(gauge=LACE)
    assert ends(plain) == (18.6, 20, 21.4)
    assert ends(lace) == (14, 20, 26)
    for found in (plain, lace):
        assert found.natural_stitches is not None
        assert found.natural_stitches.basis is Basis.PATTERN
        assert not found.from_designer_yarn
        assert (found.metres_per_100g, found.thickness_mm, found.density) == (None, None, None)
    # Standard Yarn Weight System: 16 to 20 stitches are category 4; openwork tells of none.
    assert (plain.categories, lace.categories) == ((4,), ())
    assert (why(plain), why(lace)) == (["target_pattern_gauge"], ["target_openwork"])


def test_a_crocheted_gauge_tells_its_category_and_no_knitted_gauge() -> None:
    found = target(craft=Craft.CROCHET, gauge=SC)
    assert found.natural_stitches is None
    # Standard Yarn Weight System, single crochet: 14 are in 12 to 17 and in 11 to 14.
    assert found.categories == (3, 4)
    assert why(found) == ["target_pattern_gauge"]


def test_the_designers_yarn_goes_before_the_patterns_gauge() -> None:
    yarn = DesignerYarn(
        put_up=PutUp(50, 125),
        gauge=a_band_gauge(24),
        fibres=a_blend("cotton 100"),
        wraps_per_inch=12.7,
    )
    found = target(stitches=20, designer_yarn=yarn)
    assert found.from_designer_yarn
    assert found.natural_stitches is not None
    assert (found.natural_stitches.value, found.natural_stitches.basis) == (24, Basis.LABEL)
    assert found.metres_per_100g is not None
    assert found.metres_per_100g.value == pytest.approx(250)
    assert found.thickness_mm is not None
    assert found.thickness_mm.value == pytest.approx(2)
    assert found.density is not None
    assert why(found) == ["target_designer"]


def test_a_designers_yarn_known_only_by_length_leaves_the_gauge_to_the_pattern() -> None:
    yarn = DesignerYarn(put_up=PutUp(50, 125))
    found = target(stitches=20, designer_yarn=yarn)
    assert ends(found) == (18.6, 20, 21.4)
    assert why(found) == ["target_designer", "target_gauge_beside_designer"]
    lace = target(gauge=LACE, designer_yarn=yarn)
    assert lace.natural_stitches is not None
    assert lace.natural_stitches.basis is Basis.ESTIMATE
    assert why(lace) == ["target_designer"]
    crocheted = target(craft=Craft.CROCHET, gauge=SC, designer_yarn=yarn)
    assert crocheted.natural_stitches is None
    assert why(crocheted) == ["target_designer"]


def test_strands_of_the_designers_yarn_are_one_thicker_yarn() -> None:
    yarn = DesignerYarn(put_up=PutUp(50, 200), gauge=a_band_gauge(28), wraps_per_inch=16, strands=2)
    found = target(gauge=LACE, designer_yarn=yarn)
    assert found.natural_stitches is not None
    assert found.natural_stitches.value == pytest.approx(28 / 2**0.5)
    assert found.metres_per_100g is not None
    assert found.metres_per_100g.value == pytest.approx(200)
    assert found.thickness_mm is None
    # 28 a stitch either way (4.5 %), in two strands 0.67 to 0.73 of it: 17.9 to 21.4 stitches,
    # which are categories 3 (21 to 24) and 4 (16 to 20).
    assert found.categories == (3, 4)
    assert why(found) == ["target_designer", "target_strands"]
    assert found.why[1].values == {"count": 2}
    # How strands work up is an estimate, so that a plain gauge of the pattern goes before it.
    plain = target(stitches=20, designer_yarn=yarn)
    assert ends(plain) == (18.6, 20, 21.4)
    assert why(plain) == ["target_designer", "target_strands", "target_gauge_beside_designer"]


def test_strands_without_a_gauge_have_no_category() -> None:
    yarn = DesignerYarn(put_up=PutUp(50, 1000), strands=2)
    found = target(stitches=None, designer_yarn=yarn)
    assert (found.natural_stitches, found.categories) == (None, ())


def test_a_designers_yarn_that_says_too_little_only_adds_its_density() -> None:
    found = target(stitches=20, designer_yarn=DesignerYarn(fibres=a_blend("cotton 100")))
    assert not found.from_designer_yarn
    assert ends(found) == (18.6, 20, 21.4)
    assert found.density is not None
    # Morton and Hearle, Table 5.1: cotton 1.52 g/cm3.
    assert found.density.value == pytest.approx(1.52)
    assert why(found) == ["target_pattern_gauge"]


def test_a_gauge_tells_only_in_a_fabric_of_the_craft_that_tells() -> None:
    assert gauge_tells(PatternGauge(20), Craft.KNIT)
    assert gauge_tells(SC, Craft.CROCHET)
    assert not gauge_tells(PatternGauge(20), Craft.CROCHET)
    assert not gauge_tells(SC, Craft.KNIT)
    assert not gauge_tells(LACE, Craft.KNIT)
    assert not gauge_tells(None, Craft.KNIT)


def test_categories_of_one_strand_are_those_of_all_its_evidence() -> None:
    # 23.5 stitches, good to 4.5 %, are of 2 and 3; with 230 m per 100 g only of 3.
    yarn = DesignerYarn(put_up=PutUp(50, 115), gauge=a_band_gauge(23.5))
    assert target(designer_yarn=yarn).categories == (3,)
