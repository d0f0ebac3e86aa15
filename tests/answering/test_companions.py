"""Strands taken as one yarn, and the yarns of a shelf that may be held along."""

import pytest

from shopdesk.answering.judging.companions import (
    Companions,
    held_alone,
    held_with,
    is_companion,
    length_figure,
    share_of_gauge,
)
from shopdesk.answering.profile.summary import YarnSummary
from shopdesk.craft.figures import Basis
from tests.answering.summaries import a_figure, a_summary


def skus(yarns: list[YarnSummary]) -> list[str]:
    return [yarn.sku for yarn in yarns]


def test_one_strand_is_the_yarn_itself() -> None:
    yarn = a_summary(stitches=22, metres=200, density=1.25)
    held = held_alone(yarn)
    assert (held.strands, held.total_strands, held.companion) == (1, 1, None)
    assert (held.tex, held.stitches, held.density) == (yarn.tex, yarn.natural_stitches, 1.25)
    # 200 m per 100 g are 500 tex; 500 / 1.25 = 400.
    assert held.volume_tex == pytest.approx(400)


def test_tex_of_equal_strands_add_up_and_density_stays() -> None:
    tex = a_figure(250, 240, 270, Basis.SHOP)
    held = held_alone(a_summary(stitches=a_figure(28, 27, 30), metres=tex, density=1.3), 2)
    assert (held.strands, held.total_strands, held.companion) == (2, 2, None)
    assert held.tex == a_figure(500, 480, 540, Basis.SHOP)
    assert held.density == 1.3
    assert held.stitches is not None
    # Two equal strands have 0.707 of the gauge of one, 0.67 to 0.73 in practice.
    assert held.stitches.value == pytest.approx(28 / 2**0.5)
    assert (held.stitches.low, held.stitches.high) == pytest.approx((27 * 0.67, 30 * 0.73))


def test_a_companion_adds_its_tex_its_volume_and_a_strand() -> None:
    yarn = a_summary("A", 20, a_figure(300, 290, 310, Basis.SHOP), 1.5)
    lace = a_summary("B", 40, a_figure(100, 90, 120, Basis.LABEL), 1.0)
    held = held_with(yarn, lace)
    assert (held.strands, held.total_strands, held.companion) == (1, 2, lace)
    # The weaker of shop and label is the label.
    assert held.tex == a_figure(400, 380, 430, Basis.LABEL)
    # 300 of 1.5 are 200, 100 of 1.0 are 100: 400 of mass in 300 of volume.
    assert held.density == pytest.approx(400 / 300)
    assert held.volume_tex == pytest.approx(300)
    # One over the squares adds up: 1/400 + 1/1600 = 5/1600.
    assert held.stitches is not None
    assert held.stitches.value == pytest.approx(320**0.5)


def test_what_one_strand_does_not_tell_is_not_known_of_both() -> None:
    yarn, bare = a_summary("A", 20, 200, 1.3), a_summary("B")
    for held in (held_with(yarn, bare), held_with(bare, yarn), held_alone(bare, 2)):
        assert (held.tex, held.stitches, held.density) == (None, None, None)
        assert (held.metres_per_100g, held.volume_tex) == (None, None)
    no_density = held_with(yarn, a_summary("C", 40, 800))
    assert no_density.tex is not None
    assert (no_density.density, no_density.volume_tex) == (None, None)


def test_length_per_100_g_turns_the_ends_round() -> None:
    # 500 tex are 200 m per 100 g; 400 tex 250 m, 625 tex 160 m.
    assert length_figure(a_figure(500, 400, 625)) == a_figure(200, 160, 250)
    assert length_figure(None) is None
    assert held_alone(a_summary(metres=200)).metres_per_100g == a_figure(200)


def test_equal_strands_share_the_gauge_by_the_root_of_their_number() -> None:
    assert share_of_gauge(1) == 1
    assert [share_of_gauge(n) for n in (2, 3, 4)] == pytest.approx([0.7071, 0.5774, 0.5], abs=1e-4)


@pytest.mark.parametrize(
    ("metres", "fine"), [(499, False), (500, True), (800, True), (None, False)]
)
def test_a_companion_has_500_m_in_100_g_or_more(metres: float | None, fine: bool) -> None:
    assert is_companion(a_summary(metres=metres)) is fine


def test_companions_are_the_fine_yarns_of_the_shelf_from_end_to_end() -> None:
    shelf = [
        a_summary("thick", 20, 200),
        a_summary("finest", 40, 1000),
        a_summary("fine", 33, 500),
        a_summary("no gauge", None, 2000),
    ]
    found = Companions(shelf)
    assert found.gauges == (33, 40)
    # 2000 m are 50 tex, 500 m are 200 tex.
    assert found.texes == (50, 200)
    assert (Companions().gauges, Companions().texes) == (None, None)


def test_companions_by_tex_bring_a_yarn_into_the_window_with_its_ends() -> None:
    shelf = [a_summary(f"{tex:g}", 30, a_figure(tex)) for tex in (40, 100, 150, 200)]
    # From 400 tex to 500 to 550: 100 to 150 tex more.
    assert skus(Companions(shelf).to_tex(400, (500, 550))) == ["100", "150"]
    assert skus(Companions(shelf).to_tex(400, (501, 549))) == []
    # The middle of 300 to 700 wants 100 tex more: 40 is 60 away, 150 is 50 and 200 is 100.
    assert skus(Companions(shelf).to_tex(400, (300, 700))) == ["100", "150", "40", "200"]


def test_companions_by_gauge_bring_a_yarn_into_the_window_with_its_ends() -> None:
    # Beside 25 stitches, s brings 1/root(1/625 + 1/s^2): 60 gives 23.08, 37.5 gives 20.80,
    # 33.33 gives 20.00, 30 gives 19.21.
    shelf = [a_summary(f"{s:.0f}", s, 800) for s in (30, 100 / 3, 37.5, 60)]
    found = Companions(shelf)
    assert skus(found.to_gauge(25, (19.99, 20.81))) == ["33", "38"]
    assert skus(found.to_gauge(25, (20.01, 20.79))) == []
    # To the middle, 21.15, it would take 1/root(1/447 - 1/625), 39.7.
    assert skus(found.to_gauge(25, (19.2, 23.1))) == ["38", "33", "30", "60"]
    # Nothing makes a strand finer: up to there all that are fine enough, from there none.
    assert skus(found.to_gauge(25, (20.5, 26))) == ["60", "38"]
    assert skus(found.to_gauge(25, (19.2, 32))) == ["60", "38", "33", "30"]
    assert found.to_gauge(25, (25.5, 26)) == []
