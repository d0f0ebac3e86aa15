import pytest
from hypothesis import given
from hypothesis import strategies as st
from stdnum import ean

from shopdesk.parsing.gtins import GtinRefused, read_gtin


@pytest.mark.parametrize(
    ("without", "check"),
    # Check digits worked in the GS1 General Specifications' manner: weights 3, 1 from the right.
    [("629104150021", "3"), ("730001100001", "7"), ("890400021003", "7")],
)
def test_worked_check_digits(without: str, check: str) -> None:
    assert read_gtin(without + check).digits == without + check
    for wrong in set("0123456789") - {check}:
        with pytest.raises(GtinRefused, match=f"would be {check}"):
            read_gtin(without + wrong)


@given(st.text("0123456789", min_size=7, max_size=13).filter(lambda s: len(s) in (7, 11, 12, 13)))
def test_agrees_with_python_stdnum(stem: str) -> None:
    number = stem + ean.calc_check_digit(stem)
    assert read_gtin(number).digits == number


@pytest.mark.parametrize(
    "written", ["", " ", "abc", "123", "1234567890", "٤٠٠٦٣٨١٣٣٣٩٣١", "4006381333931x", "-1"]
)
def test_refuses_what_is_no_number(written: str) -> None:
    with pytest.raises(GtinRefused) as refusal:
        read_gtin(written)
    assert refusal.value.wrong
    assert "digits" in refusal.value.right


def test_spaces_and_hyphens_are_left_out() -> None:
    assert read_gtin(" 4 006381-333931 ").digits == "4006381333931"


def test_upc_a_is_scanned_as_thirteen_digits() -> None:
    # 036000291452: the check digit of UPC-A as textbooks work it, from memory.
    assert read_gtin("036000291452").scanned == "0036000291452"
    assert read_gtin("00036000291452").scanned == "0036000291452"


def test_a_case_is_told_from_a_skein() -> None:
    case = "1" + "400638133393"
    case += ean.calc_check_digit(case)
    assert read_gtin(case).is_case
    assert not read_gtin("04006381333931").is_case


@pytest.mark.parametrize("prefix", ["02", "04", *map(str, range(20, 30))])
def test_restricted_prefixes_are_the_shops_own(prefix: str) -> None:
    # GS1 General Specifications: restricted circulation numbers.
    stem = prefix + "0123456789"
    assert read_gtin(stem + ean.calc_check_digit(stem)).in_store


@pytest.mark.parametrize("prefix", ["00", "01", "03", "05", "19", "30", "40", "97"])
def test_other_prefixes_are_not(prefix: str) -> None:
    stem = prefix + "0123456789"
    assert not read_gtin(stem + ean.calc_check_digit(stem)).in_store
