"""Quantities: spellings, refusals, and exact conversion.

Yard and pound: the international agreement of 1959, 1 yd = 0.9144 m, 1 lb = 453.59237 g.
"""

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shopdesk.craft.messages import Message, message
from shopdesk.craft.numerals import NumberRefused
from shopdesk.parsing import quantities
from shopdesk.parsing.quantities import (
    LENGTH_UNITS,
    MASS_UNITS,
    SPELLINGS,
    Quantity,
    centimetres,
    exact_factor,
    factor,
    grams,
    metres,
    millimetres,
    read_quantity,
    unit_named,
)


@pytest.mark.parametrize(
    ("text", "value", "unit"),
    [
        ("246 yd", "246", "yd"), ("246yd", "246", "yd"), ("246 yards", "246", "yd"),
        ("246 Yds.", "246", "yd"), ("246\u00a0yds", "246", "yd"), ("246\u202fm", "246", "m"),
        ("225 m", "225", "m"), ("225 M.", "225", "m"), ("225 mtrs", "225", "m"),
        ("225 Meter", "225", "m"), ("225 mètres", "225", "m"), ("225 verges", "225", "yd"),
        ("8 in", "8", "in"), ('8"', "8", "in"), ("8″", "8", "in"), ("8''", "8", "in"),
        ("8½ inches", "8.5", "in"), ("8 1/2 Zoll", "8.5", "in"), ("8,5 pouces", "8.5", "in"),
        ("5'", "5", "ft"), ("10 cm", "10", "cm"), ("100 millimetres", "100", "mm"),
    ],
)  # fmt: skip
def test_reads_lengths_as_people_spell_them(text: str, value: str, unit: str) -> None:
    assert read_quantity(text, LENGTH_UNITS) == Quantity(Decimal(value), unit)


@pytest.mark.parametrize(
    ("text", "value", "unit"),
    [
        ("50 g", "50", "g"), ("50g", "50", "g"), ("50 gr", "50", "g"), ("50 Gramm", "50", "g"),
        ("50 grammes", "50", "g"), ("1¾ oz", "1.75", "oz"), ("1 3/4 ounces", "1.75", "oz"),
        ("3,5 ozs", "3.5", "oz"), ("½ lb", "0.5", "lb"), ("1,5 Kilo", "1.5", "kg"),
        ("1 lbs.", "1", "lb"),
    ],
)  # fmt: skip
def test_reads_masses_as_people_spell_them(text: str, value: str, unit: str) -> None:
    assert read_quantity(text, MASS_UNITS) == Quantity(Decimal(value), unit)


@pytest.mark.parametrize(
    ("text", "why"),
    [
        ("", "nothing"), ("   ", "nothing"), ("m", "not a number"), ("abc m", "not a number"),
        ("220", "no unit"), ("220 furlongs", "not a unit"), ("220 g", "not a unit"),
        ("220 м", "not a unit"), ("220 ｍ", "not a unit"), ("1e3 m", "more than one"),
        ("NaN m", "not a number"), ("٣ m", "not a number"), ("5 ft 6 in", "more than one"),
        ("5'6\"", "more than one"),
        ("1 200 m", "thousands"), ("1'200 m", "thousands"), ("1,200 m", "two ways"),
        ("1.200 m", "two ways"), ("200 m2", "not a"), ("200 m²", "not a"),
        ("10-12 cm", "not a number"),
        ("<b>5 m</b>", "not a number"), ("5 m" + " " * 300, "not a number"),
        ("5 m/s", "not a unit"),
        ("11/2 in", "two ways"), ("1/0 m", "zero"),
    ],
)  # fmt: skip
def test_refuses_what_is_no_length(text: str, why: str) -> None:
    with pytest.raises(NumberRefused, match=why) as refusal:
        read_quantity(text, LENGTH_UNITS)
    assert refusal.value.right


def test_a_bare_number_takes_the_default_unit() -> None:
    assert read_quantity("220", LENGTH_UNITS, default="m") == Quantity(Decimal(220), "m")


def test_every_spelling_leads_to_a_unit_we_convert() -> None:
    assert set(SPELLINGS.values()) <= set(LENGTH_UNITS | MASS_UNITS)
    assert not set(SPELLINGS) & set(LENGTH_UNITS | MASS_UNITS)
    for word, unit in SPELLINGS.items():
        assert unit_named(word.upper(), LENGTH_UNITS | MASS_UNITS) == unit


def test_conversions_are_the_exact_definitions() -> None:
    assert metres(Quantity(Decimal(1), "yd")) == 0.9144
    assert grams(Quantity(Decimal(1), "lb")) == 453.59237
    assert grams(Quantity(Decimal(1), "oz")) == 28.349523125
    assert centimetres(Quantity(Decimal(4), "in")) == 10.16
    assert millimetres(Quantity(Decimal(1), "in")) == 25.4
    assert metres(Quantity(Decimal(3), "ft")) == 0.9144
    assert factor("yd", "in") == 36


@given(st.integers(1, 10**6), st.sampled_from(sorted(LENGTH_UNITS)))
def test_metres_in_any_unit_are_the_nearest_float(count: int, unit: str) -> None:
    exact = {
        "m": Decimal(1), "yd": Decimal("0.9144"), "cm": Decimal("0.01"), "mm": Decimal("0.001"),
        "in": Decimal("0.0254"), "ft": Decimal("0.3048"),
    }[unit]  # fmt: skip
    assert metres(Quantity(Decimal(count), unit)) == float(count * exact)


@given(st.text(max_size=40))
def test_any_text_is_a_quantity_or_a_refusal(text: str) -> None:
    try:
        read = read_quantity(text, LENGTH_UNITS)
    except NumberRefused:
        return
    assert read.unit in LENGTH_UNITS
    assert read.value.is_finite()


def wrong_of(text: str) -> Message:
    with pytest.raises(NumberRefused) as refused:
        read_quantity(text, LENGTH_UNITS)
    return refused.value.problem.wrong


def test_200_letters_may_be_a_quantity() -> None:
    assert read_quantity("10 m".rjust(200), LENGTH_UNITS) == Quantity(Decimal(10), "m")
    assert wrong_of("10 m".rjust(201)).code == "problem_reading.no_quantity"


def test_20_letters_of_a_unit_and_60_of_what_is_no_quantity_are_told_back() -> None:
    assert wrong_of("10 " + "x" * 30) == message("problem_reading.wrong_unit", text="x" * 20)
    assert wrong_of("y" * 70) == message("problem_reading.no_quantity", text="y" * 60)


def test_powers_of_ten_need_no_library(monkeypatch: pytest.MonkeyPatch) -> None:
    def never() -> None:
        raise AssertionError("the library was asked")

    monkeypatch.setattr(quantities, "_registry", never)
    exact_factor.cache_clear()
    # A metre is 100 cm and a kilogram 1000 g: exact, and found in the table alone.
    assert exact_factor("m", "cm") == Decimal(100)
    assert exact_factor("mm", "cm") == Decimal("0.1")
    assert exact_factor("kg", "g") == Decimal(1000)
