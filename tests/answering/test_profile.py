"""A yarn's profile: shop over label, intervals, categories, and evidence that disagrees."""

import pytest

from shopdesk.answering.model.answer import Profile
from shopdesk.answering.profile.profile import shelf_profile
from shopdesk.craft.figures import Basis
from shopdesk.craft.yarn import YarnCount
from tests.factories import (
    a_band_gauge,
    a_label,
    a_swatch,
    a_weighing,
    a_wraps,
    a_yarn,
)

YARD = 0.9144
INCH_TO_10_CM = 10 / 2.54


def profile_of(yards: float, wraps: float, per_inch: float, fibres: str) -> Profile:
    gauge = a_band_gauge(per_inch * INCH_TO_10_CM, mm=3.75)
    label = a_label("DK", yards * YARD, grams=100, fibres=fibres, gauge=gauge)
    return shelf_profile(a_yarn(label=label, measurements=(a_wraps(wraps),)))


# Four yarns sold as DK and knitted on 3.75 mm: common practice, no source.
@pytest.mark.parametrize(
    ("yards", "wraps", "per_inch", "fibres", "questioned"),
    [
        (246, 11, 5.5, "wool 100", False),
        (252, 14, 5.25, "cotton 60, linen 40", True),
        (219, 14, 5.0, "viscose 100", True),
        (274, 12, 5.5, "wool 70, silk 30", False),
    ],
)
def test_wraps_question_a_name(
    yards: float, wraps: float, per_inch: float, fibres: str, questioned: bool
) -> None:
    profile = profile_of(yards, wraps, per_inch, fibres)
    codes = {said.code for said in profile.disagreements}
    assert ("profile.name_against_wraps" in codes) is questioned
    assert 3 in profile.categories


def test_wraps_within_a_readings_doubt_question_nothing() -> None:
    """Worsted is usually 9 wraps (common practice); 10 is within the doubt of one reading."""
    label = a_label("worsted", 200, gauge=a_band_gauge(18))
    profile = shelf_profile(a_yarn(label=label, measurements=(a_wraps(10),)))
    assert "profile.name_against_wraps" not in {said.code for said in profile.disagreements}


def test_a_weighed_length_outranks_the_band() -> None:
    band = shelf_profile(a_yarn(label=a_label(metres_per_100g=225)))
    weighed = shelf_profile(
        a_yarn(label=a_label(metres_per_100g=225), measurements=(a_weighing(10, 5.0),))
    )
    assert band.tex is not None
    assert weighed.tex is not None
    assert (band.tex.basis, weighed.tex.basis) == (Basis.LABEL, Basis.SHOP)
    assert weighed.tex.value == pytest.approx(500)


def test_a_swatch_of_the_shop_outranks_the_band() -> None:
    label = a_label(gauge=a_band_gauge(22))
    profile = shelf_profile(a_yarn(label=label, measurements=(a_swatch(20.5),)))
    assert profile.natural_stitches is not None
    assert profile.natural_stitches.basis is Basis.SHOP
    assert 20.3 < profile.natural_stitches.value < 22


def test_without_a_band_gauge_length_gives_an_estimate_within_its_range() -> None:
    profile = shelf_profile(a_yarn(label=a_label(None, metres_per_100g=225)))
    assert profile.natural_stitches is not None
    assert profile.natural_stitches.basis is Basis.ESTIMATE
    assert profile.natural_stitches.low < 21 < profile.natural_stitches.high


def test_outside_the_models_range_gauge_stays_unknown() -> None:
    profile = shelf_profile(a_yarn(label=a_label(None, metres_per_100g=900)))
    assert profile.natural_stitches is None


def test_nothing_known_gives_nothing() -> None:
    profile = shelf_profile(a_yarn(label=a_label(None, None, fibres="")))
    assert profile.tex is None
    assert profile.natural_stitches is None
    assert profile.thickness_mm is None
    assert profile.density is None
    assert profile.categories == ()


def test_a_cone_has_its_length_from_its_count() -> None:
    label = a_label(None, None, count=YarnCount("2/28", "Nm"))
    profile = shelf_profile(a_yarn(label=label))
    assert profile.metres_per_100g is not None
    # Metric count: 28 / 2 = 14 m per g (definition of Nm, ISO 1144).
    assert profile.metres_per_100g.value == pytest.approx(1400)


def test_categories_are_all_that_gauge_and_length_allow() -> None:
    label = a_label("DK", 225, gauge=a_band_gauge(21, to=24))
    # Standard Yarn Weight System: 21-24 stitches is category 3, 23-26 category 2.
    assert 3 in shelf_profile(a_yarn(label=label)).categories


def test_a_name_that_gauge_denies_is_questioned() -> None:
    label = a_label("bulky", 225, gauge=a_band_gauge(22))
    codes = {said.code for said in shelf_profile(a_yarn(label=label)).disagreements}
    assert {"profile.name_against_gauge", "profile.name_against_length"} <= codes
