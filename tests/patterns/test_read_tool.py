"""Needles and hooks in short texts: millimetres, US and old UK numbers, and what they are for.

US 8 is 5 mm, old UK 8 is 4 mm; US 6 is 4 mm, old UK 6 is 5 mm (needle tables of the trade).
"""

import pytest

from tests.patterns.short_texts import said, told, values_said, words_said


@pytest.mark.parametrize(
    ("text", "language", "tool"),
    [
        ("4 mm needles", "en", "4 mm sure"),
        ("4.5mm needles", "en", "4.5 mm sure"),
        ("0.5 mm hook", "en", "0.5 mm sure"),
        ("50 mm hook", "en", "50 mm sure"),
        ("US 8 needles", "en", "US 8 sure"),
        ("US size 8 needles", "en", "US 8 sure"),
        ("old UK 7 needles", "en", "UK 7 sure"),
        ("Nadeln Nr. 4,5", "de", "4.5 mm sure"),
        ("Nadeln Nr. 0,5", "de", "0.5 mm sure"),
        ("Nadeln Nr. 50", "de", "50 mm sure"),
        ("aiguilles n° 3,5", "fr", "3.5 mm sure"),
        ("needles 4.5", "en", "4.5 mm likely"),
        ("needles 2.0", "en", "2.0 mm likely"),
        ("size G hook", "en", "US G sure"),
        ("size M hook", "en", "US M likely"),
        ("Hook: H-8", "en", "US H-8 sure"),
        ("Hook: H-9", "en", "US H-9 likely"),
        ("Hook: H-8 (5 mm)", "en", "5 mm sure"),
        ("Hook: H-8 (6 mm)", "en", "6 mm sure"),
        ("steel hook no. 8 (1.5 mm)", "en", "1.5 mm sure"),
        ("size 8 (5 mm) needles", "en", "5 mm sure"),
        ("size 8 (4 mm) needles", "en", "4 mm sure"),
        ("US 8 (5 mm) needles", "en", "5 mm sure"),
        ("US 5 (3.75 mm) needles", "en", "3.75 mm sure"),
        ("US 5 (3.88 mm) needles", "en", "3.88 mm sure"),
        ("US 5 (3.62 mm) needles", "en", "3.62 mm sure"),
        ("US 99 (5 mm) needles", "en", "5 mm sure"),
        ("4 mm (US 6) needles", "en", "4 mm sure"),
    ],
)
def test_a_tool_is_read_in_its_own_size(text: str, language: str, tool: str) -> None:
    assert told(text, language)["tool"] == tool
    assert not {"tool_differs", "tool_system_unsaid"} & said(text, language)


@pytest.mark.parametrize(
    ("text", "language"),
    [
        ("0.4 mm needles", "en"),
        ("50.5 mm needles", "en"),
        ("54 mm needles", "en"),
        ("US 99 needles", "en"),
        ("Nadeln Nr. 0,4", "de"),
        ("Nadeln Nr. 51", "de"),
        ("needles 99", "en"),
        ("needles 1.9", "en"),
        ("4-5 mm needles", "en"),
        ("3.5 and 4-5 mm needles", "en"),
        ("3.5 and 4 (5, 6) mm needles", "en"),
    ],
)
def test_no_tool_is_made_so(text: str, language: str) -> None:
    assert "tool" not in told(text, language)


@pytest.mark.parametrize(
    ("text", "tool"),
    [
        ("9 mm safety eyes", False),
        ("9 mm black safety eyes", False),
        ("9 mm large black safety eyes", False),
        ("9 mm large and black safety eyes", True),
        ("9 mm needles\nbuttons", True),
        ("button 12 mm", False),
        ("button, 12 mm", True),
        ("9 mm and 12 mm safety eyes", False),
        ("9 and 12 mm safety eyes", False),
    ],
)
def test_millimetres_of_buttons_and_eyes_are_no_tool(text: str, tool: bool) -> None:
    assert ("tool" in told(text)) is tool


@pytest.mark.parametrize(
    ("text", "tool", "written"),
    [
        # Old UK 3 is 6.5 mm, US 3 is 3.25 mm.
        ("size 3 (5 mm) needles", "5 mm or US 3 or UK 3 unclear", "size 3 (5 mm)"),
        ("US 6 (5 mm) needles", "5 mm or US 6 unclear", "US 6 (5 mm)"),
        ("5 mm (US 6) needles", "5 mm or US 6 unclear", "5 mm (US 6)"),
        ("hat (5 mm US 6) needles", "5 mm or US 6 unclear", "5 mm US 6"),
        # US 5 is 3.75 mm; the sizes of two makers differ by less than 0.13 mm.
        ("US 5 (3.89 mm) needles", "3.89 mm or US 5 unclear", "US 5 (3.89 mm)"),
        ("US 5 (3.6 mm) needles", "3.6 mm or US 5 unclear", "US 5 (3.6 mm)"),
        # US 14 there is none of, old UK 14 is 2 mm.
        ("size 14 (5 mm) needles", "5 mm or UK 14 unclear", "size 14 (5 mm)"),
    ],
)
def test_a_number_that_is_not_its_millimetres_is_said(text: str, tool: str, written: str) -> None:
    assert told(text)["tool"] == tool
    assert values_said(text, "tool_differs") == [{"written": written}]


@pytest.mark.parametrize(
    ("text", "tool"),
    [
        ("No. 8 needles", "US 8 or UK 8 unclear"),
        ("8 needles", "US 8 or UK 8 unclear"),
        ("needles 8", "US 8 or UK 8 unclear"),
        ("size 14 needles", "UK 14 unclear"),
        ("size 35 needles", "US 35 unclear"),
        ("size 10.5 needles", "10.5 mm likely"),
    ],
)
def test_a_bare_number_is_offered_in_both_systems(text: str, tool: str) -> None:
    assert told(text)["tool"] == tool
    if "mm" not in tool:
        number = tool.split()[1]
        assert values_said(text, "tool_system_unsaid") == [{"written": number}]


def test_a_bare_number_in_a_gauge_needs_its_sign() -> None:
    assert "tool" not in told("Gauge: 22 sts = 10 cm, needles 8")
    assert "tool" in told("Gauge: 22 sts = 10 cm, no. 8 needles")


@pytest.mark.parametrize(
    ("text", "language", "tool"),
    [
        ("3.5 and 4 mm needles", "en", "4 mm or 3.5 mm unclear"),
        ("4 and 3.5 mm needles", "en", "4 mm or 3.5 mm unclear"),
        ("0.5 and 1 mm hook", "en", "1 mm or 0.5 mm unclear"),
        ("25 and 50 mm hook", "en", "50 mm or 25 mm unclear"),
        ("Needles US 5 and 6", "en", "US 6 or US 5 unclear"),
        ("Needles US 6 and 5", "en", "US 6 or US 5 unclear"),
        ("Needles UK 8 and 10", "en", "UK 8 or UK 10 unclear"),
        ("Needles US 3 and 8", "en", "US 8 or US 3 unclear"),
        ("Nadeln Nr. 3 und 3,5", "de", "3.5 mm or 3 mm unclear"),
        ("Nadeln Nr. 3 und 6", "de", "6 mm or 3 mm unclear"),
    ],
)
def test_of_two_tools_both_are_offered_the_larger_first(
    text: str, language: str, tool: str
) -> None:
    assert told(text, language)["tool"] == tool
    assert "tools_several" in said(text, language)


@pytest.mark.parametrize(
    ("text", "language", "tool"),
    [
        # No pattern changes from one tool to one more than twice as thick.
        ("3 and 6.5 mm needles", "en", "6.5 mm sure"),
        ("0.4 and 0.6 mm needles", "en", "0.6 mm sure"),
        ("45 and 51 mm needles", "en", None),
        ("Needles US 6 and 99", "en", "US 6 sure"),
    ],
)
def test_what_cannot_be_two_tools_is_one(text: str, language: str, tool: str | None) -> None:
    assert told(text, language).get("tool") == tool


@pytest.mark.parametrize(
    ("text", "tool"),
    [
        ("4 mm needles, 3 mm for ribs", "4 mm or 3 mm sure"),
        ("4 mm for body, 3 mm needles", "4 mm or 3 mm sure"),
        ("3 mm needles, 4 mm needles", "4 mm or 3 mm unclear"),
        ("3 mm for ribs, 4 mm for body", "4 mm or 3 mm sure"),
        ("3 mm so so so for ribs, 4 mm", "4 mm or 3 mm sure"),
        ("3 mm so so so so for ribs, 4 mm", "4 mm or 3 mm unclear"),
        ("3 mm. For ribs 2 mm", "3 mm or 2 mm unclear"),
        ("3 mm US 4 for ribs", "3 mm or US 4 unclear"),
        ("22 sts 4 mm\n5 mm needles", "4 mm or 5 mm sure"),
        ("4 mm 22 sts\n5 mm needles", "4 mm or 5 mm sure"),
        ("22 sts = 10 cm on 4 mm\n5 mm needles", "4 mm or 5 mm sure"),
        ("on 4 mm needles 22 sts = 10 cm\n5 mm needles", "4 mm or 5 mm sure"),
    ],
)
def test_what_a_tool_is_for_decides_between_two(text: str, tool: str) -> None:
    assert told(text)["tool"] == tool


@pytest.mark.parametrize(("words", "sure"), [(13, "sure"), (14, "unclear")])
def test_a_tool_belongs_to_a_gauge_that_is_near(words: int, sure: str) -> None:
    for line in (f"22 sts {'so ' * words}4 mm", f"4 mm {'so ' * words}22 sts"):
        assert told(f"{line}\n5 mm needles")["tool"].endswith(sure)


@pytest.mark.parametrize(
    ("text", "craft"),
    [
        ("size 1 (5 mm) hook", "hook"),
        ("size 1 (5 mm) needles", "needle"),
        ("size 1 (5 mm)", "needle"),
        ("hook so so so size 1 (5 mm) needles", "hook"),
        ("hook so so so so size 1 (5 mm) needles", "needle"),
        ("needles size 1 (5 mm) so hook", "hook"),
        ("needles size 1 (5 mm) so so hook", "needle"),
        ("size 1 (5 mm) so so so so so hook", "hook"),
        ("size 1 (5 mm) so so so so so needles", "needle"),
    ],
)
def test_a_number_is_a_hooks_where_a_hook_is_spoken_of(text: str, craft: str) -> None:
    """Old UK needle 1 is 7.5 mm (charts of the trade); of old UK hooks no 1 is known."""
    systems = "US 1" if craft == "hook" else "US 1 or UK 1"
    assert told(text)["tool"] == f"5 mm or {systems} unclear"


@pytest.mark.parametrize(
    ("text", "sure"),
    [
        ("steel hook no. 8 (1.5 mm)", "sure"),
        ("steel so so no. 8 (1.5 mm) hook", "sure"),
        ("steel so so so no. 8 (1.5 mm) hook", "unclear"),
        ("hook no. 8 (1.5 mm)", "unclear"),
    ],
)
def test_steel_hooks_have_numbers_of_their_own(text: str, sure: str) -> None:
    assert told(text)["tool"].endswith(sure)


@pytest.mark.parametrize(
    ("text", "tool", "code", "sizes"),
    [
        # Single makers' pages: steel hook 7 is 1.50 or 1.65 mm. Unit converter: P, Q is 15 mm.
        ("steel hook no. 7", "1.5 mm or 1.65 mm unclear", "size_disputed", "1.5, 1.65"),
        ("size Q hook", "15 mm or 15.75 mm or 16 mm unclear", "size_disputed", "15, 15.75, 16"),
        ("US 17 needles", "12 mm or 12.75 mm unclear", "size_disputed", "12, 12.75"),
        ("size K hook", "US K likely", "size_disputed", "6.5, 7"),
        ("steel hook no. 12", "US steel 12 likely", "size_from_memory", None),
        ("US 1½ needles", "US 1½ likely", "size_on_some_charts", None),
        ("US 2½ needles", "US 2½ likely", "size_on_some_charts", None),
    ],
)
def test_a_size_that_is_not_beyond_doubt_says_so(
    text: str, tool: str, code: str, sizes: str | None
) -> None:
    assert told(text)["tool"] == tool
    [values] = values_said(text, f"tool.{code}")
    assert values.get("sizes") == sizes


@pytest.mark.parametrize(
    ("text", "tool"),
    [
        # Charts: Japanese 0 is 2.1 mm and each next one 0.3 more; letter S is 19 mm.
        ("Japanese size 5 needles", "JP 5 sure"),
        ("JP 10 needles", "JP 10 sure"),
        ("size S hook", "US S sure"),
        # Old UK hook 9 is 3.5 mm.
        ("old UK 9 hook", "UK 9 sure"),
        ("old UK 8 hook", "UK 8 likely"),
    ],
)
def test_other_numbers_and_letters_are_read(text: str, tool: str) -> None:
    assert told(text)["tool"] == tool


def test_there_is_no_steel_hook_beyond_14_and_no_japanese_needle_beyond_15() -> None:
    assert "tool" not in told("steel hook no. 15")
    assert "tool" not in told("Japanese size 16 needles")


def test_the_words_of_a_doubtful_number_are_pointed_to() -> None:
    assert words_said("hat on no. 8 needles", "tool_system_unsaid") == [["no. 8 needles"]]
