"""Every figure of a profile: value, ends and basis, by definitions and the doubts of the house."""

from typing import Any

import pytest

from shopdesk.answering.model.answer import Profile
from shopdesk.answering.model.ask import DesignerYarn
from shopdesk.answering.profile.profile import (
    band_stitches,
    band_tool_mm,
    designer_profile,
    shelf_profile,
)
from shopdesk.answering.thresholds import threshold
from shopdesk.craft.figures import Basis, Figure
from shopdesk.craft.yarn import (
    BandGauge,
    Construction,
    Craft,
    Measurement,
    MeasurementKind,
    PutUp,
    YarnCount,
)
from tests.factories import (
    A_DAY,
    a_band_gauge,
    a_blend,
    a_label,
    a_swatch,
    a_weighing,
    a_wraps,
    a_yarn,
)

SHOP, LABEL, PATTERN, ESTIMATE = Basis


def profile(*measured: Any, **facts: Any) -> Profile:
    return shelf_profile(a_yarn(label=a_label(**facts), measurements=measured))


def told(figure: Figure | None) -> Any:
    assert figure is not None
    return (
        pytest.approx((figure.low, figure.value, figure.high), rel=1e-5),
        figure.basis,
        [note.code.removeprefix("profile.") for note in figure.notes],
    )


def test_length_of_a_put_up_is_known_to_4_percent() -> None:
    # 250 m per 100 g are 400 tex; length goes with one over it.
    found = profile(metres_per_100g=250)
    assert told(found.tex) == ((384, 400, 416), LABEL, ["put_up_nominal"])
    assert told(found.metres_per_100g) == (
        (250 / 1.04, 250, 250 / 0.96),
        LABEL,
        ["put_up_nominal"],
    )


def test_length_of_a_count_is_known_to_3_percent_and_a_put_up_goes_before_it() -> None:
    # Nm 5 is 5 m per g by definition, 200 tex.
    found = profile(metres_per_100g=None, count=YarnCount("5", "Nm"))
    assert told(found.tex) == ((194, 200, 206), LABEL, ["from_count"])
    assert found.tex is not None
    assert found.tex.notes[0].values == {"written": "5", "system": "Nm"}
    both = profile(metres_per_100g=250, count=YarnCount("5", "Nm"))
    assert told(both.tex)[2] == ["put_up_nominal"]


def test_weighed_lengths_are_averaged_and_reach_2_5_percent_beyond_them() -> None:
    # 4.0 and 4.4 g of 10 m are 400 and 440 tex.
    found = profile(a_weighing(10, 4.0), a_weighing(10, 4.4), metres_per_100g=225)
    assert told(found.tex) == ((390, 420, 451), SHOP, ["weighed_length"])


def test_wraps_are_surer_the_more_often_they_are_read() -> None:
    # 15 % of one reading, its half of four.
    assert told(profile(a_wraps(12)).wraps_per_inch) == ((10.2, 12, 13.8), SHOP, [])
    four = profile(*(a_wraps(wraps) for wraps in (11, 12, 12, 13)))
    assert told(four.wraps_per_inch) == ((11.1, 12, 12.9), SHOP, [])
    # An inch of 25.4 mm over the wraps.
    assert told(four.thickness_mm) == ((25.4 / 12.9, 25.4 / 12, 25.4 / 11.1), SHOP, [])


def test_wraps_that_nobody_counted_are_expected_of_the_length() -> None:
    # 0.79 x root(225) = 11.85, 15 % either way, and root of density over wool's 1.31.
    found = profile(metres_per_100g=225, fibres="wool 100")
    assert told(found.wraps_per_inch) == ((10.0725, 11.85, 13.6275), ESTIMATE, [])
    assert found.loft is None
    for facts in ({"metres_per_100g": None}, {"fibres": ""}):
        assert profile(**facts).wraps_per_inch is None
        assert profile(**facts).thickness_mm is None


def test_printed_wraps_of_a_pattern_are_one_reading() -> None:
    found = designer_profile(DesignerYarn(wraps_per_inch=12))
    assert told(found.wraps_per_inch) == ((10.2, 12, 13.8), PATTERN, [])


def test_loft_is_thickness_over_that_of_the_fibre_packed_solid() -> None:
    # 12.7 wraps are 2 mm; 1000 tex of 1 g/cm3 are 1 mm2, 1.128 mm across, and go with the root
    # of tex over density: 400 tex of 1.31 are 0.6236 mm.
    found = profile(a_wraps(12.7), metres_per_100g=250)
    solid = 2 * (1 / 3.14159265) ** 0.5 * (0.4 / 1.31) ** 0.5
    assert told(found.loft) == ((2 / 1.15 / solid, 2 / solid, 2 / 0.85 / solid), SHOP, [])
    assert profile(a_wraps(12.7), metres_per_100g=None).loft is None
    assert profile(a_wraps(12.7), fibres="").loft is None


def test_density_is_that_of_the_blend() -> None:
    # Morton and Hearle: wool 1.31, cotton 1.52 g/cm3; half of each by mass.
    blend = 1 / (0.5 / 1.31 + 0.5 / 1.52)
    assert told(profile(fibres="wool 50, cotton 50").density) == ((blend,) * 3, LABEL, [])
    assert profile(fibres="").density is None


@pytest.mark.parametrize(
    ("gauge", "ends"),
    [
        # One figure is good to 4.5 %; a range is wider than that or as wide.
        (a_band_gauge(20), (19.1, 20, 20.9)),
        (a_band_gauge(18, to=22), (18, 20, 22)),
        (a_band_gauge(19.8, to=20.2), (19.1, 20, 20.9)),
    ],
)
def test_a_bands_gauge(gauge: BandGauge, ends: Any) -> None:
    assert told(band_stitches(gauge)) == (ends, LABEL, [])
    assert told(profile(gauge=gauge).natural_stitches) == (ends, LABEL, [])


def test_a_bands_tool_is_the_middle_of_its_range() -> None:
    assert band_tool_mm(None) is None
    assert band_tool_mm(a_band_gauge(20, mm=None)) is None
    assert band_tool_mm(BandGauge(20, 20, None, 4.0, None)) == 4.0
    assert band_tool_mm(BandGauge(20, 20, None, 4.0, 5.0)) == 4.5


def test_without_a_band_a_gauge_is_expected_of_length() -> None:
    # 1.40 x root(225) = 21, 10 % either way, of wool.
    found = profile(weight_name=None, metres_per_100g=225)
    assert told(found.natural_stitches) == (
        (18.9, 21, 23.1),
        ESTIMATE,
        ["amount.gauge_from_length"],
    )


def test_without_a_band_length_and_name_share_the_gauge() -> None:
    found = profile(weight_name="bulky", metres_per_100g=225).natural_stitches
    assert found is not None
    # By length 21, 18.9 to 23.1; by name, Standard Yarn Weight System, 12 to 15: the name is as
    # unsure as the length, so that they meet between, wider than each.
    assert 13.5 < found.value < 21
    assert found.high / found.low > 23.1 / 18.9
    assert found.basis is ESTIMATE
    assert [note.code for note in found.notes] == [
        "amount.gauge_from_length",
        "profile.gauge_from_name",
    ]


def test_a_length_and_a_name_that_agree_are_surer_together() -> None:
    # DK is 21 to 24, the middle 22.5; 225 m per 100 g are 21, 18.9 to 23.1.
    found = profile(weight_name="DK", metres_per_100g=225).natural_stitches
    assert found is not None
    assert 21 < found.value < 22.5
    # The name is surer: it is nearer.
    assert found.value > 21.75
    assert found.high / found.low < 24 / 21


def test_a_name_alone_gives_its_range() -> None:
    # Standard Yarn Weight System: lace is 33 to 40 stitches; the trade knits it coarser too. 800 m
    # are beyond the fit.
    lace = profile(weight_name="lace", metres_per_100g=800)
    coarsest = threshold("lace_name_from")
    assert coarsest < 33
    assert told(lace.natural_stitches) == (
        (coarsest, (coarsest + 40) / 2, 40),
        ESTIMATE,
        ["gauge_from_name"],
    )
    # Roving is 6, 7 to 11, or 7, up to 6.
    roving = profile(weight_name="roving", metres_per_100g=None)
    assert told(roving.natural_stitches) == ((1, 6, 11), ESTIMATE, ["gauge_from_name"])
    assert roving.natural_stitches is not None
    assert roving.natural_stitches.notes[0].values == {"named": "roving"}
    assert profile(weight_name="wobbly", metres_per_100g=None).natural_stitches is None


def test_a_bands_gauge_goes_before_length_and_name() -> None:
    found = profile(weight_name="bulky", metres_per_100g=225, gauge=a_band_gauge(22))
    assert told(found.natural_stitches) == ((22 * 0.955, 22, 22 * 1.045), LABEL, [])


@pytest.mark.parametrize(
    ("construction", "metres", "ends"),
    [
        # A brushed yarn has 1.5 to 4 times the metres of a plied one that knits the same, mostly
        # 2.4: of 480 m it is as 200 m. With the 4 % of its band that is 480/1.04/4, 115 m, to
        # 480/0.96/1.5, 333 m, and gauge goes with the root.
        (Construction.BRUSHED, 480, ((480 / 4.16 / 200) ** 0.5, (480 / 1.44 / 200) ** 0.5)),
        # A chainette has 1.1 to 1.3 times the metres, mostly 1.2: as 177.5 to 227.3 m, whose roots
        # are 5.8 % below and 6.6 % above: the fit's own 10 % are wider.
        (Construction.CHAINETTE, 240, (0.9, 1.1)),
        (Construction.PLIED, 200, (0.9, 1.1)),
    ],
)
def test_what_holds_air_is_as_thick_as_a_plied_yarn_of_fewer_metres(
    construction: Construction, metres: float, ends: tuple[float, float]
) -> None:
    found = profile(weight_name=None, metres_per_100g=metres, construction=construction)
    usual = 1.4 * 200**0.5
    assert told(found.natural_stitches) == (
        (usual * ends[0], usual, usual * ends[1]),
        ESTIMATE,
        ["amount.gauge_from_length"],
    )
    # The length itself is what is stated.
    assert told(found.metres_per_100g)[0] == (metres / 1.04, metres, metres / 0.96)


def test_names_of_a_pattern_are_taken_together() -> None:
    found = designer_profile(DesignerYarn(weight_names=("DK", "worsted")))
    # 21 to 24 and 16 to 20 stitches.
    assert told(found.natural_stitches) == ((16, 20, 24), ESTIMATE, ["gauge_from_name"])
    assert found.natural_stitches is not None
    assert found.natural_stitches.notes[0].values == {"named": "DK / worsted"}


def test_rows_are_of_the_shop_before_the_band() -> None:
    # 6 % of one count, its half of four.
    band = a_band_gauge(22, 30)
    assert told(profile(gauge=band).natural_rows) == ((28.2, 30, 31.8), LABEL, [])
    counted = profile(*(a_swatch(22, rows) for rows in (28, 29, 31, 32)), gauge=band)
    assert told(counted.natural_rows) == ((29.1, 30, 30.9), SHOP, [])
    one = profile(a_swatch(22, 31), a_swatch(22, None), gauge=band)
    assert told(one.natural_rows) == ((31 * 0.94, 31, 31 * 1.06), SHOP, [])
    hooked = profile(a_swatch(12, 14, craft=Craft.CROCHET), gauge=a_band_gauge(22))
    assert hooked.natural_rows is None
    assert profile().natural_rows is None


def test_a_designers_gauge_is_of_its_craft() -> None:
    knit = designer_profile(DesignerYarn(gauge=a_band_gauge(22)))
    assert told(knit.natural_stitches)[1] is LABEL
    # Standard Yarn Weight System, single crochet: 13 are of 3, 12 to 17, and of 4, 11 to 14.
    crochet = designer_profile(DesignerYarn(gauge=a_band_gauge(13, craft=Craft.CROCHET)))
    assert (crochet.natural_stitches, crochet.categories) == (None, (3, 4))
    whole = designer_profile(
        DesignerYarn(put_up=PutUp(50, 125), fibres=a_blend("cotton 100"), count=None)
    )
    assert told(whole.tex)[1] is LABEL
    assert whole.density is not None


def test_a_weighing_without_mass_or_length_tells_nothing() -> None:
    unfinished = (
        Measurement(MeasurementKind.LENGTH, A_DAY, length_m=10),
        Measurement(MeasurementKind.LENGTH, A_DAY, mass_g=4),
        Measurement(MeasurementKind.WRAPS, A_DAY, length_m=10, mass_g=5, wraps_per_inch=11),
    )
    assert told(profile(*unfinished, metres_per_100g=250).tex)[1] is LABEL
