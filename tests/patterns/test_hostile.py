"""Text made to be slow, deep or large is read or refused with bounded work, in clear words.

The work is counted, not timed: calls here, steps within a pattern in test_patterns.py.
"""

import tracemalloc

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shopdesk.patterns.reading import READ_CHARACTERS, read_pattern
from shopdesk.patterns.text.cleaning import LONGEST_TEXT, TextRefused
from shopdesk.patterns.to_ask import ask_document
from tests.counting import calls_of

MOST_CALLS = 15_000_000
"""About twelve seconds on a slow machine; the worst text here takes 12 million."""
FEW_CALLS = 50
SOME_SIGNS = 2000
LINEAR = 2.2
"""How much more work twice the text may be: 2, and a little for what is done once."""
MEGABYTES = 150
UNITS = [
    *("[(", "1 (2, 3) ", "a) 1 b) 2 ", "1/", "½", "(S, ", "5 sts of the of the ", "60% wool "),
    *("3 balls 5 g 6 m ", "<a", "US 6 (4 mm) ", "12 dc = 10 cm ", "one strand of "),
    *("Kinderherrenwestenjackeweste ", "10 cm x 10 cm ", "' ", "machine wash not ", " ", "\t "),
]


@pytest.fixture(scope="module", autouse=True)
def _tables_are_read() -> None:
    """Words and forms are read once in a process, which is no work of any one text."""
    read_pattern("22 sts = 10 cm, 100% wool")


@pytest.mark.parametrize("unit", UNITS)
def test_repeated_text_takes_bounded_work(unit: str) -> None:
    once, twice = (f"hat {unit * (SOME_SIGNS * n // len(unit))}." for n in (1, 2))
    assert calls_of(lambda: read_pattern(twice)) < LINEAR * calls_of(lambda: read_pattern(once))
    longest = long_text_of(unit)
    assert calls_of(lambda: read_pattern(longest)) < MOST_CALLS


def long_text_of(unit: str) -> str:
    return "hat " + (unit * (LONGEST_TEXT // len(unit)))[: LONGEST_TEXT - 10]


def test_repeated_text_takes_bounded_memory() -> None:
    tracemalloc.start()
    read_pattern(long_text_of("1 (2, 3) "))
    _, peak = tracemalloc.get_traced_memory()
    tracemalloc.stop()
    assert peak < MEGABYTES * 1024 * 1024


def test_five_megabytes_are_refused_at_once() -> None:
    text = "22 sts = 10 cm\n" * 350_000

    refusals: list[TextRefused] = []

    def offer() -> None:
        try:
            read_pattern(text)
        except TextRefused as refused:
            refusals.append(refused)

    assert calls_of(offer) < FEW_CALLS
    assert "too long" in refusals[0].wrong


def test_only_the_first_part_of_a_long_text_is_read_and_that_is_said() -> None:
    reading = read_pattern("22 sts = 10 cm\n" + "nothing to be read here\n" * 2000)
    assert len(reading.text) <= READ_CHARACTERS
    assert "intake.first_part_only" in {notice.message.code for notice in reading.notices}


def test_working_instructions_are_not_read_and_that_is_said() -> None:
    reading = read_pattern("22 sts = 10 cm, DK\n\nInstructions\nCast on 84 sts, work 300 yds.")
    assert reading.instructions_from is not None
    assert "intake.instructions_left_out" in {notice.message.code for notice in reading.notices}
    assert "amount main" not in {each.name for each in reading.readings}


VOCABULARY = """22 sts rows = 10 cm ( ) , : / - x 4 mm US 6 5 (6, 7) balls 50 g 120 m S (M, L)
DK wool 75% 25% nylon to fit chest hat MC each per in St st . 1/2 ½ 1,200 yds needles hook dc"""
WORDS = st.sampled_from([*VOCABULARY.split(), "\n"])


@given(st.lists(WORDS, max_size=60).map(" ".join))
def test_any_order_of_pattern_words_gives_an_ask_or_nothing(text: str) -> None:
    try:
        reading = read_pattern(text)
    except TextRefused:
        return
    document = ask_document(reading)
    assert document["title"]
    for each in reading.readings:
        for span in each.words:
            assert reading.text[span.start : span.end].strip()


@given(st.text(max_size=300))
def test_any_text_is_read_or_refused(text: str) -> None:
    try:
        read_pattern(text)
    except TextRefused:
        return
