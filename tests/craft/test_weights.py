"""Weight categories against the publisher's printed table, and how gaps and overlaps answer.

Source of the expected categories: Craft Yarn Council, Standard Yarn Weight System, knit gauge in
stockinette over 4 in, wraps per inch; ply names: common practice, no source.
"""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shopdesk.craft.weights import (
    categories,
    categories_by_gauge,
    categories_by_length,
    categories_by_wraps,
    categories_named,
    category,
)
from shopdesk.craft.yarn import Craft


@pytest.mark.parametrize(
    ("stitches", "found"),
    [
        (36, (0,)), (30, (1,)), (25, (2,)), (22, (3,)), (18, (4,)), (14, (5,)), (9, (6,)),
        (5, (7,)), (24, (2, 3)), (23, (2, 3)), (21, (3,)), (20, (4,)), (33, (0,)), (32, (1,)),
    ],
)  # fmt: skip
def test_knit_gauge_finds_the_published_category(stitches: float, found: tuple[int, ...]) -> None:
    assert categories_by_gauge(stitches, stitches) == found


@pytest.mark.parametrize(
    ("stitches", "found"),
    [
        (20.5, (3, 4)), (26.5, (1, 2)), (32.5, (0, 1)), (15.5, (4, 5)), (11.5, (5, 6)),
        (6.5, (6, 7)), (45, (0,)), (2, (7,)),
    ],
)  # fmt: skip
def test_a_gauge_between_two_ranges_gives_both_neighbours(
    stitches: float, found: tuple[int, ...]
) -> None:
    assert categories_by_gauge(stitches, stitches) == found


@pytest.mark.parametrize(
    ("low", "high", "found"),
    [(20, 22, (3, 4)), (20.5, 22, (3, 4)), (22, 28, (1, 2, 3)), (5, 40, tuple(range(8)))],
)
def test_a_range_of_gauges_gives_all_it_meets(
    low: float, high: float, found: tuple[int, ...]
) -> None:
    assert categories_by_gauge(low, high) == found


@pytest.mark.parametrize(
    ("stitches", "found"),
    [
        (25, (1,)), (18, (2,)), (16, (2, 3)), (13, (3, 4)), (10, (5,)), (8, (5, 6)), (5, (7,)),
        (20.5, (1, 2)), (6.5, (6, 7)), (36, (0, 1)), (32, (1,)), (0.5, (7,)),
    ],
)  # fmt: skip
def test_single_crochet_gauge_finds_the_published_category(
    stitches: float, found: tuple[int, ...]
) -> None:
    assert categories_by_gauge(stitches, stitches, Craft.CROCHET) == found


@pytest.mark.parametrize(
    ("wraps", "found"),
    [
        (35, (0,)), (50, (0,)), (20, (1,)), (14, (1, 2, 3)), (11, (3, 4)), (9, (4, 5)), (7, (5,)),
        (5.5, (6,)), (4.5, (6, 7)), (2, (7,)), (0.5, (7,)),
    ],
)  # fmt: skip
def test_wraps_find_every_published_category(wraps: float, found: tuple[int, ...]) -> None:
    assert categories_by_wraps(wraps, wraps) == found


@pytest.mark.parametrize(
    ("metres", "found"),
    [
        (800, (0,)), (480, (0, 1)), (400, (1,)), (300, (2,)), (255, (2, 3)), (210, (3, 4)),
        (160, (4,)), (100, (5,)), (88, (5, 6)), (45, (6, 7)), (20, (7,)),
    ],
)  # fmt: skip
def test_length_per_mass_finds_the_usual_categories(metres: float, found: tuple[int, ...]) -> None:
    """Common practice, no source."""
    assert categories_by_length(metres, metres) == found


@pytest.mark.parametrize("find", [categories_by_gauge, categories_by_wraps, categories_by_length])
@pytest.mark.parametrize(("low", "high"), [(0, 5), (-3, 2), (22, 20), (float("nan"), 3)])
def test_a_range_must_run_upward_from_above_zero(find, low: float, high: float) -> None:  # type: ignore[no-untyped-def]
    with pytest.raises(ValueError, match="range"):
        find(low, high)


@given(st.floats(0.1, 60), st.floats(0, 10), st.floats(0, 10), st.sampled_from(list(Craft)))
def test_a_wider_gauge_range_never_loses_a_category(
    low: float, more: float, less: float, craft: Craft
) -> None:
    inner = set(categories_by_gauge(low, low + more, craft))
    wider = set(categories_by_gauge(max(low - less, 0.05), low + more + less, craft))
    assert inner
    assert inner <= wider


@given(st.floats(0.1, 2000))
def test_every_wrap_count_and_every_length_has_a_category(value: float) -> None:
    assert categories_by_wraps(value, value)
    assert categories_by_length(value, value)


@given(st.floats(0.5, 60), st.floats(0.5, 60))
def test_finer_gauge_is_never_a_thicker_category(one: float, other: float) -> None:
    coarse, fine = sorted((one, other))
    assert max(categories_by_gauge(fine, fine)) <= max(categories_by_gauge(coarse, coarse))
    assert min(categories_by_gauge(fine, fine)) <= min(categories_by_gauge(coarse, coarse))


@pytest.mark.parametrize(
    ("name", "found"),
    [
        ("worsted", (4,)), ("Aran", (4,)), ("ARAN weight", (4,)), ("dk", (3,)), ("D.K.", (3,)),
        ("light worsted", (3,)), ("Light-Worsted", (3,)), ("baby", (1, 2)), ("roving", (6, 7)),
        ("3", (3,)), ("#4", (4,)), ("0", (0,)), ("8", ()), ("8-ply", (3,)), ("8ply", (3,)),
        ("10 ply", (4,)), ("4-ply", (1, 4)), ("12-ply", (5, 6)), ("14 ply", (5, 6)),
        ("6-ply", ()), ("DK / light worsted", (3,)), ("worsted/aran", (4,)), ("DK or aran", (3, 4)),
        ("Sockenwolle", (1,)), ("layette", (1, 2)), ("super bulky", (6,)), ("Superbulky", (6,)),
        ("", ()), ("/", ()), ("thick", ()), ("DK and thick", ()),
    ],
)  # fmt: skip
def test_names_find_what_they_may_mean(name: str, found: tuple[int, ...]) -> None:
    assert categories_named(name) == found


def test_every_trade_name_of_the_standard_is_known() -> None:
    for each in categories():
        assert each.number in categories_named(each.name)
        for name in each.trade_names:
            assert each.number in categories_named(name)


def test_a_category_by_number() -> None:
    assert category(4).name == "Medium"
    assert category(7).knit_low is None
    with pytest.raises(KeyError):
        category(8)


# Common practice, no source: ply names of the UK, Australia and New Zealand, and names of the
# trade in English, German and French.
PLIES = {1: (0,), 2: (0,), 3: (0,), 4: (1, 4), 5: (2,), 8: (3,), 10: (4,), 12: (5, 6), 14: (5, 6),
         16: (7,)}  # fmt: skip
NAMES = {
    "double knit": (3,), "double knitting": (3,), "heavy worsted": (4,), "super chunky": (6,),
    "Lacegarn": (0,), "Spitzengarn": (0,), "Sockengarn": (1,), "Sockenwolle": (1,),
    "4-fach": (1,), "4-fädig": (1,), "6-fach": (2, 3), "6-fädig": (2, 3), "Babygarn": (1, 2),
    "Babywolle": (1, 2), "dentelle": (0,), "chaussette": (1,), "fil à chaussettes": (1,),
    "layette": (1, 2), "bébé": (1, 2),
}  # fmt: skip


@pytest.mark.parametrize("plies", range(1, 21))
def test_ply_names(plies: int) -> None:
    assert categories_named(f"{plies}-ply") == PLIES.get(plies, ())


@pytest.mark.parametrize("name", NAMES)
def test_names_of_the_trade(name: str) -> None:
    assert categories_named(name) == NAMES[name]


@pytest.mark.parametrize(
    ("number", "shortest", "longest"),
    # Common practice, no source: metres per 100 g, finest first, open at both ends.
    [(0, 480, None), (1, 340, 480), (2, 250, 360), (3, 200, 260), (4, 130, 220), (5, 85, 130),
     (6, 40, 90), (7, None, 50)],
)  # fmt: skip
def test_lengths_of_the_categories(
    number: int, shortest: float | None, longest: float | None
) -> None:
    assert (category(number).metres_low, category(number).metres_high) == (shortest, longest)
    for edge, inside in ((shortest, 0.1), (longest, -0.1)):
        if edge is not None:
            assert number in categories_by_length(edge, edge)
            assert number in categories_by_length(edge + inside, edge + inside)
