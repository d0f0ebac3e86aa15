"""The label check: what speaks against the band, worst first, and what to measure next."""

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shopdesk.answering.label.check import (
    CheckedLabel,
    check_label,
    check_labels,
    label_document,
)
from shopdesk.answering.label.label_findings import Facet, Gravity, MeasureKind
from shopdesk.craft.yarn import Construction, FibreShare, ShelfYarn, YarnCount
from shopdesk.wording.translate import english
from tests.factories import a_band_gauge, a_care, a_label, a_swatch, a_weighing, a_wraps, a_yarn


def codes(checked: CheckedLabel) -> list[str]:
    return [finding.message.code for finding in checked.findings]


def kinds(checked: CheckedLabel) -> list[MeasureKind]:
    return [step.kind for step in checked.measure]


def a_sound_yarn(sku: str = "T-1", **facts: object) -> ShelfYarn:
    """DK by its name, gauge, needle and length: 22 stitches on 4 mm are category 3 of the
    Craft Yarn Council's standard; 225 m per 100 g are common practice for it."""
    facts.setdefault("label", a_label(gauge=a_band_gauge(22, 30, 4.0), care=a_care()))
    return a_yarn(sku, **facts)


def test_a_sound_label_gives_nothing_to_do() -> None:
    checked = check_label(a_sound_yarn())
    assert (checked.findings, checked.measure, checked.gravity) == ((), (), None)
    assert not checked.contradicted


def test_a_name_against_the_gauge_is_the_bands_own_contradiction() -> None:
    # Craft Yarn Council: 28 stitches are category 1, DK is category 3.
    label = a_label("DK", 225, gauge=a_band_gauge(28, 36, 3.0), care=a_care())
    checked = check_label(a_yarn(label=label))
    assert "profile.name_against_gauge" in codes(checked)
    assert checked.gravity is Gravity.BAND
    assert checked.contradicted
    assert MeasureKind.SWATCH in kinds(checked)


def test_a_weighed_length_outranks_the_band_and_says_by_how_much() -> None:
    label = a_label("DK", 225, gauge=a_band_gauge(22), care=a_care())
    checked = check_label(a_yarn(label=label, measurements=(a_weighing(10, 5.0),)))
    assert codes(checked)[0] == "label_check.weighed_against_band"
    assert checked.gravity is Gravity.MEASURED
    # 10 m of 5 g are 200 m per 100 g by the definition of tex; 200/225 is 11.1 % less.
    assert english(checked.findings[0].message) == (
        "The band says 225 m in 100 g; a weighed length gives 200 m, 11.1% off."
    )
    assert MeasureKind.WEIGH not in kinds(checked)


@pytest.mark.parametrize(("grams", "found"), [(4.44, False), (4.6, False), (4.85, True)])
def test_the_doubt_of_band_and_scales_is_no_contradiction(grams: float, found: bool) -> None:
    checked = check_label(a_sound_yarn(measurements=(a_weighing(10, grams),)))
    assert ("label_check.weighed_against_band" in codes(checked)) is found


def test_swatches_of_the_shop_against_the_bands_gauge() -> None:
    swatches = [a_swatch(26, 36, hand=hand) for hand in ("MB", "RO", "AK")]
    checked = check_label(a_sound_yarn(measurements=tuple(swatches)))
    assert "label_check.swatched_against_one" in codes(checked)
    assert checked.gravity is Gravity.MEASURED
    assert MeasureKind.SWATCH not in kinds(checked)


def test_one_swatch_within_a_stitch_is_no_contradiction() -> None:
    assert check_label(a_sound_yarn(measurements=(a_swatch(22.5),))).findings == ()


def test_wraps_that_do_not_go_with_the_length_ask_for_more_readings() -> None:
    checked = check_label(a_sound_yarn(measurements=(a_wraps(18),)))
    assert Facet.WRAPS in checked.findings[0].facets
    assert checked.gravity is Gravity.MEASURED
    assert {MeasureKind.WRAP, MeasureKind.WEIGH} <= set(kinds(checked))


def test_what_to_expect_of_a_weighing_is_said_in_grams() -> None:
    label = a_label("chunky", 225, care=a_care())
    steps = check_label(a_yarn(label=label)).measure
    # 225 m per 100 g are 444.4 tex, so 10 m weigh 4.44 g; 4 % of it are 0.18 g.
    assert english(steps[0].message) == (
        "Wind off and weigh 10 m: 4.3 to 4.6 g if the band is right."
    )


def test_a_count_against_its_put_up() -> None:
    # Worsted 2/28 is 7840 yd/lb (handweaving texts), 1580 m per 100 g.
    label = a_label("lace", 1400, count=YarnCount("2/28", "worsted"), care=a_care())
    checked = check_label(a_yarn(label=label))
    assert "label_check.count_against_put_up" in codes(checked)
    right = a_label("lace", 1580, count=YarnCount("2/28", "worsted"), care=a_care())
    assert "label_check.count_against_put_up" not in codes(check_label(a_yarn(label=right)))


@pytest.mark.parametrize(("mm", "odd"), [(4.0, False), (4.5, False), (3.5, False), (6.0, True)])
def test_a_needle_far_from_the_standards_is_unusual(mm: float, odd: bool) -> None:
    # Craft Yarn Council: 22 stitches, category 3, needles of 3.75 to 4.5 mm.
    label = a_label(gauge=a_band_gauge(22, 30, mm), care=a_care())
    assert ("label_check.tool_against_gauge" in codes(check_label(a_yarn(label=label)))) is odd


def test_lace_on_large_needles_is_not_odd() -> None:
    label = a_label("lace", 800, gauge=a_band_gauge(34, None, 4.0), care=a_care())
    assert "label_check.tool_against_gauge" not in codes(check_label(a_yarn(label=label)))


@pytest.mark.parametrize(
    ("facts", "code", "gravity"),
    [
        ({"fibres": ""}, "label_check.no_fibres", Gravity.UNSAID),
        (
            {"fibres": "cotton 100", "attributes": frozenset({"merino"})},
            "label_check.attribute_without_fibre",
            Gravity.BAND,
        ),
        (
            {"attributes": frozenset({"superwash", "untreated"})},
            "label_check.treated_and_untreated",
            Gravity.BAND,
        ),
        ({"fibres": "wool 90, other 10"}, "label_check.other_fibres", Gravity.UNSAID),
        (
            {"construction": Construction.SINGLE, "plies": 4},
            "label_check.single_with_plies",
            Gravity.BAND,
        ),
        ({"care": None}, "label_check.no_care", Gravity.UNSAID),
        ({"care": a_care(None, None, tumble="none")}, "label_check.no_washing", Gravity.UNSAID),
        ({"care": a_care(40, "normal")}, "label_check.felting_in_machine", Gravity.UNUSUAL),
        (
            {"care": a_care(30, "hand", tumble="normal")},
            "label_check.bolder_than_usual",
            Gravity.UNUSUAL,
        ),
        ({"weight_name": "wobbly"}, "label_check.name_unknown", Gravity.UNUSUAL),
        ({"gauge": None}, "label_check.no_gauge", Gravity.UNSAID),
        ({"metres_per_100g": None}, "label_check.no_length", Gravity.UNSAID),
    ],
)
def test_what_a_label_says_or_leaves_out(
    facts: dict[str, object], code: str, gravity: Gravity
) -> None:
    given_facts = {"gauge": a_band_gauge(22), "care": a_care(), **facts}
    checked = check_label(a_yarn(label=a_label(**given_facts)))  # type: ignore[arg-type]
    found = {finding.message.code: finding.gravity for finding in checked.findings}
    assert found.get(code) is gravity
    for finding in checked.findings:
        assert english(finding.message)


def test_machine_washable_wool_in_the_machine_is_as_it_should_be() -> None:
    label = a_label(
        gauge=a_band_gauge(22), attributes=frozenset({"superwash"}), care=a_care(40, "mild")
    )
    assert check_label(a_yarn(label=label)).findings == ()


def test_the_worst_come_first() -> None:
    fine = a_band_gauge(28, 36, 3.0)
    shelf = [
        a_sound_yarn("A-sound"),
        a_yarn("B-unsaid", label=a_label(gauge=a_band_gauge(22))),
        a_yarn("C-band", label=a_label("DK", gauge=fine, care=a_care())),
        a_sound_yarn("D-measured", measurements=(a_weighing(10, 5.0),)),
        a_yarn("E-band-more", label=a_label("chunky", gauge=fine, care=a_care())),
    ]
    assert [checked.yarn.sku for checked in check_labels(shelf)] == [
        "D-measured", "E-band-more", "C-band", "B-unsaid", "A-sound",
    ]  # fmt: skip


shares = st.sampled_from(["wool", "cotton", "linen", "silk", "acrylic", "viscose"])


@given(
    name=st.sampled_from([None, "lace", "sock", "DK", "aran", "chunky", "3", "12-ply"]),
    stitches=st.floats(5, 40),
    length=st.floats(30, 1600),
    fibre=shares,
    wraps=st.none() | st.floats(2, 50),
    grams=st.none() | st.floats(0.5, 60),
)
def test_any_label_is_checked_in_words(
    name: str | None,
    stitches: float,
    length: float,
    fibre: str,
    wraps: float | None,
    grams: float | None,
) -> None:
    measured = [a_wraps(wraps)] if wraps else []
    measured += [a_weighing(10, grams)] if grams else []
    label = a_label(name, length, fibres=f"{fibre} 100", gauge=a_band_gauge(stitches))
    checked = check_label(a_yarn(label=label, measurements=tuple(measured)))
    gravities = [finding.gravity for finding in checked.findings]
    assert gravities == sorted(gravities)
    assert all(finding.apart >= 0 for finding in checked.findings)
    assert all(english(said.message) for said in (*checked.findings, *checked.measure))
    assert label.fibres == (FibreShare(fibre, Decimal(100)),)


def test_what_has_no_measure_is_not_apart_and_gravity_is_as_it_is_named() -> None:
    checked = check_label(a_yarn(label=a_label(None, None, fibres="")))
    assert [(one.gravity, one.apart) for one in checked.findings] == [(Gravity.UNSAID, 0)] * 4
    assert sorted(Gravity) == [
        Gravity.MEASURED,
        Gravity.BAND,
        Gravity.UNUSUAL,
        Gravity.UNSAID,
    ]


def test_among_equals_labels_come_by_sku() -> None:
    sound = [a_sound_yarn(sku) for sku in ("C", "A", "B")]
    assert [one.yarn.sku for one in check_labels(sound)] == ["A", "B", "C"]
    bare = [a_yarn(sku, label=a_label(gauge=a_band_gauge(22))) for sku in ("Z", "X", "Y")]
    assert [one.yarn.sku for one in check_labels([*bare, sound[0]])] == ["X", "Y", "Z", "C"]


def test_a_document_has_figures_to_a_hundredth_with_their_basis() -> None:
    document = label_document(check_label(a_sound_yarn()), english)
    # 225 m per 100 g, and 4 % of the tex either way: 216.346 to 234.375.
    assert document["metres_per_100g"] == {
        "value": 225.0, "low": 216.35, "high": 234.38, "basis": "label",
    }  # fmt: skip
    bare = label_document(check_label(a_yarn(label=a_label(None, None))), english)
    assert (bare["metres_per_100g"], bare["stitches_per_10cm"]) == (None, None)
    assert [(one["code"], one["about"]) for one in bare["findings"]] == [
        ("label_check.no_length", ["length"]),
        ("label_check.no_gauge", ["gauge"]),
        ("label_check.no_care", ["care"]),
    ]
