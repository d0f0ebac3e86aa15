"""Yarns that hold air. Common practice, no source, unless named."""

import pytest

from shopdesk.craft.airy import air_of
from shopdesk.craft.figures import Basis
from shopdesk.craft.yarn import Construction

HOLD_AIR = {
    Construction.CHAINETTE,
    Construction.BRUSHED,
    Construction.BOUCLE,
    Construction.CHENILLE,
    Construction.EYELASH,
    Construction.ROVING,
}


@pytest.mark.parametrize("construction", Construction)
def test_what_is_blown_brushed_looped_or_hardly_twisted_holds_air(
    construction: Construction,
) -> None:
    assert (air_of(construction) is not None) == (construction in HOLD_AIR)


def test_a_construction_that_is_not_stated_is_taken_for_plied() -> None:
    assert air_of(None) is None


@pytest.mark.parametrize("construction", sorted(HOLD_AIR))
def test_what_holds_air_has_more_metres_than_a_plied_yarn_and_nobody_knows_how_many(
    construction: Construction,
) -> None:
    found = air_of(construction)
    assert found is not None
    assert 1 <= found.low < found.value < found.high
    assert found.basis is Basis.ESTIMATE


def test_a_chainette_has_a_tenth_to_a_third_more_metres() -> None:
    # 10 to 30 % more metres per 100 g than a plied yarn of the same gauge: common practice.
    found = air_of(Construction.CHAINETTE)
    assert found is not None
    assert (found.low, found.high) == (1.1, 1.3)


def test_a_brushed_yarn_holds_the_most_air() -> None:
    # The upper end is a lace thread of 800 m per 100 g knitted at the gauge of a DK of 200 m.
    brushed = air_of(Construction.BRUSHED)
    assert brushed is not None
    assert brushed.high == 800 / 200
    others = [air_of(one) for one in HOLD_AIR if one is not Construction.BRUSHED]
    for other in others:
        assert other is not None
        assert other.value < brushed.value
        assert other.high < brushed.high
