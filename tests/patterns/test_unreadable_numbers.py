"""A number that cannot be read, or in two ways, stops no text: its field is left to the reader."""

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shopdesk.patterns.fields.deciding import FieldReading
from shopdesk.patterns.phrases.mentions import BallPutUp, Measure, Sureness
from shopdesk.patterns.reading import PatternReading, read_pattern
from shopdesk.patterns.report import report_document
from shopdesk.patterns.to_ask import ask_document
from tests.patterns.odd_numbers import TWO_WAYS, headers


def field_of(reading: PatternReading, name: str) -> FieldReading:
    return next(each for each in reading.readings if each.name == name)


def codes(reading: PatternReading) -> set[str]:
    return {notice.message.code for notice in reading.notices}


@pytest.mark.parametrize(
    ("text", "language", "readings"),
    [
        ("1.200 m of DK wool", "en", ("1.2", "1200")),
        ("1,200 m Wolle", "de", ("1.2", "1200")),
        ("1,200 m de laine", "fr", ("1.2", "1200")),
        ("12.340 yds", "en", ("12.34", "12340")),
    ],
)
def test_a_number_with_two_readings_makes_its_field_unclear(
    text: str, language: str, readings: tuple[str, str]
) -> None:
    reading = read_pattern(f"{text}\n", language)
    amount = field_of(reading, "amount main")
    assert amount.sure is Sureness.UNCLEAR
    offered = {value.values[0] for value in (amount.value, *amount.others)
               if isinstance(value, Measure)}  # fmt: skip
    assert offered == {Decimal(each) for each in readings}
    assert "intake.number_two_ways" in codes(reading)


@pytest.mark.parametrize("thousands", [("1,200 m", "en"), ("1.200 m", "de"), ("1 200 m", "fr")])
def test_thousands_of_the_texts_own_language_are_read(thousands: tuple[str, str]) -> None:
    text, language = thousands
    reading = read_pattern(f"{text}\n22 sts", language)
    amount = field_of(reading, "amount main")
    assert (amount.value, amount.sure) == (Measure((Decimal(1200),), "m"), Sureness.LIKELY)
    assert "intake.number_two_ways" not in codes(reading)


def test_a_put_up_offers_both_readings() -> None:
    reading = read_pattern("balls of 100 g = 1.200 m, lace", "en")
    names = ("put_up", "ball_length", "amount main")
    found = [each for each in reading.readings if each.name in names]
    assert found
    assert all(each.sure is Sureness.UNCLEAR for each in found)
    assert not any(
        isinstance(each.value, BallPutUp | Measure) and each.sure is Sureness.SURE for each in found
    )


def test_sizes_on_lines_of_their_own_are_as_unclear_as_one_of_them() -> None:
    reading = read_pattern("M: 1.200 m\nL: 1400 m", "en")
    amount = field_of(reading, "amount main")
    assert amount.sure is Sureness.UNCLEAR


@pytest.mark.parametrize("number", ["1.200.5", "12,34,56,78,9/4", "١٢٠", "1 5/4", "١/٢"])
def test_a_number_that_cannot_be_read_is_said_and_no_part_of_it_is_taken(number: str) -> None:
    reading = read_pattern(f"hat, DK\n\n{number} km\n\n22 sts = 10 cm", "en")
    said = [reading.text[span.start : span.end] for span in reading.not_understood]
    assert any(number in words for words in said), said
    assert {each.name for each in reading.readings} == {
        "item", "weight", "craft", "stitches", "over",
    }  # fmt: skip


def test_all_else_of_the_text_is_read() -> None:
    ask = ask_document(read_pattern(TWO_WAYS))
    assert ask["gauge"] == {
        "stitches": 22, "rows": 30, "over": {"value": 10, "unit": "cm"},
    }  # fmt: skip
    assert ask["designer_yarn"]["weight"] == ["DK"]
    assert ask["tool"] == {"size": "4", "system": "mm"}
    assert ask["parts"] == [{"name": "main", "amount": {"kind": "unknown"}}]


@pytest.mark.parametrize(
    "line",
    ["0 g = 0 m", "balls of 50 g = 0 m", "0 sts and 0 rows = 0 cm", "0 wpi", "5 (0, 7) balls"],
)
def test_nothing_is_read_from_a_zero(line: str) -> None:
    plain, odd = (read_pattern(f"hat\n{more}\nDK, 4 mm needles") for more in ("", line))
    known = {"ball_mass", "amount main"}
    assert {r.name for r in odd.readings} - known == {r.name for r in plain.readings} - known


@given(headers(), st.sampled_from(["en", "de", "fr"]))
def test_no_number_stops_a_text(text: str, language: str) -> None:
    reading = read_pattern(text, language)
    names = {each.name for each in reading.readings}
    assert names >= {"weight", "fibres"}
    assert language != "en" or names >= {"item", "stitches", "over"}
    assert ask_document(reading)
    assert report_document(reading)
