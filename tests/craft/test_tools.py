"""Needle and hook sizes against size charts of the trade (metric, US, old UK)."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shopdesk.craft.messages import Message, message
from shopdesk.craft.tools import (
    SYSTEMS,
    ToolRefused,
    made_sizes,
    named_size,
    nearest_made,
    stepped,
    tool_mm,
    tool_numbers,
)
from shopdesk.craft.yarn import Craft
from shopdesk.reference.tables import table


@pytest.mark.parametrize(
    ("size", "system", "mm"),
    [
        ("4", "mm", 4), ("4.0", "mm", 4), ("4,5", "mm", 4.5), ("4.5 mm", "mm", 4.5),
        ("4mm", "mm", 4),
        ("3¾", "mm", 3.75), ("3 3/4", "mm", 3.75), ("12.75", "mm", 12.75), ("3.6", "mm", 3.6),
        ("6", "US", 4), ("US 6", "US", 4), ("size 6", "US", 4), ("#6", "US", 4), ("0", "US", 2),
        ("000", "US", 1.5), ("10½", "US", 6.5), ("10 1/2", "US", 6.5), ("10-1/2", "US", 6.5),
        ("10.5", "US", 6.5), ("10,5", "US", 6.5), ("35", "US", 19), ("50", "US", 25),
        ("8", "UK", 4), ("UK 8", "UK", 4), ("00", "UK", 9), ("000", "UK", 10), ("14", "UK", 2),
    ],
)  # fmt: skip
def test_needles_are_read_to_mm(size: str, system: str, mm: float) -> None:
    assert tool_mm(size, system, Craft.KNIT) == mm


@pytest.mark.parametrize(
    ("size", "mm"),
    [
        ("H-8", 5), ("H", 5), ("h", 5), ("8", 5), ("H/8", 5), ("H 8", 5), ("H8", 5), ("US H-8", 5),
        ("7", 4.5), ("K-10½", 6.5), ("K-10 1/2", 6.5), ("K10 1/2", 6.5), ("10½", 6.5), ("10", 6),
        ("M/N-13", 9), ("N-13", 9), ("N-15", 10), ("13", 9), ("P/Q", 15), ("S", 19), ("K", 6.5),
        # Steel hooks of one size only, from memory: 00 is the thickest, 14 the thinnest.
        ("steel 00", 3.5), ("steel 14", 0.75), ("No. 12 steel hook", 1), ("US steel 2", 2.25),
    ],
)  # fmt: skip
def test_us_hooks_are_read_to_mm(size: str, mm: float) -> None:
    assert tool_mm(size, "US", Craft.CROCHET) == mm


@pytest.mark.parametrize(
    ("size", "system", "craft", "wrong"),
    [
        ("17", "US", Craft.KNIT, "every chart"),
        ("19", "US", Craft.KNIT, "every chart"), ("4.0", "US", Craft.KNIT, "no US needle"),
        ("4 mm", "US", Craft.KNIT, "says mm"), ("US 7", "UK", Craft.KNIT, "says US"),
        ("12", "US", Craft.KNIT, "no US needle"), ("3.5", "UK", Craft.KNIT, "no UK needle"),
        ("-8", "US", Craft.KNIT, "no US needle"), ("", "US", Craft.KNIT, "no size"),
        ("mm", "mm", Craft.KNIT, "no size"), ("0", "mm", Craft.KNIT, "measures"),
        ("-4", "mm", Craft.KNIT, "measures"), ("400", "mm", Craft.KNIT, "measures"),
        ("NaN", "mm", Craft.KNIT, "not a number"), ("4e0", "mm", Craft.KNIT, "exponent"),
        ("٤", "mm", Craft.KNIT, "another script"), ("3.5-4", "mm", Craft.KNIT, "not a number"),
        ("<i>4</i>", "mm", Craft.KNIT, "not a number"), ("8" * 50, "US", Craft.KNIT, "too long"),
        ("M", "US", Craft.CROCHET, "every chart"), ("P", "US", Craft.CROCHET, "every chart"),
        ("H-9", "US", Craft.CROCHET, "no US hook"), ("Z", "US", Craft.CROCHET, "no US hook"),
        ("Q", "US", Craft.CROCHET, "every chart"), ("steel 7", "US", Craft.CROCHET, "every chart"),
        ("steel 15", "US", Craft.CROCHET, "no US steel hook"),
        ("15", "UK", Craft.CROCHET, "no UK hook"), ("10", "UK", Craft.CROCHET, "every chart"),
        ("steel 5", "UK", Craft.CROCHET, "no UK steel hook"),
        ("5", "JP", Craft.CROCHET, "no JP hook"), ("16", "JP", Craft.KNIT, "no JP needle"),
        ("5.5", "JP", Craft.KNIT, "no JP needle"), ("Japanese 5", "US", Craft.KNIT, "says JP"),
        ("steel 12", "US", Craft.KNIT, "old steel needles"),
        ("8", "EU", Craft.KNIT, "not a system"),
    ],
)  # fmt: skip
def test_what_names_no_single_tool_is_refused(
    size: str, system: str, craft: Craft, wrong: str
) -> None:
    with pytest.raises(ToolRefused) as refusal:
        tool_mm(size, system, craft)
    assert wrong in refusal.value.wrong
    assert refusal.value.right


def test_a_size_may_be_written_in_20_letters_and_no_more() -> None:
    assert tool_mm("4".zfill(20), "mm", Craft.KNIT) == 4
    with pytest.raises(ToolRefused) as refusal:
        tool_mm("4".zfill(21), "mm", Craft.KNIT)
    assert refusal.value.problem.wrong.code == "problem_yarn.tool_long"


@pytest.mark.parametrize(
    ("size", "system", "craft", "mm"),
    [
        # Charts: old UK hook 9 is 3.5 mm, needle 9 is 3.75; the other hooks from memory.
        ("9", "UK", Craft.CROCHET, 3.5), ("9", "UK", Craft.KNIT, 3.75),
        ("UK 4", "UK", Craft.CROCHET, 6), ("000", "UK", Craft.CROCHET, 10),
        ("0", "JP", Craft.KNIT, 2.1), ("15", "JP", Craft.KNIT, 6.6),
        ("JP 7", "JP", Craft.KNIT, 4.2),
        ("Japanese 6", "JP", Craft.KNIT, 3.9), ("no. 5", "JP", Craft.KNIT, 3.6),
        ("1½", "US", Craft.KNIT, 2.5), ("2 1/2", "US", Craft.KNIT, 3), ("10¾", "US", Craft.KNIT, 7),
        ("1.5 mm steel", "mm", Craft.CROCHET, 1.5), ("steel 14", "UK", Craft.KNIT, 2),
    ],
)  # fmt: skip
def test_numbers_of_other_charts_are_read(size: str, system: str, craft: Craft, mm: float) -> None:
    assert tool_mm(size, system, craft) == mm


@pytest.mark.parametrize(
    ("size", "system", "craft", "mm", "doubt"),
    [
        ("1½", "US", Craft.KNIT, (2.5,), "tool.size_on_some_charts"),
        ("17", "US", Craft.KNIT, (12, 12.75), "tool.size_disputed"),
        ("steel 7", "US", Craft.CROCHET, (1.5, 1.65), "tool.size_disputed"),
        ("steel 12", "US", Craft.CROCHET, (1,), "tool.size_from_memory"),
        ("P", "US", Craft.CROCHET, (10, 11.5, 15), "tool.size_disputed"),
        ("K", "US", Craft.CROCHET, (6.5,), "tool.size_disputed"),
        ("K-10½", "US", Craft.CROCHET, (6.5,), None), ("S", "US", Craft.CROCHET, (19,), None),
        ("8", "UK", Craft.CROCHET, (4,), "tool.size_from_memory"),
        ("9", "UK", Craft.CROCHET, (3.5,), None), ("8", "US", Craft.KNIT, (5,), None),
        ("5", "JP", Craft.KNIT, (3.6,), None), ("4", "mm", Craft.KNIT, (4,), None),
    ],
)  # fmt: skip
def test_every_size_that_a_name_may_mean_is_kept_and_the_doubt_said(
    size: str, system: str, craft: Craft, mm: tuple[float, ...], doubt: str | None
) -> None:
    named = named_size(size, system, craft)
    assert named.mm == mm
    assert (named.doubt.code if named.doubt else None) == doubt


def test_a_disputed_letter_says_all_its_sizes() -> None:
    doubt = named_size("Q", "US", Craft.CROCHET).doubt
    assert doubt == message("tool.size_disputed", number="Q", sizes="15, 15.75, 16")


@pytest.mark.parametrize(
    ("name", "column"), [("hooks_steel", "us"), ("needles_japanese", "jp"), ("hooks_old_uk", "uk")]
)
def test_numbers_of_a_table_run_one_way(name: str, column: str) -> None:
    """Steel and old UK hooks get thinner as the number grows, Japanese needles thicker."""
    order = {"000": -2, "00": -1}
    rows = sorted(table(name), key=lambda row: order.get(row[column], float(row[column])))
    sizes = [max(map(float, (row.get("mm_by_some") or row["mm"]).split())) for row in rows]
    assert sizes == sorted(sizes, reverse=name != "needles_japanese")
    assert len(set(sizes)) == len(sizes)


def test_us_and_uk_numbers_agree_only_at_4_5_mm() -> None:
    """Known of the two systems: they run in opposite directions and meet at 7."""
    numbers = {mm: tool_numbers(mm, Craft.KNIT) for mm in made_sizes(Craft.KNIT)}
    assert [mm for mm, (us, uk) in numbers.items() if us == uk and us] == [4.5]


@pytest.mark.parametrize("craft", list(Craft))
def test_every_number_leads_back_to_its_mm_or_is_asked(craft: Craft) -> None:
    asked = set()
    for mm in made_sizes(craft):
        for number, system in zip(tool_numbers(mm, craft), ("US", "UK"), strict=True):
            if number is None:
                continue
            try:
                assert tool_mm(number, system, craft) == mm
            except ToolRefused:
                asked.add((number, system))
    assert asked == ({("17", "US"), ("19", "US")} if craft is Craft.KNIT else set())


def test_sizes_without_a_number_have_none() -> None:
    assert tool_numbers(7.0, Craft.KNIT) == (None, "2")
    assert tool_numbers(3.5, Craft.KNIT) == ("4", None)
    assert tool_numbers(4.2, Craft.KNIT) == (None, None)
    assert tool_numbers(5.0, Craft.CROCHET) == ("H-8", None)


def test_the_nearest_made_size() -> None:
    assert nearest_made(4.1, Craft.KNIT) == 4.0
    assert nearest_made(5.25, Craft.KNIT) == 5.0
    assert nearest_made(0.1, Craft.KNIT) == made_sizes(Craft.KNIT)[0]
    assert nearest_made(99, Craft.CROCHET) == made_sizes(Craft.CROCHET)[-1]


def test_steps_stay_inside_the_table() -> None:
    assert stepped(4.0, 1, Craft.KNIT) == 4.5
    assert stepped(4.0, -1, Craft.KNIT) == 3.75
    assert stepped(4.0, 0, Craft.KNIT) == 4.0
    assert stepped(25, 3, Craft.KNIT) == 25
    assert stepped(1.5, -9, Craft.KNIT) == 1.5


@given(st.floats(1, 30), st.integers(-4, 4), st.sampled_from(list(Craft)))
def test_stepping_up_never_makes_it_smaller(mm: float, steps: int, craft: Craft) -> None:
    assert stepped(mm, steps, craft) <= stepped(mm, steps + 1, craft)
    assert stepped(mm, steps, craft) in made_sizes(craft)


@given(st.text(max_size=25), st.sampled_from(SYSTEMS), st.sampled_from(list(Craft)))
def test_any_text_is_a_size_or_a_refusal(size: str, system: str, craft: Craft) -> None:
    try:
        mm = tool_mm(size, system, craft)
    except ToolRefused:
        return
    assert 0.5 <= mm <= 50


def test_metric_hooks_as_they_are_made() -> None:
    # Common practice, no source: by quarters to 4 mm, by halves to 7, and some larger ones.
    # Steel ones below 2 mm; 19 mm is letter S of a unit converter's table.
    steel = [0.6, 0.75, 1, 1.25, 1.5, 1.75]
    quarters = [2 + n / 4 for n in range(9)]
    assert made_sizes(Craft.CROCHET) == (
        *steel, *quarters, 4.5, 5, 5.5, 6, 6.5, 7, 8, 9, 10, 12, 15, 19,
    )  # fmt: skip


@pytest.mark.parametrize("mm", ["0.5", "50"])
def test_a_tool_measures_half_a_millimetre_to_50(mm: str) -> None:
    assert tool_mm(mm, "mm", Craft.KNIT) == float(mm)


@pytest.mark.parametrize("mm", ["0.49", "50.1"])
def test_a_tool_measures_no_less_and_no_more(mm: str) -> None:
    with pytest.raises(ToolRefused) as refusal:
        tool_mm(mm, "mm", Craft.KNIT)
    assert refusal.value.problem.wrong == message("problem_yarn.no_such_mm", text=mm)
    assert refusal.value.problem.right == message("problem_yarn.write_mm")


@pytest.mark.parametrize(
    ("size", "system", "craft", "right"),
    [
        ("x", "mm", Craft.CROCHET, message("problem_yarn.write_mm")),
        ("Z", "US", Craft.CROCHET, message("problem_yarn.write_hook")),
        ("12", "US", Craft.KNIT, message("problem_yarn.write_needle", system="US")),
        ("12.5", "UK", Craft.KNIT, message("problem_yarn.write_needle", system="UK")),
        ("P", "US", Craft.CROCHET,
         message("problem_yarn.often_either", one="10, 11.5", other="15")),
        ("steel 7", "US", Craft.CROCHET,
         message("problem_yarn.often_either", one="1.5", other="1.65")),
        ("16", "UK", Craft.CROCHET, message("problem_yarn.hook_in_mm")),
        ("steel 12", "US", Craft.KNIT, message("problem_yarn.write_mm")),
        ("17", "US", Craft.KNIT, message("problem_yarn.often_either", one="12", other="12.75")),
        ("½", "US", Craft.KNIT, message("problem_yarn.write_needle", system="US")),
        ("-1", "UK", Craft.KNIT, message("problem_yarn.write_needle", system="UK")),
    ],
)  # fmt: skip
def test_what_would_be_right_is_of_system_and_craft(
    size: str, system: str, craft: Craft, right: Message
) -> None:
    with pytest.raises(ToolRefused) as refusal:
        tool_mm(size, system, craft)
    assert refusal.value.problem.right == right


@pytest.mark.parametrize(("number", "mm"), [("1", 2.25), ("01", 2.25), ("1.0", None)])
def test_a_small_number_is_read_whole(number: str, mm: float | None) -> None:
    # Trade charts: US 1 is 2.25 mm. A size of 1.0 is more likely one in mm.
    if mm is None:
        with pytest.raises(ToolRefused):
            tool_mm(number, "US", Craft.KNIT)
    else:
        assert tool_mm(number, "US", Craft.KNIT) == mm


def test_20_letters_of_what_names_two_systems_are_told_back() -> None:
    with pytest.raises(ToolRefused) as refusal:
        tool_mm("US 4".ljust(10) + "mm", "US", Craft.KNIT)
    values = refusal.value.problem.wrong.values
    assert (values["said"], values["system"]) == ("mm", "US")


def test_more_than_four_noughts_are_no_needle() -> None:
    with pytest.raises(ToolRefused):
        tool_mm("00000", "US", Craft.KNIT)


def test_20_letters_of_a_size_in_another_system_are_told_back() -> None:
    written = "US" + " " * 30 + "4"
    with pytest.raises(ToolRefused) as refusal:
        tool_mm(written, "UK", Craft.KNIT)
    assert refusal.value.problem.wrong == message(
        "problem_yarn.systems_differ", text=written[:20], said="US", system="UK"
    )
