import pytest
from hypothesis import given
from hypothesis import strategies as st
from stdnum import ean

from shopdesk.craft.messages import message
from shopdesk.parsing.gtins import GtinRefused, article_key, read_gtin


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


@pytest.mark.parametrize(("first", "own"), [(n, n in (0, 2)) for n in range(10)])
def test_of_eight_digits_those_from_0_and_2_are_the_shops_own(first: int, own: bool) -> None:
    # GS1 General Specifications, from memory: GTIN-8 prefixes 0 and 2 are of restricted
    # circulation.
    stem = f"{first}123456"
    assert read_gtin(stem + ean.calc_check_digit(stem)).in_store is own


def test_an_article_has_one_key_in_every_length() -> None:
    # GS1 General Specifications: shorter numbers are filled with zeros to 14 digits.
    keys = {article_key(gtin) for gtin in ("036000291452", "0036000291452", "00036000291452")}
    assert keys == {"00036000291452"}
    assert article_key(" 9638-5074 ") == "00000096385074"


def test_a_number_of_another_length_is_told_its_digits() -> None:
    for count in (7, 9, 11, 15):
        with pytest.raises(GtinRefused) as refusal:
            read_gtin("0" * count)
        assert refusal.value.problem.wrong == message("problem_reading.gtin_length", count=count)
    assert read_gtin("96385074").scanned == "96385074"
    assert not read_gtin("96385074").is_case


def test_of_what_is_no_number_40_letters_are_told_back() -> None:
    with pytest.raises(GtinRefused) as refusal:
        read_gtin("x" * 50)
    assert refusal.value.problem.wrong.values == {"text": "x" * 40}
