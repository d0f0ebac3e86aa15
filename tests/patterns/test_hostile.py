"""Text made to be slow, deep or large is read or refused in bounded time, with a clear message."""

import time
import tracemalloc

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shopdesk.patterns.reading import READ_CHARACTERS, read_pattern
from shopdesk.patterns.text.cleaning import LONGEST_TEXT, TextRefused
from shopdesk.patterns.to_ask import ask_document

SECONDS = 12
MEGABYTES = 150
UNITS = [
    *("[(", "1 (2, 3) ", "a) 1 b) 2 ", "1/", "½", "(S, ", "5 sts of the of the ", "60% wool "),
    *("3 balls 5 g 6 m ", "<a", "US 6 (4 mm) ", "12 dc = 10 cm ", "one strand of "),
    *("Kinderherrenwestenjackeweste ", "10 cm x 10 cm ", "' ", "machine wash not "),
]


@pytest.mark.parametrize("unit", UNITS)
def test_repeated_text_takes_bounded_time(unit: str) -> None:
    began = time.process_time()
    read_pattern(long_text_of(unit))
    assert time.process_time() - began < SECONDS


def long_text_of(unit: str) -> str:
    return "hat " + (unit * (LONGEST_TEXT // len(unit)))[: LONGEST_TEXT - 10]


def test_repeated_text_takes_bounded_memory() -> None:
    tracemalloc.start()
    read_pattern(long_text_of("1 (2, 3) "))
    _, peak = tracemalloc.get_traced_memory()
    tracemalloc.stop()
    assert peak < MEGABYTES * 1024 * 1024


def test_five_megabytes_are_refused_at_once() -> None:
    began = time.process_time()
    with pytest.raises(TextRefused, match="too long"):
        read_pattern("22 sts = 10 cm\n" * 350_000)
    assert time.process_time() - began < 1


def test_only_the_first_part_of_a_long_text_is_read_and_that_is_said() -> None:
    reading = read_pattern("22 sts = 10 cm\n" + "nothing to be read here\n" * 2000)
    assert len(reading.text) <= READ_CHARACTERS
    assert "intake.first_part_only" in {notice.message.code for notice in reading.notices}


def test_working_instructions_are_not_read_and_that_is_said() -> None:
    reading = read_pattern("22 sts = 10 cm, DK\n\nInstructions\nCast on 84 sts, work 300 yds.")
    assert reading.instructions_from is not None
    assert "intake.instructions_left_out" in {notice.message.code for notice in reading.notices}
    assert reading.reading("amount main") is None


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
