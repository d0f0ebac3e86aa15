"""How cells of a label are read: units in heading or cell, ranges, blends, prices, dates."""

from decimal import Decimal

import pytest

from shopdesk.craft.errors import InputError
from shopdesk.craft.yarn import Craft
from shopdesk.exchange import cells
from shopdesk.exchange.blends import attributes_cell, blend_cell, read_blend
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


@pytest.mark.parametrize(
    "text", ["50 g / 3.5 oz", "0 g", "-50 g", "50 m", "50 g 3 oz", "1,000", "(", "20001"]
)
def test_masses_that_cannot_be(text: str) -> None:
    with pytest.raises(InputError):
        cells.mass(text, "")


def test_the_largest_mass_and_length() -> None:
    assert cells.mass("20000", "") == 20_000
    assert cells.mass("0.5", "") == 0.5
    assert cells.length("50000", "") == 50_000
    with pytest.raises(InputError, match="'50001' cannot be; write m above 0 up to 50000"):
        cells.length("50001", "")


# 3 % of 50 g are 1.5 g: what a label says twice may differ by so much, each from the first.
@pytest.mark.parametrize("text", ["50 g / 51.5 g", "50 g / 48.5 g", "50 g = 51 g = 51.5 g"])
def test_a_mass_said_twice_may_be_rounded(text: str) -> None:
    assert cells.mass(text, "") == 50


@pytest.mark.parametrize("text", ["50 g / 51.52 g", "50 g / 48.48 g", "50 g = 51 g = 52 g"])
def test_a_mass_said_twice_is_one_mass(text: str) -> None:
    with pytest.raises(InputError, match="says 50 g and "):
        cells.mass(text, "")


def test_what_is_said_twice_is_shown_with_four_figures() -> None:
    with pytest.raises(InputError, match=r" says 50\.12 g and 60\.99 g; leave out the one"):
        cells.mass("50.1234 g / 60.9876 g", "")


@pytest.mark.parametrize("text", ["50 g / 125 m", "125 m = 50 g", "50g, 125m", "50 g/125 m/137 yd"])
def test_a_put_up_in_one_cell(text: str) -> None:
    values = cells.put_up_cell(text, "")
    assert (values["put_up_g"], values["put_up_m"]) == (50, 125)
    assert values["put_up_printed"] == text


@pytest.mark.parametrize("text", ["50 g", "125 m", "50 g / 1.75 oz", "/"])
def test_half_a_put_up_is_refused(text: str) -> None:
    with pytest.raises(InputError, match="does not say both mass and length"):
        cells.put_up_cell(text, "")


def test_an_empty_put_up_is_not_known() -> None:
    assert cells.put_up_cell(" ", "") == {"put_up_g": None, "put_up_m": None}


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
        ("11 sts / 5 cm", "", 22, 22),
        ("11 sts / 5 cm", "10 cm", 22, 22),
        ("2", "1 mm", 200, 200),
        ("200", "", 200, 200),
        ("0.5", "", 0.5, 0.5),
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


def test_one_column_takes_one_gauge() -> None:
    assert cells.gauge("rows")("30", "") == {"rows": 30}
    assert cells.gauge("rows")(" ", "") == {"rows": None}
    with pytest.raises(InputError, match="'30-32' is more than one number"):
        cells.gauge("rows")("30-32", "")
    with pytest.raises(InputError, match="'22-24-26' is more than one number"):
        cells.gauge("low", "high")("22-24-26", "")


@pytest.mark.parametrize("over", ["0 cm", "0.0 in"])
def test_no_gauge_is_over_nothing(over: str) -> None:
    with pytest.raises(InputError, match=r"a gauge over .* cannot be; write it over 10 cm"):
        cells.gauge("low", "high")(f"22 / {over}", "")


@pytest.mark.parametrize(
    ("text", "unit", "sizes"),
    [
        ("4", "", (4, 4)),
        ("3.5-4 mm", "", (3.5, 4)),
        ("US 7", "", (4.5, 4.5)),
        # Charts: Japanese 0 is 2.1 mm, each next one 0.3 more.
        ("JP 8", "", (4.5, 4.5)),
        ("5", "JP", (3.6, 3.6)),
        ("US 6 - 7", "", (4, 4.5)),
        ("7", "US", (4.5, 4.5)),
        ("7", "UK", (4.5, 4.5)),
        ("4", "mm", (4, 4)),
        ("10-1/2", "US", (6.5, 6.5)),
        ("", "", (None, None)),
    ],
)
def test_needles(text: str, unit: str, sizes: tuple[float, float]) -> None:
    """US 6, 7 and 10½ are 4, 4.5 and 6.5 mm, old UK 7 is 4.5 mm by the trade's size chart."""
    values = cells.tool(Craft.KNIT, "low", "high")(text, unit)
    assert (values["low"], values["high"]) == sizes


def test_one_column_takes_one_tool() -> None:
    """A hook US H-8 is 5 mm by the trade's size chart: the dash is part of its name."""
    assert cells.tool(Craft.CROCHET, "low")("US H-8", "") == {"low": 5}
    for text in ("3.5-4 mm", "3.5 - 4"):
        with pytest.raises(InputError, match="more than one size; write one size"):
            cells.tool(Craft.KNIT, "low")(text, "")
    with pytest.raises(InputError, match="'3-4-5' is more than one size"):
        cells.tool(Craft.KNIT, "low", "high")("3-4-5", "")


@pytest.mark.parametrize(("text", "number"), [("0", 0), (" 7 ", 7), ("2.0", 2), ("1000000", 10**6)])
def test_numbers_of_skeins(text: str, number: int) -> None:
    assert cells.skeins(text) == number


@pytest.mark.parametrize("text", ["-1", "0.5", "1000001", "1000000.5"])
def test_what_is_no_number_of_skeins_is_refused(text: str) -> None:
    right = "is no number of skeins; write a whole number from 0 to 1 000 000"
    with pytest.raises(InputError, match=right):
        cells.skeins(text)


@pytest.mark.parametrize(("text", "number"), [("2", 2), ("7", 7), ("3.0", 3), (" ", None)])
def test_whole_numbers_between_two(text: str, number: int | None) -> None:
    assert cells.whole("plies", 2, 7)(text, "") == {"plies": number}


@pytest.mark.parametrize("text", ["1", "8", "2.5", "-3"])
def test_whole_numbers_beyond_are_refused(text: str) -> None:
    with pytest.raises(InputError, match="is not a whole number from 2 to 7"):
        cells.whole("plies", 2, 7)(text, "")


def test_texts_may_be_as_long_as_their_column() -> None:
    read = cells.text_cell("name", 5)
    assert read(" wools ", "") == {"name": "wools"}
    assert read(" ", "") == {"name": ""}
    with pytest.raises(InputError, match="write 5 at most"):
        read("woolly", "")


def test_lines_are_kept_only_where_a_text_may_have_several() -> None:
    assert cells.text_cell("notes", 9, lines=True)("one \n two", "") == {"notes": "one\ntwo"}
    for text in ("one\ntwo", "a\tb"):
        with pytest.raises(InputError, match="characters that are no text"):
            cells.text_cell("name", 9)(text, "")


def test_a_text_that_is_needed_and_one_that_is_not() -> None:
    assert cells.text_cell("name", 9, needed=True)("a", "") == {"name": "a"}
    with pytest.raises(InputError, match="write a text"):
        cells.text_cell("name", 9, needed=True)(" ", "")
    read = cells.optional_text("weight_name", 9)
    assert [read(text, "")["weight_name"] for text in ("DK", "")] == ["DK", None]


def test_yes_and_no_in_the_languages_of_tills() -> None:
    read = cells.yes_no("retired")
    for text in ("yes", "Y", "true", "1", "x", " Ja ", "oui"):
        assert read(text, "") == {"retired": True}
    for text in ("no", "N", "false", "0", "", "nein", "Non"):
        assert read(text, "") == {"retired": False}
    with pytest.raises(InputError, match="'maybe' is neither yes nor no"):
        read("maybe", "")


def test_a_date_is_told_whole() -> None:
    with pytest.raises(InputError, match="holds the date 2026-05-04 here"):
        cells.no_date("\N{CALENDAR}2026-05-04")


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


def test_an_empty_blend_is_not_known() -> None:
    assert read_blend("  ") == ()


@pytest.mark.parametrize(
    "text",
    ["wool", "100%", "wool 75", "merino 100", "75% wool 25", "50/50", "100% wool 5", "wool 100 x"],
)
def test_blends_that_cannot_be(text: str) -> None:
    with pytest.raises(InputError):
        blend_cell(text, "")


def test_words_about_the_fibre() -> None:
    assert attributes_cell("merino; superwash", "")["attributes"] == ("merino", "superwash")
    with pytest.raises(InputError, match="'lovely' is not a word"):
        attributes_cell("lovely", "")


@pytest.mark.parametrize("text", ["6.50", "6,50", "€6.50", "6,50 €", "EUR 6.5", "6.50 EUR"])
def test_prices(text: str) -> None:
    for unit in ("", "EUR", "g"):
        assert cells.price("EUR")(text, unit)["price_minor"] == 650


def test_a_point_with_three_places_is_usual_where_money_has_them() -> None:
    """ISO 4217: the Kuwaiti dinar has three decimals, the euro two."""
    assert cells.price("KWD")("1.250", "")["price_minor"] == 1250
    with pytest.raises(InputError, match="can be read in two ways"):
        cells.price("EUR")("1.250", "")


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
