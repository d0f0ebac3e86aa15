"""The fabric at the pattern's gauge, by Munden's law and the definition of tex."""

from dataclasses import replace
from decimal import Decimal
from typing import Any

import pytest

from shopdesk.answering.judging.companions import StrandCombination
from shopdesk.answering.model.answer import Fabric, Need, Profile, Target
from shopdesk.answering.model.ask import Ask, PatternGauge, StitchPattern
from shopdesk.answering.profile.profile import shelf_profile
from shopdesk.answering.supply.fabric_view import fabric_of
from shopdesk.craft.figures import Basis, Figure
from shopdesk.craft.messages import message
from shopdesk.craft.yarn import Craft
from tests.answering.summaries import a_figure, a_summary, a_target, on_the_needles
from tests.factories import a_label, a_wraps, a_yarn, an_ask

PROFILE: Profile = shelf_profile(a_yarn())
ASK = an_ask(22, 30)
# Munden (1959): ks 21.6 over 22 x 30 loops in 100 cm2, 6.6 in 1 cm2: root of 21.6/6.6 = 1.809 cm.
LOOP_CM = 1.80907
HELD = StrandCombination(1, None, a_figure(400, 360, 440), a_figure(22), 1.25)


def a_need(metres: Figure | None) -> Need:
    return Need("main", metres, 0.0, Decimal(10), 0.0, None, ())


def view(
    ask: Ask = ASK,
    target: Target | None = None,
    held: StrandCombination = HELD,
    *metres: Figure | None,
    profile: Profile = PROFILE,
) -> Fabric:
    needs = tuple(a_need(each) for each in metres)
    return fabric_of(ask, target or a_target(), profile, held, needs)


def ends(figure: Figure | None) -> Any:
    assert figure is not None
    return pytest.approx((figure.low, figure.value, figure.high), rel=1e-4)


def test_loop_mass_and_firmness_of_plain_knitting() -> None:
    found = view()
    assert found.loop_mm == pytest.approx(LOOP_CM * 10, rel=1e-4)
    # 66000 loops in 1 m2 of 18.0907 mm are 1193.99 m; of 400 tex 477.6 g.
    assert ends(found.grams_per_m2) == (0.36 * 1193.99, 0.4 * 1193.99, 0.44 * 1193.99)
    # The root of 400 / 1.25 is 17.889, of 288 and 352 16.971 and 18.762; over the loop in cm.
    assert ends(found.firmness) == (16.9706 / LOOP_CM, 17.8885 / LOOP_CM, 18.7617 / LOOP_CM)
    assert found.firmness is not None
    assert found.firmness.basis is Basis.LABEL
    assert found.words == ()


def test_rows_that_are_not_stated_are_guessed() -> None:
    # 1.35 rows for each stitch: 22 x 29.7.
    found = view(an_ask(22, None))
    assert found.loop_mm == pytest.approx(10 * (21.6 / (0.22 * 29.7)) ** 0.5)
    assert found.grams_per_m2 is not None


@pytest.mark.parametrize(
    "ask",
    [
        an_ask(None),
        an_ask(gauge=PatternGauge(22, 30, StitchPattern.GARTER)),
        an_ask(craft=Craft.CROCHET, gauge=PatternGauge(14, 16, StitchPattern.SINGLE_CROCHET)),
        an_ask(22, craft=Craft.CROCHET),
    ],
)
def test_no_other_fabric_has_a_loop(ask: Ask) -> None:
    found = view(ask, a_target(22, 250, density=1.25))
    assert (found.loop_mm, found.grams_per_m2, found.firmness) == (None, None, None)
    assert found.reference_firmness is None
    assert found.words == (message("fabric.no_plain_model"),)


def test_a_yarn_of_unknown_tex_or_density_has_no_firmness() -> None:
    no_tex, no_density = replace(HELD, tex=None), replace(HELD, density=None)
    assert (view(held=no_tex).firmness, view(held=no_tex).grams_per_m2) == (None, None)
    assert view(held=no_density).firmness is None
    assert view(held=no_density).grams_per_m2 is not None


def test_the_reference_is_the_originals_fabric() -> None:
    # 250 m per 100 g, 200 to 312.5, are 400 tex, 320 to 500; of 1.6 g/cm3.
    target = replace(a_target(density=1.6), metres_per_100g=a_figure(250, 200, 312.5))
    found = view(target=target)
    assert ends(found.reference_firmness) == tuple(
        (tex / 1.6) ** 0.5 / LOOP_CM for tex in (320, 400, 500)
    )


@pytest.mark.parametrize("target", [a_target(metres=250), a_target(density=1.6), a_target()])
def test_without_the_original_the_yarn_at_its_own_gauge_is_the_reference(target: Target) -> None:
    held = replace(HELD, stitches=a_figure(20))
    # 20 x 27 by the guess at rows: root of 21.6/5.4 = 2 cm.
    found = view(target=target, held=held).reference_firmness
    assert found is not None
    assert found.value == pytest.approx(17.8885 / 2, rel=1e-4)
    assert view(target=target, held=replace(HELD, stitches=None)).reference_firmness is None


def test_the_items_mass_is_that_of_the_length_of_all_parts() -> None:
    parts = (a_figure(1000, 900, 1100, Basis.PATTERN), a_figure(500, 450, 520, Basis.PATTERN))
    target = replace(a_target(), metres_per_100g=a_figure(250, 200, 312.5))
    found = view(ASK, target, HELD, *parts)
    # 1500 m, 1350 to 1620, of 400 g per km, 360 to 440; the original of 320 to 500.
    assert ends(found.item_grams) == (1350 * 0.36, 600, 1620 * 0.44)
    assert ends(found.original_item_grams) == (1350 * 0.32, 600, 1620 * 0.5)
    assert found.item_grams is not None
    assert found.item_grams.basis is Basis.PATTERN
    assert found.words == (message("fabric.same_mass"),)


def test_the_weaker_basis_is_that_of_the_mass() -> None:
    shop, guess = (
        replace(HELD, tex=a_figure(400, basis=Basis.SHOP)),
        a_figure(1000, basis=Basis.ESTIMATE),
    )
    estimated = view(ASK, None, shop, guess).item_grams
    assert estimated is not None
    assert estimated.basis is Basis.ESTIMATE
    by_label = view(ASK, None, HELD, a_figure(1000, basis=Basis.SHOP)).item_grams
    assert by_label is not None
    assert by_label.basis is Basis.LABEL


def test_a_part_of_unknown_need_leaves_the_items_mass_open() -> None:
    target = a_target(metres=250)
    for parts in ((), (None,), (a_figure(1000), None)):
        found = view(ASK, target, HELD, *parts)
        assert (found.item_grams, found.original_item_grams) == (None, None)
        assert found.words == ()
    assert view(ASK, target, replace(HELD, tex=None), a_figure(1000)).item_grams is None
    assert view(ASK, a_target(), HELD, a_figure(1000)).original_item_grams is None


@pytest.mark.parametrize(
    ("tex", "said"),
    [
        # 1000 m; the original is of 400 tex, 400 g: what is less than 10 g off is the same.
        (409.9, message("fabric.same_mass")),
        (390.1, message("fabric.same_mass")),
        (411, message("fabric.heavier", off_g=pytest.approx(11))),
        (389, message("fabric.lighter", off_g=pytest.approx(11))),
    ],
)
def test_a_heavier_or_lighter_item_is_said_from_10_g(tex: float, said: Any) -> None:
    found = view(ASK, a_target(metres=250), replace(HELD, tex=a_figure(tex)), a_figure(1000))
    assert [(one.code, dict(one.values)) for one in found.words] == [(said.code, dict(said.values))]


def test_from_10_g_on_an_item_is_heavier() -> None:
    found = view(ASK, a_target(metres=250), replace(HELD, tex=a_figure(410)), a_figure(1000))
    assert found.words == (message("fabric.heavier", off_g=10.0),)
    lighter = view(ASK, a_target(metres=250), replace(HELD, tex=a_figure(390)), a_figure(1000))
    assert lighter.words == (message("fabric.lighter", off_g=10.0),)


def test_thickness_grows_with_the_root_of_the_strands() -> None:
    # 12.7 wraps in 25.4 mm are 2 mm.
    wrapped = shelf_profile(a_yarn(label=a_label(), measurements=(a_wraps(12.7),)))
    assert view(profile=wrapped).thickness_mm == pytest.approx(2)
    four = on_the_needles(22, strands=4)
    assert view(held=four, profile=wrapped).thickness_mm == pytest.approx(4)
    beside = replace(HELD, companion=a_summary("LACE", 36, 800))
    assert view(held=beside, profile=wrapped).thickness_mm is None
    bare = shelf_profile(a_yarn(label=a_label(metres_per_100g=None)))
    assert view(profile=bare).thickness_mm is None
    assert view(target=a_target(thickness_mm=2.5)).original_thickness_mm == 2.5
    assert view().original_thickness_mm is None
