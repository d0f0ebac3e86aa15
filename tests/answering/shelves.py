"""Shelves of yarns for tests of the answer, drawn by Hypothesis or laid by hand."""

from decimal import Decimal

from hypothesis import strategies as st

from shopdesk.craft.yarn import Construction, LabelFacts, ShelfYarn
from tests.factories import a_band_gauge, a_label, a_lot, a_swatch, a_wraps, a_yarn

BLENDS = (
    "wool 100",
    "cotton 100",
    "viscose 100",
    "wool 75, polyamide 25",
    "mohair 70, silk 30",
    "acrylic 100",
    "cotton 60, linen 40",
    "",
)
NAMES = (None, "lace", "fingering", "DK", "aran", "bulky")


@st.composite
def labels(draw: st.DrawFn) -> LabelFacts:
    """Draws a band, with or without each of the things a band may say."""
    metres = draw(st.none() | st.integers(60, 900))
    gauge = draw(st.none() | st.integers(10, 34).map(lambda n: a_band_gauge(n)))
    return a_label(
        draw(st.sampled_from(NAMES)),
        metres,
        draw(st.sampled_from((25.0, 50.0, 100.0))),
        draw(st.sampled_from(BLENDS)),
        gauge=gauge,
        construction=draw(st.none() | st.sampled_from(Construction)),
        attributes=draw(st.sampled_from((frozenset(), frozenset({"superwash"})))),
    )


@st.composite
def shelf_yarns(draw: st.DrawFn, sku: str) -> ShelfYarn:
    """Draws one house yarn with measurements, colours and lots."""
    measured = (*draw(st.just(()) | st.just((a_wraps(12),))),)
    if draw(st.booleans()):
        measured = (*measured, a_swatch(draw(st.integers(10, 34))))
    lots = tuple(
        a_lot(draw(st.integers(0, 20)), f"L{index}", f"0{index % 2}")
        for index in range(draw(st.integers(0, 4)))
    )
    price = Decimal(draw(st.integers(100, 3000))) / 100
    return a_yarn(
        sku,
        price=str(price),
        label=draw(labels()),
        measurements=measured,
        lots=lots,
        hand_dyed=draw(st.booleans()),
    )


@st.composite
def shelves(draw: st.DrawFn, most: int = 7) -> list[ShelfYarn]:
    """Draws a small shelf."""
    count = draw(st.integers(1, most))
    return [draw(shelf_yarns(f"Y-{index}")) for index in range(count)]
