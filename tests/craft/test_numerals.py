"""The strict number reader. What a numeral is worth is arithmetic; what is refused is our rule."""

import re
from decimal import Decimal
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shopdesk.craft.messages import Message, message
from shopdesk.craft.numerals import LONGEST, VULGAR, WRITTEN_PATTERN, NumberRefused, read_number


@pytest.mark.parametrize(
    ("text", "value"),
    [
        ("22", "22"),
        (" 22 ", "22"),
        ("007", "7"),
        ("3,5", "3.5"),
        ("3.5", "3.5"),
        (".5", "0.5"),
        (",75", "0.75"),
        ("+3", "3"),
        ("-3", "-3"),
        ("\u22123,5", "-3.5"),
        ("3/4", "0.75"),
        ("1 1/2", "1.5"),
        ("1  1/2", "1.5"),
        ("10-1/2", "10.5"),
        ("10\u20111/2", "10.5"),
        ("1\u00a01/2", "1.5"),
        ("1\u202f1/2", "1.5"),
        ("1\u20091\u20442", "1.5"),
        ("5½", "5.5"),
        ("5 ½", "5.5"),
        ("5\u00a0½", "5.5"),
        ("10-½", "10.5"),
        ("¾", "0.75"),
        ("⅞", "0.875"),
        ("2⅖", "2.4"),
        ("1/3", "0.333333333333"),
        ("2/3", "0.666666666667"),
        ("0,375", "0.375"),
        ("22.125", "22.125"),
        ("1200", "1200"),
    ],
)
def test_reads_what_people_write(text: str, value: str) -> None:
    assert read_number(text) == Decimal(value)


@pytest.mark.parametrize(
    "text",
    [
        "", "   ", "abc", "NaN", "nan", "sNaN", "inf", "-Infinity", "1e9", "1E3", "2.5e-1", "1_000",
        "0x10", "٣", "３", "३.५", "①", "²", "Ⅻ", "5½½", "5.5½", "½5", "1/0", "0/0", "1 1/0", "1//2",
        "1/2/3", "3/2", "11/2", "1 3/2", "1 0/2", "1 2/2", "5.", ".", ",", "3,5,1", "--3", "+-3",
        "1 200", "1'200", "1,200,000", "1.200.000", "1,200.5", "1 200,5", "<b>1</b>", "1\n2",
        "1\x00", "10-12", "£5", "5%", "1" * (LONGEST + 1), "½/2", "1 ½ 2",
    ],
)  # fmt: skip
def test_refuses_everything_else_with_what_would_do(text: str) -> None:
    with pytest.raises(NumberRefused) as refusal:
        read_number(text)
    assert refusal.value.wrong
    assert refusal.value.right


@pytest.mark.parametrize(
    ("text", "readings"),
    [
        ("1,200", ("1200", "1.2")),
        ("1.200", ("1200", "1.2")),
        ("12,345", ("12345", "12.345")),
        ("11/2", ("1 1/2", "5.5")),
        ("103/4", ("10 3/4", "25.75")),
    ],
)
def test_two_readings_are_both_offered(text: str, readings: tuple[str, str]) -> None:
    with pytest.raises(NumberRefused, match="two ways") as refusal:
        read_number(text)
    assert refusal.value.right == f"write {readings[0]} or {readings[1]}"


def test_money_with_three_decimals_keeps_its_point() -> None:
    assert read_number("1.250", thousandths=True) == Decimal("1.25")
    with pytest.raises(NumberRefused, match="two ways"):
        read_number("1,250", thousandths=True)


@pytest.mark.parametrize(
    ("text", "word"),
    [
        ("1e9", "exponent"),
        ("٣", "another script"),
        ("1 200", "thousands"),
        ("1/0", "divides by zero"),
        ("9" * 60, "too long"),
        ("", "nothing"),
    ],
)
def test_the_refusal_says_why(text: str, word: str) -> None:
    with pytest.raises(NumberRefused, match=word):
        read_number(text)


def test_every_vulgar_fraction_is_what_unicode_says() -> None:
    """The Unicode Character Database gives each its numeric value."""
    import unicodedata

    for sign, value in VULGAR.items():
        assert float(value) == pytest.approx(unicodedata.numeric(sign), abs=1e-9)
        assert read_number(f"7{sign}") == pytest.approx(Decimal(7) + read_number(sign))


@given(st.decimals(allow_nan=False, allow_infinity=False, min_value=-(10**9), max_value=10**9))
def test_a_plain_decimal_comes_back_unchanged(value: Decimal) -> None:
    text = f"{value:f}"
    text = text.rstrip("0").rstrip(".") if "." in text else text
    if len(text) > LONGEST:
        return
    assert read_number(text) == value
    whole, _, places = text.partition(".")
    if len(places) != 3 or len(whole.lstrip("-")) > 3 or whole.lstrip("-") == "0":
        assert read_number(text.replace(".", ",")) == value


@given(st.integers(1, 999), st.integers(1, 15), st.integers(2, 16))
def test_a_mixed_number_is_whole_plus_part(whole: int, top: int, bottom: int) -> None:
    text = f"{whole} {top}/{bottom}"
    if top >= bottom:
        with pytest.raises(NumberRefused):
            read_number(text)
        return
    exact = whole + Fraction(top, bottom)
    read = Fraction(read_number(text))
    assert abs(read - exact) <= Fraction(1, 2 * 10**12)
    assert read_number(f"{whole}-{top}/{bottom}") == read_number(text)


@given(st.text(max_size=60))
def test_any_text_is_a_finite_number_or_a_refusal(text: str) -> None:
    try:
        value = read_number(text)
    except NumberRefused:
        return
    assert value.is_finite()
    assert set(text) & set("0123456789" + "".join(VULGAR))


@given(st.text(alphabet="0123456789.,/ -½e'", max_size=14))
def test_numeral_like_text_is_read_the_same_without_its_outer_space(text: str) -> None:
    def outcome(written: str) -> object:
        try:
            return read_number(written)
        except NumberRefused:
            return None

    assert outcome(text) == outcome(f"\u00a0{text}\t")


@given(st.text(alphabet="0123456789.,/ -½e\u00a0", max_size=12))
def test_the_schemas_pattern_matches_all_that_is_read(text: str) -> None:
    try:
        read_number(text)
    except NumberRefused:
        return
    assert re.match(WRITTEN_PATTERN, text)


@pytest.mark.parametrize("text", ["1e9", "NaN", "3 apples", "", "5.", "٣"])
def test_the_schemas_pattern_refuses_what_is_no_number(text: str) -> None:
    assert re.match(WRITTEN_PATTERN, text) is None


def right_of(text: str) -> Message | None:
    with pytest.raises(NumberRefused) as refusal:
        read_number(text)
    return refusal.value.problem.right


@pytest.mark.parametrize(
    ("text", "code"),
    [
        ("1 2/2", "fraction_behind"), ("1 3/2", "fraction_behind"), ("1 0/2", "fraction_behind"),
        ("2/2", "improper"), ("3/2", "improper"), ("1/0", "by_zero"), ("1 1/0", "by_zero"),
        ("1" * 41, "number_long"), ("1/1", "improper"),
    ],
)  # fmt: skip
def test_a_fraction_is_below_one_and_over_something(text: str, code: str) -> None:
    with pytest.raises(NumberRefused) as refusal:
        read_number(text)
    assert refusal.value.problem.wrong.code == f"problem_reading.{code}"


@pytest.mark.parametrize(
    ("text", "right"),
    [
        # A lost space is offered only where the last figure makes a fraction below one.
        ("11/2", message("problem_reading.write_either", one="1 1/2", other="5.5")),
        ("12/2", message("problem_reading.write_this", text="6")),
        ("13/2", message("problem_reading.write_this", text="6.5")),
        ("10/2", message("problem_reading.write_this", text="5")),
        ("3/2", message("problem_reading.write_this", text="1.5")),
        ("3/1", message("problem_reading.write_this", text="3")),
        ("9/4", message("problem_reading.write_this", text="2.25")),
        ("20/20", message("problem_reading.write_this", text="1")),
    ],
)
def test_what_a_fraction_above_one_may_mean(text: str, right: Message) -> None:
    assert right_of(text) == right


def test_40_letters_are_a_number_and_zero_is_one_too() -> None:
    assert LONGEST == 40
    assert read_number("1".zfill(40)) == 1
    for zero in ("0", "0/4", "0.0"):
        assert read_number(zero) == 0
    assert read_number("1/4") == Decimal("0.25")
    assert read_number("½") == Decimal("0.5")


@pytest.mark.parametrize("text", ["1.250", "12.350", "999.000"])
def test_only_a_point_may_have_three_places_of_money(text: str) -> None:
    assert read_number(text, thousandths=True) == Decimal(text)
    with pytest.raises(NumberRefused):
        read_number(text.replace(".", ","), thousandths=True)
    with pytest.raises(NumberRefused):
        read_number(text)
