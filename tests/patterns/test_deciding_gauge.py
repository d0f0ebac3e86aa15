"""Which of several gauges and tools is the main one."""

from decimal import Decimal

import pytest

from shopdesk.craft.messages import message
from shopdesk.patterns.fields.deciding import FieldReading, FieldReadings
from shopdesk.patterns.fields.deciding_gauge import decide_gauge, decide_tool
from shopdesk.patterns.phrases.mentions import Mention, Span, Sureness, Tool, Value
from tests.patterns.short_texts import said, told, words_said

SURE, LIKELY, UNCLEAR = Sureness
SAID = message("intake.units_differ")
DIFFERS = message("intake.tool_differs", written="US 6 (5 mm)")


def gauge(at: int, **found: Value) -> list[Mention]:
    return [
        Mention(name, Decimal(value) if isinstance(value, int) and value is not True else value,
                Span(at, at + 1), SURE, f"phrase {at}", at, extra=f"gauge {at}")
        for name, value in found.items()
    ]  # fmt: skip


def decided(*gauges: list[Mention]) -> FieldReadings:
    fields: dict[str, list[Mention]] = {}
    for each in (mention for one in gauges for mention in one):
        fields.setdefault(each.field, []).append(each)
    made = FieldReadings()
    decide_gauge(made, fields)
    return made


def read(*gauges: list[Mention]) -> dict[str, tuple[str, str, tuple[str, ...]]]:
    return {
        name: (str(each.value), each.sure.value, tuple(map(str, each.others)))
        for name, each in decided(*gauges).readings.items()
    }


PLAIN = gauge(5, stitches=22, rows=30, pattern="stockinette")
PLAIN_TOO = gauge(9, stitches=24, rows=32, pattern="stockinette")
NO_ROWS = gauge(1, stitches=20, pattern="stockinette")
RIB = gauge(1, stitches=26, rows=34, pattern="rib")
GARTER = gauge(3, stitches=18, rows=36, pattern="garter")
LACE = gauge(7, stitches=19, pattern="lace")
BARE = gauge(2, stitches=21, rows=29)


@pytest.mark.parametrize(
    ("gauges", "stitches"),
    [
        ([RIB, GARTER, PLAIN], "22"),
        ([PLAIN, PLAIN_TOO], "22"),
        ([NO_ROWS, PLAIN], "22"),
        ([RIB, GARTER], "18"),
        ([RIB, LACE], "19"),
        ([GARTER, LACE], "18"),
        ([LACE, GARTER], "18"),
        ([GARTER, BARE], "21"),
        ([RIB], "26"),
    ],
)
def test_the_main_gauge_is_plain_then_not_of_ribs_then_with_rows_then_first(
    gauges: list[list[Mention]], stitches: str
) -> None:
    assert read(*gauges)["stitches"][0] == stitches


def test_gauges_of_other_patterns_stay_beside_a_plain_one_that_is_sure() -> None:
    assert read(PLAIN, GARTER) == {
        "stitches": ("22", "sure", ("18",)),
        "rows": ("30", "sure", ("36",)),
        "pattern": ("stockinette", "sure", ("garter",)),
    }


def test_gauges_of_other_patterns_make_one_that_is_not_plain_likely() -> None:
    assert read(GARTER, LACE) == {
        "stitches": ("18", "likely", ("19",)),
        "rows": ("36", "sure", ()),
        "pattern": ("garter", "sure", ("lace",)),
    }


def test_two_gauges_of_one_pattern_that_differ_are_unclear() -> None:
    assert read(PLAIN, PLAIN_TOO) == {
        "stitches": ("22", "unclear", ("24",)),
        "rows": ("30", "unclear", ("32",)),
        "pattern": ("stockinette", "sure", ()),
    }


@pytest.mark.parametrize("other", [{"stitches": 22, "rows": 32}, {"stitches": 24, "rows": 30}])
def test_gauges_agree_in_stitches_and_rows_or_not(other: dict[str, Value]) -> None:
    found = read(PLAIN, gauge(9, **other, pattern="stockinette"))
    (name,) = [name for name, value in found.items() if value[2]]
    assert found[name][1] == "unclear"


def test_a_gauge_that_says_the_same_again_changes_nothing() -> None:
    again = gauge(9, stitches=22, pattern="stockinette", washed=True)
    assert read(PLAIN, again) == read(PLAIN)
    assert read(gauge(5, stitches=22), gauge(9, stitches=22, rows=30))["rows"][0] == "30"


def test_findings_without_stitches_are_no_gauge() -> None:
    assert read(gauge(1, rows=30, pattern="garter")) == {}
    assert read() == {}


def test_a_gauge_keeps_its_words_and_its_own_other_readings() -> None:
    doubtful = Mention("stitches", Decimal(22), Span(1, 2), UNCLEAR, "phrase", 1,
                       others=(Decimal(24),), says=(SAID,), extra="gauge 1")  # fmt: skip
    rival = gauge(9, stitches=26)
    made = decided([doubtful], rival)
    assert made.readings == {
        "stitches": FieldReading("stitches", Decimal(22), UNCLEAR, (Span(1, 2),), "phrase",
                                 (Decimal(24), Decimal(26))),
    }  # fmt: skip
    assert [(each.message, each.words) for each in made.notices] == [(SAID, (Span(1, 2),))]


def test_what_a_gauge_says_that_is_not_the_main_one_is_said_too() -> None:
    other = Mention("stitches", Decimal(22), Span(9, 10), SURE, "phrase", 9,
                    says=(SAID,), extra="gauge 9")  # fmt: skip
    assert [each.words for each in decided(PLAIN, [other]).notices] == [(Span(9, 10),)]


def tool(
    size: str,
    system: str = "mm",
    at: int = 0,
    sure: Sureness = SURE,
    role: str = "",
    others: tuple[Tool, ...] = (),
    said: bool = False,
) -> Mention:
    return Mention(
        "tool", Tool(size, system), Span(at, at + 1), sure, f"phrase {at}", at,
        others=others, says=(DIFFERS,) if said else (), extra=role,
    )  # fmt: skip


def tool_of(*found: Mention, craft: str = "knit", larger_said: bool = False) -> FieldReadings:
    made = FieldReadings()
    made.add(FieldReading("craft", craft, SURE, (), ""))
    decide_tool(made, {"tool": found}, larger_said=larger_said)
    return made


def choice(*found: Mention, larger_said: bool = False) -> str:
    reading = tool_of(*found, larger_said=larger_said).readings.get("tool")
    if reading is None:
        return ""
    return f"{' or '.join(map(str, (reading.value, *reading.others)))} {reading.sure}"


US_OR_UK_8 = tool("8", "US", 9, UNCLEAR, others=(Tool("8", "UK"),))


@pytest.mark.parametrize(
    ("found", "expected"),
    [
        ([], ""),
        ([tool("4")], "4 mm sure"),
        ([tool("4", sure=LIKELY)], "4 mm likely"),
        # US 6 is 4 mm: one size in two writings, of which the metric one is kept.
        ([tool("6", "US"), tool("4", at=1)], "4 mm sure"),
        ([tool("4"), tool("4", at=1)], "4 mm sure"),
        ([tool("4", sure=LIKELY), tool("4", at=1)], "4 mm sure"),
        ([tool("4"), tool("3", at=1)], "4 mm or 3 mm unclear"),
        ([tool("3"), tool("4", at=1)], "4 mm or 3 mm unclear"),
        ([tool("3"), tool("4", at=1), tool("5", at=2)], "5 mm or 4 mm or 3 mm unclear"),
        # The one of the gauge, else the one for the main part, never one for ribs.
        ([tool("5"), tool("4", at=1, role="gauge")], "4 mm or 5 mm sure"),
        ([tool("5", role="gauge"), tool("4", at=1, role="gauge")], "5 mm or 4 mm unclear"),
        ([tool("5"), tool("4", at=1, role="main")], "4 mm or 5 mm sure"),
        ([tool("5", role="main"), tool("4", at=1, role="gauge")], "4 mm or 5 mm sure"),
        ([tool("5", role="main"), tool("4", at=1, role="main")], "5 mm or 4 mm unclear"),
        ([tool("5", role="minor"), tool("4", at=1)], "4 mm or 5 mm sure"),
        ([tool("5", role="minor"), tool("4", at=1, role="minor")], "5 mm or 4 mm unclear"),
        (
            [tool("5", role="minor"), tool("4", at=1), tool("3", at=2)],
            "4 mm or 3 mm or 5 mm unclear",
        ),
        # A tool for ribs and for the main part too is the main part's.
        (
            [tool("5"), tool("4", at=1, role="minor"), tool("4", at=2, role="main")],
            "4 mm or 5 mm sure",
        ),
        # A number without a system means the size that is given in mm beside it: UK 8 is 4 mm.
        ([US_OR_UK_8, tool("4")], "4 mm or US 8 sure"),
        ([US_OR_UK_8, tool("5")], "5 mm or US 8 sure"),
        ([US_OR_UK_8, tool("6")], "6 mm or US 8 unclear"),
        ([US_OR_UK_8], "US 8 or UK 8 unclear"),
        ([US_OR_UK_8, tool("4", sure=LIKELY)], "4 mm or US 8 unclear"),
        ([tool("99", "US", sure=LIKELY), tool("4", at=1)], "4 mm or US 99 unclear"),
    ],
)
def test_the_main_tool_is_told_by_what_it_is_for(found: list[Mention], expected: str) -> None:
    assert choice(*found) == expected


def test_the_larger_of_two_is_the_main_one_where_that_is_said() -> None:
    assert choice(tool("3"), tool("4", at=1), larger_said=True) == "4 mm or 3 mm sure"
    assert choice(tool("4", role="minor"), tool("3", at=1), larger_said=True).startswith("3 mm")
    unknown = tool("99", "US", at=1)
    assert choice(unknown, larger_said=True) == "US 99 sure"
    assert choice(unknown, US_OR_UK_8, larger_said=True).endswith("unclear")


def test_a_number_that_is_not_its_millimetres_stays_on_offer() -> None:
    doubtful = tool("5", at=1, sure=UNCLEAR, others=(Tool("6", "US"),), said=True)
    made = tool_of(doubtful, tool("4", at=2))
    assert [(each.message, each.words) for each in made.notices if each.message == DIFFERS] == [
        (DIFFERS, (Span(1, 2),))
    ]
    assert choice(doubtful, tool("4", at=2)) == "4 mm or 5 mm unclear"


def test_several_tools_are_said_with_their_words() -> None:
    made = tool_of(tool("3", at=1), tool("4", at=2), tool("4", at=3))
    assert [each.message.code for each in made.notices] == ["intake.tools_several"]
    assert made.notices[0].words == (Span(2, 3), Span(1, 2))
    assert made.readings["tool"].words == (Span(2, 3), Span(3, 4))
    assert not tool_of(tool("4")).notices


def test_a_tool_of_unknown_size_comes_last() -> None:
    made = tool_of(tool("99", "US"), tool("0.75", at=1), craft="crochet")
    assert str(made.readings["tool"].value) == "0.75 mm"


def test_a_hooks_number_is_compared_with_hooks() -> None:
    # A hook G-6 is 4 mm.
    made = tool_of(tool("G-6", "US"), tool("4", at=1), craft="crochet")
    assert (str(made.readings["tool"].value), made.readings["tool"].sure) == ("4 mm", SURE)


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("3 mm and 4 mm needles, larger needles for all", "4 mm or 3 mm sure"),
        ("3 mm and 4 mm needles", "4 mm or 3 mm unclear"),
    ],
)
def test_a_text_that_speaks_of_the_larger_means_the_larger(text: str, expected: str) -> None:
    assert told(text)["tool"] == expected
    assert ("tools_several" in said(text)) is expected.endswith("unclear")


def test_the_words_of_several_tools_are_theirs() -> None:
    assert words_said("hat on 3 mm, 4 mm needles", "tools_several") == [["4 mm", "3 mm"]]
