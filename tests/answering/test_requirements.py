"""What a substitute is measured against."""

from math import log
from typing import Any

import pytest

from shopdesk.answering.judging.requirements import gauge_tells, target_of
from shopdesk.answering.model.answer import Target
from shopdesk.answering.model.ask import (
    DesignerYarn,
    ItemKind,
    PatternGauge,
    PatternTool,
    StitchPattern,
)
from shopdesk.craft.figures import Basis, Figure
from shopdesk.craft.yarn import Construction, Craft, PutUp
from tests.factories import a_band_gauge, a_blend, an_ask

SC = PatternGauge(14, 16, StitchPattern.SINGLE_CROCHET)
LACE = PatternGauge(20, 28, StitchPattern.LACE)


def target(**facts: Any) -> Target:
    return target_of(an_ask(**facts))


def why(found: Target) -> list[str]:
    return [said.code.removeprefix("judging.") for said in found.why]


def three(figure: Figure | None) -> Any:
    assert figure is not None
    return pytest.approx((figure.low, figure.value, figure.high))


def ends(found: Target) -> Any:
    return three(found.natural_stitches)


def pull(value: float, low: float, centre: float, high: float) -> float:
    """Returns how strongly a piece of evidence draws a value to itself, up or down.

    That is the slope of the log of Student's t with 4 degrees of freedom on the log scale, whose
    5th and 95th percentile, 1.6449 scales off, the ends are taken for.
    """
    scale = log(high / low) / 2 / 1.6449
    off = log(centre / value) / scale
    return 5 * off / (4 + off**2) / scale


# A sweater's fabric is 0.95 to 1.05 as tight as the yarn's usual one, less than the 7 %.
def test_the_patterns_gauge_is_known_to_7_percent() -> None:
    plain = target(stitches=20)
    assert ends(plain) == (18.6, 20, 21.4)
    # Standard Yarn Weight System: 16 to 20 stitches are category 4.
    assert plain.categories == (4,)
    assert why(plain) == ["target_pattern_gauge"]


def test_openwork_is_looser_than_its_yarns_usual_fabric_and_known_to_30_percent() -> None:
    lace = target(gauge=LACE)
    # Lace is 0.72 as tight as the yarn's usual fabric.
    usual = 20 / 0.72
    assert ends(lace) == (usual * 0.7, usual, usual * 1.3)
    # Openwork tells of no category.
    assert lace.categories == ()
    assert why(lace) == ["target_openwork"]


@pytest.mark.parametrize("facts", [{"stitches": 20}, {"gauge": LACE}])
def test_a_target_of_the_gauge_alone_rests_on_the_pattern(facts: Any) -> None:
    found = target(**facts)
    assert found.natural_stitches is not None
    assert found.natural_stitches.basis is Basis.PATTERN
    assert not found.from_designer_yarn
    assert (found.metres_per_100g, found.thickness_mm, found.density) == (None, None, None)
    assert (found.fabric_stitches, found.usual_metres) == (None, None)


@pytest.mark.parametrize(
    ("item", "usual"),
    [
        # Socks are 1.0 to 1.25, mostly 1.08 as tight as the usual fabric; a shawl 0.75 to 1.0,
        # mostly 0.88; 7 % about the middle are less than that, but for the coarse end of neither.
        (ItemKind.SOCKS, (28 / 1.25, 28 / 1.08, 28)),
        (ItemKind.SHAWL, (28, 28 / 0.88, 28 / 0.75)),
        (ItemKind.PULLOVER, (28 * 0.93, 28, 28 * 1.07)),
    ],
)
def test_a_tight_item_wants_a_thicker_yarn_and_a_loose_one_a_finer(
    item: ItemKind, usual: Any
) -> None:
    assert ends(target(stitches=28, item=item)) == usual


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


def test_a_designers_yarn_known_only_by_length_shares_the_gauge_with_the_pattern() -> None:
    # 250 m per 100 g are 1.4 x root(250) stitches, 22.1, 10 % either way and of any density from
    # 1.19 to 1.52 where wool's is 1.31; the pattern's are 20, 7 % either way.
    yarn = DesignerYarn(put_up=PutUp(50, 125))
    length = 1.4 * 250**0.5
    by_length = (0.9 * length * (1.19 / 1.31) ** 0.5, length, 1.1 * length * (1.52 / 1.31) ** 0.5)
    found = target(stitches=20, designer_yarn=yarn)
    natural = found.natural_stitches
    assert natural is not None
    assert 20 < natural.value < length
    # Both draw as strongly, so that the surer one, the pattern's, is nearer.
    pulls = pull(natural.value, *by_length), pull(natural.value, 18.6, 20, 21.4)
    assert sum(pulls) == pytest.approx(0, abs=1e-3)
    assert pulls[0] > 1
    assert natural.value - 20 < (length - 20) / 3
    assert natural.basis is Basis.ESTIMATE
    assert why(found) == ["target_designer", "target_gauge_beside_designer"]


def test_beside_a_length_openwork_says_less_of_the_gauge() -> None:
    yarn = DesignerYarn(put_up=PutUp(50, 125))
    length, usual = 1.4 * 250**0.5, 20 / 0.72
    lace = target(gauge=LACE, designer_yarn=yarn).natural_stitches
    assert lace is not None
    assert lace.basis is Basis.ESTIMATE
    # The length is surer than lace, 30 % either way.
    assert length < lace.value < (length + usual) / 2
    assert why(target(gauge=LACE, designer_yarn=yarn)) == [
        "target_designer",
        "target_gauge_beside_designer",
    ]


def test_beside_a_length_a_crocheted_gauge_says_nothing() -> None:
    yarn = DesignerYarn(put_up=PutUp(50, 125))
    crocheted = target(craft=Craft.CROCHET, gauge=SC, designer_yarn=yarn)
    assert crocheted.natural_stitches is None
    assert why(crocheted) == ["target_designer"]


def test_without_a_gauge_of_the_pattern_length_alone_tells() -> None:
    found = target(stitches=None, designer_yarn=DesignerYarn(put_up=PutUp(50, 125)))
    assert found.natural_stitches is not None
    assert found.natural_stitches.value == pytest.approx(1.4 * 250**0.5)
    assert found.natural_stitches.basis is Basis.ESTIMATE
    assert why(found) == ["target_designer"]


def test_a_gauge_of_the_pattern_alone_stands_in_where_the_yarns_is_beyond_knowing() -> None:
    # 800 m per 100 g are beyond the fit, and no name says anything.
    found = target(stitches=20, designer_yarn=DesignerYarn(put_up=PutUp(50, 400)))
    assert ends(found) == (18.6, 20, 21.4)
    assert found.natural_stitches is not None
    assert found.natural_stitches.basis is Basis.PATTERN
    assert why(found) == ["target_designer", "target_gauge_beside_designer"]


def test_strands_of_the_designers_yarn_are_one_thicker_yarn() -> None:
    yarn = DesignerYarn(put_up=PutUp(50, 200), gauge=a_band_gauge(28), wraps_per_inch=16, strands=2)
    found = target(stitches=None, designer_yarn=yarn)
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


@pytest.mark.parametrize(
    ("gauge", "fabric"),
    [
        (PatternGauge(20), (18.6, 20, 21.4)),
        (LACE, (20 / 0.72 * 0.7, 20 / 0.72, 20 / 0.72 * 1.3)),
    ],
)
def test_how_strands_work_up_is_an_estimate_that_the_patterns_gauge_goes_beside(
    gauge: PatternGauge, fabric: tuple[float, float, float]
) -> None:
    yarn = DesignerYarn(put_up=PutUp(50, 200), gauge=a_band_gauge(28), strands=2)
    # 28, 4.5 % either way, in two strands 0.67 to 0.73 of it.
    strands = (28 * 0.955 * 0.67, 28 / 2**0.5, 28 * 1.045 * 0.73)
    found = target(gauge=gauge, designer_yarn=yarn)
    natural = found.natural_stitches
    assert natural is not None
    assert strands[1] < natural.value < fabric[1]
    pulls = pull(natural.value, *strands), pull(natural.value, *fabric)
    assert sum(pulls) == pytest.approx(0, abs=1e-3)
    assert natural.basis is Basis.ESTIMATE
    assert why(found) == ["target_designer", "target_strands", "target_gauge_beside_designer"]


@pytest.mark.parametrize(
    ("facts", "usual"),
    [
        # Socks are 1.0 to 1.25, mostly 1.08 as tight as the usual fabric of their yarn.
        ({"stitches": 30, "item": ItemKind.SOCKS}, (24, 30 / 1.08, 30)),
        ({"stitches": 20}, (20 / 1.05, 20, 20 / 0.95)),
        ({"gauge": LACE}, None),
        ({"gauge": PatternGauge(26, 30, StitchPattern.RIB)}, None),
        ({"gauge": SC, "craft": Craft.CROCHET}, None),
        ({"stitches": None}, None),
    ],
)
def test_the_usual_yarns_of_the_patterns_fabric(facts: Any, usual: Any) -> None:
    # A band's gauge goes before the pattern's, which still tells the fabric, if it tells at all.
    yarn = DesignerYarn(put_up=PutUp(50, 200), gauge=a_band_gauge(28))
    found = target(designer_yarn=yarn, **facts)
    assert usual is None or three(found.fabric_stitches) == usual
    assert (found.fabric_stitches is None) == (usual is None)


@pytest.mark.parametrize(
    ("names", "metres"),
    [
        # Usual are 200 to 260 m per 100 g of DK and 130 to 220 of worsted; the middle is that of
        # shares, 228.0 and 169.1. Lace has no longest.
        (("DK",), (200 * 260) ** 0.5),
        (("DK", "worsted"), ((200 * 260) ** 0.5 + (130 * 220) ** 0.5) / 2),
        (("lace",), None),
    ],
)
def test_a_weight_name_lets_a_length_expect_where_none_is_stated(
    names: tuple[str, ...], metres: float | None
) -> None:
    found = target(designer_yarn=DesignerYarn(weight_names=names))
    assert found.metres_per_100g is None
    assert found.usual_metres == pytest.approx(metres)
    stated = target(designer_yarn=DesignerYarn(weight_names=names, put_up=PutUp(50, 110)))
    assert stated.usual_metres is None


@pytest.mark.parametrize(
    ("name", "craft", "mm", "categories"),
    [
        # 4-ply is fingering, 1, on needles of 2.25 to 3.25 mm and hooks of 2.25 to 3.5 mm, and of
        # old American patterns worsted, 4, on 4.5 to 5.5 mm and 5.5 to 6.5 mm.
        ("4-ply", Craft.KNIT, 3.0, (1,)),
        ("4-ply", Craft.KNIT, 5.0, (4,)),
        ("4-ply", Craft.CROCHET, 3.0, (1,)),
        ("4-ply", Craft.CROCHET, 6.0, (4,)),
        # Nearer is what counts: 3.75 mm are half a mm beyond the one, 0.75 before the other.
        ("4-ply", Craft.KNIT, 3.75, (1,)),
        ("4-ply", Craft.KNIT, None, (1, 4)),
        # What is one category or two beside each other is no other meaning.
        ("6-fach", Craft.KNIT, 3.5, (2, 3)),
    ],
)
def test_a_name_of_two_meanings_has_the_one_that_suits_the_tool(
    name: str, craft: Craft, mm: float | None, categories: tuple[int, ...]
) -> None:
    tool = None if mm is None else PatternTool(mm, f"{mm} mm")
    found = target(designer_yarn=DesignerYarn(weight_names=(name,)), craft=craft, tool=tool)
    assert found.categories == categories


def test_a_yarn_that_holds_air_tells_no_density_of_its_fabric() -> None:
    for construction, known in ((Construction.PLIED, True), (Construction.CHAINETTE, False)):
        yarn = DesignerYarn(
            put_up=PutUp(50, 125), fibres=a_blend("wool 100"), construction=construction
        )
        assert (target(designer_yarn=yarn).density is not None) == known


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


@pytest.mark.parametrize(
    ("stitches", "said"),
    # DK by its band, 22 (21 to 23). A pullover is worked within a twentieth of that, and a third
    # beyond it is met at most: 90 or 6 stitches are mistyped, 26 and 17 are not.
    [(90, True), (6, True), (26, False), (17, False), (22, False)],
)
def test_a_gauge_that_its_yarn_is_never_knitted_at_is_told(stitches: float, said: bool) -> None:
    yarn = DesignerYarn(weight_names=("DK",), gauge=a_band_gauge(22))
    why = {one.code for one in target_of(an_ask(stitches, designer_yarn=yarn)).why}
    assert ("judging.gauge_unlike_yarn" in why) is said
