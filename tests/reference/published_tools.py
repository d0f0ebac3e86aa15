"""Needle and hook sizes as the size charts of the trade print them."""

from tests.reference.published import Rows, published

CHARTS = "needle size charts of the trade: metric, US, old UK"


@published("needles", CHARTS)
def us_numbers_grow_with_the_needle(rows: Rows) -> None:
    chart = (
        "000=1.50 00=1.75 0=2.00 1=2.25 2=2.75 3=3.25 4=3.50 5=3.75 6=4.00 7=4.50 8=5.00 9=5.50 "
        "10=6.00 10½=6.50 11=8.00 13=9.00 15=10.00 17=12.00 17=12.75 19=15.00 19=16.00 35=19.00 "
        "36=20.00 50=25.00"
    )
    assert [f"{row['us']}={row['mm']}" for row in rows if row["us"]] == chart.split()


@published("needles", CHARTS)
def old_uk_numbers_fall_with_the_needle(rows: Rows) -> None:
    chart = (
        "14=2.00 13=2.25 12=2.75 11=3.00 10=3.25 9=3.75 8=4.00 7=4.50 6=5.00 5=5.50 4=6.00 "
        "3=6.50 2=7.00 1=7.50 0=8.00 00=9.00 000=10.00"
    )
    assert [f"{row['uk']}={row['mm']}" for row in rows if row["uk"]] == chart.split()


@published("needles", CHARTS)
def sizes_in_order(rows: Rows) -> None:
    sizes = [float(row["mm"]) for row in rows]
    assert sizes == sorted(sizes)
    assert all(row["us"] or row["uk"] for row in rows if row["mm"] != "2.50")


@published("needles", "Standard Yarn Weight System: recommended needles in metric and US sizes")
def needle_ranges_of_the_standard(rows: Rows) -> None:
    us_of = {row["us"]: float(row["mm"]) for row in rows}
    metric = [1.5, 2.25, 3.25, 3.75, 4.5, 5.5, 8, 12.75]
    assert [us_of[number] for number in ["000", "1", "3", "5", "7", "9", "11", "17"]] == metric


@published("needle_numbers_disputed", CHARTS + ", set against each other")
def numbers_that_charts_use_differently(rows: Rows) -> None:
    found = {row["us"]: row["mm_by_some"].split() for row in rows}
    assert found == {
        "1½": ["2.5"], "2½": ["3"], "10¾": ["7"], "17": ["12", "12.75"], "19": ["15", "16"],
    }  # fmt: skip


@published(
    "hooks", "hook size charts of the trade: metric, US; P/Q and S: a unit converter's table"
)
def us_hooks(rows: Rows) -> None:
    chart = (
        "B-1=2.25 C-2=2.75 D-3=3.25 E-4=3.50 F-5=3.75 G-6=4.00 7=4.50 H-8=5.00 I-9=5.50 "
        "J-10=6.00 K-10½=6.50 L-11=8.00 M/N-13=9.00 N/P-15=10.00 "
        "P/Q=15.00 S=19.00"
    )
    assert [f"{row['us']}={row['mm']}" for row in rows if row["us"]] == chart.split()


@published("hooks_steel", "pages of single makers: number 7 is 1.50 mm by one, 1.65 mm by another")
def steel_hook_7_is_two_sizes(rows: Rows) -> None:
    assert [row["mm_by_some"].split() for row in rows if row["us"] == "7"] == [["1.5", "1.65"]]


@published("hook_letters_disputed", "pages of single makers: K was 7.0 mm and is 6.5 mm today")
def letter_k_was_another_size(rows: Rows) -> None:
    assert [row["mm_by_some"].split() for row in rows if row["us"] == "K"] == [["6.5", "7"]]


@published(
    "hooks_old_uk", "hook size charts of the trade: old UK hook 9 is 3.5 mm, needle 9 is 3.75"
)
def old_uk_hook_9_is_no_needle_9(rows: Rows) -> None:
    assert [row["mm_by_some"] for row in rows if row["uk"] == "9"] == ["3.5"]


@published("needles_japanese", "needle size charts of the trade: 0 is 2.1 mm, +0.3 each, 15 is 6.6")
def japanese_numbers_grow_by_three_tenths(rows: Rows) -> None:
    assert [int(row["jp"]) for row in rows] == list(range(16))
    tenths = [round(float(row["mm"]) * 10) for row in rows]
    assert tenths == list(range(21, 67, 3))
