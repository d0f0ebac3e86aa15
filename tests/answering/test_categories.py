"""Weight categories out of several kinds of evidence, and where they disagree."""

from typing import Any

import pytest

from shopdesk.answering.profile.categories import (
    WeightEvidence,
    allowed_categories,
    disagreements,
    usual_category_for_wraps,
)
from shopdesk.craft.figures import Basis
from tests.answering.summaries import a_figure

# Standard Yarn Weight System: 2 is 23 to 26 stitches, 3 is 21 to 24, 4 is 16 to 20. Common
# practice: 2 is 250 to 360 m per 100 g, 3 is 200 to 260, 4 is 130 to 220; 11 wraps are usual of
# 3, 9 of 4, 14 of 1, 7 of 5.


def guess(value: float) -> Any:
    return a_figure(value, basis=Basis.ESTIMATE)


@pytest.mark.parametrize(
    ("evidence", "categories"),
    [
        (WeightEvidence(), ()),
        (WeightEvidence(natural_stitches=a_figure(22)), (3,)),
        (WeightEvidence(natural_stitches=a_figure(23.5)), (2, 3)),
        (WeightEvidence(metres_per_100g=a_figure(255)), (2, 3)),
        # What both allow; where they allow nothing in common, all.
        (WeightEvidence(("DK",), a_figure(23.5), a_figure(230)), (3,)),
        (WeightEvidence(("DK",), a_figure(28), a_figure(150)), (1, 4)),
        # Then names, then wraps.
        (WeightEvidence(("DK", "worsted"), wraps_per_inch=a_figure(7)), (3, 4)),
        (WeightEvidence(("worsted", "DK")), (3, 4)),
        (WeightEvidence(wraps_per_inch=a_figure(7)), (5,)),
        (WeightEvidence(wraps_per_inch=guess(7)), ()),
        # A gauge that is a guess tells no category; one for crochet does.
        (WeightEvidence(("DK",), guess(18)), (3,)),
        (WeightEvidence(("lace",), guess(18), crochet_stitches=(13, 13)), (3, 4)),
        (WeightEvidence(("lace",), a_figure(22), crochet_stitches=(8, 8)), (3,)),
    ],
)
def test_gauge_and_length_go_before_names_and_wraps(
    evidence: WeightEvidence, categories: tuple[int, ...]
) -> None:
    assert allowed_categories(evidence) == categories


@pytest.mark.parametrize(
    ("wraps", "number"),
    # Between 9 and 11 the middle on the log scale is root(99) = 9.95, between 11 and 14 12.41.
    [(11, 3), (9.94, 4), (9.96, 3), (12.40, 3), (12.42, 1), (30, 1), (2, 5)],
)
def test_the_usual_wraps_that_are_nearest(wraps: float, number: int) -> None:
    assert usual_category_for_wraps(wraps) == number


def said(evidence: WeightEvidence) -> dict[str, dict[str, Any]]:
    found = disagreements(evidence)
    return {one.code.removeprefix("profile."): dict(one.values) for one in found}


def test_a_name_is_questioned_where_gauge_or_length_allow_none_of_its_categories() -> None:
    evidence = WeightEvidence(("DK", "8-ply"), a_figure(28), a_figure(400))
    told = {"named": "DK / 8-ply", "found_term": "terms.weight.1"}
    assert said(evidence) == {"name_against_gauge": told, "name_against_length": told}
    assert said(WeightEvidence(("DK",), a_figure(23.5), a_figure(255))) == {}
    assert said(WeightEvidence(("wobbly",), a_figure(28), a_figure(400))) == {}
    assert said(WeightEvidence((), a_figure(28), a_figure(400))) == {}
    assert said(WeightEvidence(("DK",), guess(28))) == {}


def test_gauge_and_length_are_questioned_where_they_allow_nothing_in_common() -> None:
    evidence = WeightEvidence((), a_figure(28), a_figure(150))
    told = {"gauge_term": "terms.weight.1", "length_term": "terms.weight.4"}
    assert said(evidence) == {"gauge_against_length": told}
    assert said(WeightEvidence((), a_figure(28))) == {}
    assert said(WeightEvidence((), None, a_figure(150))) == {}


@pytest.mark.parametrize(
    ("named", "wraps", "questioned"),
    [
        # 15 % beyond the 9 of worsted are 10.35: until there a reading is in doubt.
        ("worsted", 10.3, False),
        ("worsted", 10.4, True),
        # 12.5 is nearest to 14 of fingering and 13.6 % beyond the 11 of DK.
        ("DK", 12.5, False),
        ("DK", 12.7, True),
        ("DK", 9.4, False),
        ("DK", 9.3, True),
        # Of sport, 2, no wraps are usual: then only the nearest could speak against it.
        ("sport", 11, False),
        ("wobbly", 30, False),
    ],
)
def test_wraps_question_a_name(named: str, wraps: float, questioned: bool) -> None:
    assert (
        "name_against_wraps" in said(WeightEvidence((named,), wraps_per_inch=a_figure(wraps)))
    ) is questioned
    assert said(WeightEvidence((named,), wraps_per_inch=guess(wraps))) == {}


def test_wraps_against_a_name_are_said_in_tenths_with_what_they_usually_mean() -> None:
    assert said(WeightEvidence(("DK", "worsted"), wraps_per_inch=a_figure(14.26))) == {
        "name_against_wraps": {
            "named": "DK / worsted",
            "wraps": 14.3,
            "found_term": "terms.weight.1",
        }
    }


@pytest.mark.parametrize(
    ("wraps", "code"),
    [
        # 0.79 x root(225) = 11.85 of wool; 15 % are 10.07 to 13.63.
        (13.6, None),
        (13.65, "wraps_thinner_than_length"),
        (10.1, None),
        (10.05, "wraps_thicker_than_length"),
    ],
)
def test_wraps_against_length(wraps: float, code: str | None) -> None:
    facts = {"metres_per_100g": a_figure(225), "wraps_per_inch": a_figure(wraps)}
    found = said(WeightEvidence(**facts, density=a_figure(1.31)))
    told = {"wraps": pytest.approx(round(wraps, 1)), "expected": pytest.approx(11.85, abs=0.06)}
    assert found == ({} if code is None else {code: told})
    assert said(WeightEvidence(**facts)) == {}
    assert said(WeightEvidence(wraps_per_inch=a_figure(wraps), density=a_figure(1.31))) == {}
    assert said(WeightEvidence(metres_per_100g=a_figure(225), density=a_figure(1.31))) == {}


def test_wraps_against_length_are_said_in_tenths() -> None:
    # 0.79 x root(256) = 12.64.
    facts = {"metres_per_100g": a_figure(256), "density": a_figure(1.31)}
    assert said(WeightEvidence(**facts, wraps_per_inch=a_figure(16.26))) == {
        "wraps_thinner_than_length": {"wraps": 16.3, "expected": 12.6}
    }
    assert said(WeightEvidence(**facts, wraps_per_inch=guess(16.26))) == {}
