"""How tight items are worked. Common practice, no source, unless named."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shopdesk.craft.fabric import UnknownFabric, pattern_fabrics
from shopdesk.craft.figures import Basis, Figure
from shopdesk.craft.items import item_models
from shopdesk.craft.tightness import natural_from_fabric, tightness_of

KINDS = [*item_models(), "other"]
KNITTED = [name for name, fabric in pattern_fabrics().items() if fabric.craft != "crochet"]


def three(figure: Figure) -> tuple[float, float, float]:
    return figure.low, figure.value, figure.high


@pytest.mark.parametrize(
    ("item", "tight"),
    [
        ("pullover", (0.95, 1.0, 1.05)),
        # A sock yarn of 28 stitches is knitted at 31 to 35, and at 28 where its band says so.
        ("socks", (1.0, 1.08, 1.25)),
        # So that no filling shows.
        ("toy", (1.0, 1.18, 1.3)),
        # Two or three needles up, for drape.
        ("shawl", (0.75, 0.88, 1.0)),
        # Two needles up before felting; a plain bag is dense.
        ("felted bag", (0.75, 0.8, 0.85)),
        ("bag", (1.0, 1.08, 1.2)),
        # What has no row of its own is worked as a sweater is.
        ("vest", (0.95, 1.0, 1.05)),
        ("dress", (0.95, 1.0, 1.05)),
        ("other", (0.95, 1.0, 1.05)),
        ("no such thing", (0.95, 1.0, 1.05)),
    ],
)
def test_each_item_is_as_tight_as_it_is_usually_worked(
    item: str, tight: tuple[float, float, float]
) -> None:
    assert three(tightness_of(item, "stockinette")) == pytest.approx(tight)
    assert tightness_of(item, "stockinette").basis is Basis.ESTIMATE


def test_a_kind_without_a_row_is_as_tight_as_its_wider_kind(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    columns = ("kind", "name", "low", "value", "high")
    lines = ("item any 0.9 1.0 1.1", "item pullover 1.1 1.2 1.3", "item dress 0.7 0.8 0.9")
    rows = [dict(zip(columns, line.split(), strict=True)) for line in lines]
    monkeypatch.setattr("shopdesk.craft.tightness.table", {"tightness": rows}.__getitem__)

    def usual(item: str) -> float:
        return tightness_of.__wrapped__(item, "stockinette").value

    # A cardigan and a dress are pullovers of a kind, and a dress has a row of its own.
    assert [usual(item) for item in ("pullover", "cardigan", "dress", "hat")] == pytest.approx(
        [1.2, 1.2, 0.8, 1.0]
    )


def test_dense_items_are_tighter_than_a_sweater_and_what_drapes_is_looser() -> None:
    def usual(item: str) -> float:
        return tightness_of(item, "stockinette").value

    for dense in ("socks", "bootees", "toy", "mitts", "hat", "bag"):
        assert usual(dense) > usual("pullover")
    for loose in ("shawl", "cowl", "scarf", "blanket", "felted bag"):
        assert usual(loose) < usual("pullover")
    assert usual("toy") > usual("socks") > usual("hat")
    assert usual("felted bag") < usual("shawl") < usual("scarf")


@pytest.mark.parametrize("item", KINDS)
def test_a_pattern_with_a_tightness_of_its_own_decides_alone(item: str) -> None:
    # Blocked lace has 0.6 to 0.8 of the stitches, up to 0.85 hardly opened, whatever it is for;
    # stranded work is knitted with a needle one up, its floats draw it in.
    assert three(tightness_of(item, "lace")) == (0.6, 0.72, 0.85)
    assert three(tightness_of(item, "stranded")) == (1.0, 1.05, 1.1)


@pytest.mark.parametrize(
    ("item", "pattern", "middle", "below", "above"),
    [
        # Garter is 0.95 to 1.0 as wide, a blanket 0.9, 0.97, 1.0: shares that are off
        # independently add as squares.
        ("blanket", "garter", 0.97, ((0.07 / 0.97) ** 2 + 0.05**2) ** 0.5, 0.03 / 0.97),
        # Brioche has 0.7, 0.8, 0.9 of the stitches; a sweater 0.95 to 1.05.
        ("pullover", "brioche", 0.8, (0.05**2 + 0.125**2) ** 0.5, (0.05**2 + 0.125**2) ** 0.5),
    ],
)
def test_an_items_tightness_goes_times_the_width_of_its_stitches(
    item: str, pattern: str, middle: float, below: float, above: float
) -> None:
    found = three(tightness_of(item, pattern))
    assert found == pytest.approx((middle * (1 - below), middle, middle * (1 + above)))


def test_a_stitch_pattern_must_be_known() -> None:
    with pytest.raises(UnknownFabric):
        tightness_of("pullover", "no such pattern")


@pytest.mark.parametrize(
    ("stitches", "item", "pattern", "usual"),
    [
        # 30 stitches of a sock are of a yarn of 24 to 30, mostly 27.8: the tighter the fabric,
        # the thicker its yarn.
        (30, "socks", "stockinette", (24, 30 / 1.08, 30)),
        (22, "pullover", "stockinette", (22 / 1.05, 22, 22 / 0.95)),
        # 18 stitches in lace are of a yarn of 21 to 30.
        (18, "shawl", "lace", (18 / 0.85, 25, 30)),
        (17, "felted bag", "stockinette", (20, 21.25, 17 / 0.75)),
    ],
)
def test_the_usual_gauge_of_a_fabrics_yarn(
    stitches: float, item: str, pattern: str, usual: tuple[float, float, float]
) -> None:
    found = natural_from_fabric(stitches, item, pattern)
    assert three(found) == pytest.approx(usual)
    assert found.basis is Basis.PATTERN


@given(
    stitches=st.floats(5, 60),
    finer=st.floats(1.01, 2),
    item=st.sampled_from(KINDS),
    pattern=st.sampled_from(KNITTED),
)
def test_a_finer_fabric_is_of_a_yarn_that_is_finer_by_as_much(
    stitches: float, finer: float, item: str, pattern: str
) -> None:
    found = natural_from_fabric(stitches, item, pattern)
    of_finer = natural_from_fabric(stitches * finer, item, pattern)
    assert three(of_finer) == pytest.approx([one * finer for one in three(found)])
    # Knitted as tight as usual, the yarn gives the pattern's gauge again.
    assert found.value * tightness_of(item, pattern).value == pytest.approx(stitches)
