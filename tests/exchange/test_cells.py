"""How cells of a label are read: units in heading or cell, ranges, blends, prices, dates."""

from decimal import Decimal

import pytest

from shopdesk.craft.errors import InputError
from shopdesk.craft.yarn import Craft
from shopdesk.exchange import cells
from shopdesk.exchange.blends import attributes_cell, blend_cell
from shopdesk.exchange.columns import read_heading


# 1 oz = 28.349523125 g and 1 yd = 0.9144 m exactly (international avoirdupois ounce and yard).
@pytest.mark.parametrize(
    ("text", "unit", "grams"),
    [
        ("50", "", 50),
        ("50 g", "", 50),
        ("1¾ oz", "", 49.61166546875),
        ("1.75", "oz", 49.61166546875),
        ("50 g/1.75oz", "", 50),
        ("100 g = 3.5 oz", "", 100),
        ("100g (3.5 oz)", "", 100),
        ("0,1 kg", "", 100),
    ],
)
def test_masses(text: str, unit: str, grams: float) -> None:
    assert cells.mass(text, unit) == pytest.approx(grams, rel=1e-12)


@pytest.mark.parametrize(
    ("text", "unit", "metres"),
    [("220 yd", "", 201.168), ("220", "yd", 201.168), ("125 m / 137 yd", "", 125), ("", "m", None)],
)
def test_lengths(text: str, unit: str, metres: float | None) -> None:
    found = cells.length(text, unit)
    assert found == (None if metres is None else pytest.approx(metres, rel=1e-12))


@pytest.mark.parametrize("text", ["50 g / 3.5 oz", "0 g", "-50 g", "50 m", "50 g 3 oz", "1,000"])
def test_masses_that_cannot_be(text: str) -> None:
    with pytest.raises(InputError):
        cells.mass(text, "")


@pytest.mark.parametrize("text", ["50 g / 125 m", "125 m = 50 g", "50g, 125m", "50 g/125 m/137 yd"])
def test_a_put_up_in_one_cell(text: str) -> None:
    values = cells.put_up_cell(text, "")
    assert (values["put_up_g"], values["put_up_m"]) == (50, 125)


@pytest.mark.parametrize(
    ("text", "unit", "low", "high"),
    [
        ("22", "", 22, 22),
        ("22-24", "", 22, 24),
        ("22 – 24 sts", "", 22, 24),
        ("22 sts / 10 cm", "", 22, 22),
        ("22 M auf 10 cm", "", 22, 22),
        ("5.5", "in", 21.653543307086615, 21.653543307086615),
        ("5.5 per inch", "", 21.653543307086615, 21.653543307086615),
        ("11", "5 cm", 22, 22),
    ],
)
def test_gauges(text: str, unit: str, low: float, high: float) -> None:
    """5.5 stitches to an inch of 25.4 mm are 21.65 to 10 cm."""
    values = cells.gauge("low", "high")(text, unit)
    assert (values["low"], values["high"]) == (pytest.approx(low), pytest.approx(high))


@pytest.mark.parametrize("text", ["0", "0-22", "22-0", "-3", "201"])
def test_what_is_no_gauge_is_refused(text: str) -> None:
    with pytest.raises(InputError, match="stitches or rows per 10 cm"):
        cells.gauge("low", "high")(text, "")


@pytest.mark.parametrize(
    ("text", "sizes"),
    [("4", (4, 4)), ("3.5-4 mm", (3.5, 4)), ("US 7", (4.5, 4.5)), ("", (None,) * 2)],
)
def test_needles(text: str, sizes: tuple[float, float]) -> None:
    """US 7 is 4.5 mm by the trade's size chart."""
    values = cells.tool(Craft.KNIT, "low", "high")(text, "")
    assert (values["low"], values["high"]) == sizes


@pytest.mark.parametrize(
    "text",
    [
        "wool 75, polyamide 25",
        "75% Wool, 25% Nylon",
        "75 % wool / 25 % polyamide",
        "75% Wool 25% Nylon",
        "Wolle 75 %; Polyamid 25 %",
    ],
)
def test_blends(text: str) -> None:
    expected = (("wool", Decimal(75)), ("polyamide", Decimal(25)))
    assert blend_cell(text, "")["fibres"] == expected


def test_decimal_commas_in_a_blend() -> None:
    found = blend_cell("33,3% wool, 66,7% cotton", "")["fibres"]
    assert found == (("wool", Decimal("33.3")), ("cotton", Decimal("66.7")))


@pytest.mark.parametrize("text", ["wool", "100%", "wool 75", "merino 100", "75% wool 25", "50/50"])
def test_blends_that_cannot_be(text: str) -> None:
    with pytest.raises(InputError):
        blend_cell(text, "")


def test_words_about_the_fibre() -> None:
    assert attributes_cell("merino; superwash", "")["attributes"] == ("merino", "superwash")
    with pytest.raises(InputError, match="'lovely' is not a word"):
        attributes_cell("lovely", "")


@pytest.mark.parametrize("text", ["6.50", "6,50", "€6.50", "6,50 €", "EUR 6.5", "6.50 EUR"])
def test_prices(text: str) -> None:
    assert cells.price("EUR")(text, "")["price_minor"] == 650


@pytest.mark.parametrize(("text", "unit"), [("6.505", ""), ("$6", ""), ("6", "USD"), ("", "")])
def test_prices_that_cannot_be(text: str, unit: str) -> None:
    with pytest.raises(InputError):
        cells.price("EUR")(text, unit)


@pytest.mark.parametrize(
    ("written", "name", "unit"),
    [
        ("Length (yd)", "length", "yd"),
        ("Lauflänge in m", "lauflänge", "m"),
        ("Weight [oz]", "weight", "oz"),
        ("put_up_g", "put up", "g"),
        ("Price (EUR)", "price", "EUR"),
        ("sts / 10 cm", "sts", "10 cm"),
        ("Gauge (per 4 in)", "gauge", "4 in"),
        ("Needle US", "needle", "US"),
        (" Name: ", "name", ""),
        ("Knitted by (staff)", "knitted by (staff)", ""),
    ],
)
def test_units_in_headings(written: str, name: str, unit: str) -> None:
    heading = read_heading(written)
    assert (heading.name, heading.unit) == (name, unit)
