"""The weight categories as the Craft Yarn Council prints them."""

from tests.reference.published import Rows, published

STANDARD = "Craft Yarn Council, Standard Yarn Weight System"


def _printed(rows: Rows, low: str, high: str) -> list[str]:
    return [f"{row[low]}-{row[high]}" for row in rows]


@published("weights", STANDARD)
def names_in_their_order(rows: Rows) -> None:
    assert [(row["number"], row["name"]) for row in rows] == [
        ("0", "Lace"), ("1", "Super Fine"), ("2", "Fine"), ("3", "Light"),
        ("4", "Medium"), ("5", "Bulky"), ("6", "Super Bulky"), ("7", "Jumbo"),
    ]  # fmt: skip


@published("weights", STANDARD + ": types of yarn in category")
def types_of_yarn(rows: Rows) -> None:
    assert [set(row["trade_names"].split("; ")) for row in rows] == [
        {"cobweb", "lace", "light fingering", "10-count crochet thread"},
        {"sock", "fingering", "baby"},
        {"sport", "baby"},
        {"DK", "light worsted"},
        {"worsted", "afghan", "aran"},
        {"chunky", "craft", "rug"},
        {"super bulky", "roving"},
        {"jumbo", "roving"},
    ]


@published("weights", STANDARD + ": knit gauge in stockinette to 4 in")
def knit_gauge(rows: Rows) -> None:
    assert _printed(rows, "knit_low", "knit_high") == [
        "33-40", "27-32", "23-26", "21-24", "16-20", "12-15", "7-11", "-6",
    ]  # fmt: skip


@published("weights", STANDARD + ": recommended needle in metric size")
def needles(rows: Rows) -> None:
    assert _printed(rows, "needle_mm_low", "needle_mm_high") == [
        "1.5-2.25", "2.25-3.25", "3.25-3.75", "3.75-4.5", "4.5-5.5", "5.5-8", "8-12.75", "12.75-",
    ]  # fmt: skip


@published("weights", STANDARD + ": crochet gauge to 4 in")
def crochet_gauge(rows: Rows) -> None:
    assert _printed(rows, "crochet_low", "crochet_high") == [
        "32-42", "21-32", "16-20", "12-17", "11-14", "8-11", "7-9", "-6",
    ]  # fmt: skip
    assert [row["crochet_stitch"] for row in rows] == ["double crochet"] + ["single crochet"] * 7


@published("weights", STANDARD + ": recommended hook in metric size")
def hooks(rows: Rows) -> None:
    """Lace: steel 1.6 to 1.4 mm, regular 2.25 mm."""
    assert _printed(rows, "hook_mm_low", "hook_mm_high") == [
        "1.4-2.25", "2.25-3.5", "3.5-4.5", "4.5-5.5", "5.5-6.5", "6.5-9", "9-15", "15-",
    ]  # fmt: skip


@published("weight_wraps", STANDARD + ": wraps per inch")
def wraps_per_inch(rows: Rows) -> None:
    """Lace: 30 to 40 and more."""
    assert [row["weight"] for row in rows] == list("01234567")
    assert _printed(rows, "wraps_low", "wraps_high") == [
        "30-", "14-30", "12-18", "11-15", "9-12", "6-9", "5-6", "1-4",
    ]  # fmt: skip


@published("weight_lengths", "order of the categories: finer yarn is longer per mass")
def finer_is_longer(rows: Rows) -> None:
    lows = [float(row["metres_low"] or 0) for row in rows]
    assert lows == sorted(lows, reverse=True)
    highs = [float(row["metres_high"] or "inf") for row in rows]
    assert highs == sorted(highs, reverse=True)
    assert all(low < high for low, high in zip(lows, highs, strict=True))
