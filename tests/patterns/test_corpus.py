"""The corpus of invented headers: how well its two parts are read, and that asks come out.

What a knitter reads in each text was written down before the phrases were. A third of the texts,
told by a hash of the name, is only measured with: no phrase was made or changed for one of them.
"""

import pytest

from shopdesk.answering.ask.ask_reading import check_document, read_ask
from shopdesk.patterns.reading import read_pattern
from shopdesk.patterns.to_ask import ask_document, one_size, size_names
from tests.patterns.corpus_files import Header, headers, score
from tests.patterns.measuring import Tally, tally

HEADERS = headers()
BUILT_WITH = [header for header in HEADERS if not header.only_to_measure]
MEASURED = [header for header in HEADERS if header.only_to_measure]


def test_the_corpus_is_as_large_and_as_varied_as_it_should_be() -> None:
    assert len(HEADERS) >= 150
    assert len({header.layout for header in HEADERS}) > 40
    assert len(MEASURED) >= 50


@pytest.mark.parametrize("header", BUILT_WITH, ids=lambda header: header.name)
def test_a_text_built_with_is_read_as_a_knitter_reads_it(header: Header) -> None:
    result = score(header, read_pattern(header.text))
    assert result.wrong == {}
    assert result.missing == {}


@pytest.fixture(scope="module")
def measured() -> Tally:
    return tally(MEASURED)


def test_nothing_measured_is_both_sure_and_wrong(measured: Tally) -> None:
    assert measured.wrong_when_sure == []


def test_measured_recall_is_held(measured: Tally) -> None:
    assert measured.recall >= 0.95


@pytest.mark.parametrize("header", HEADERS, ids=lambda header: header.name)
def test_what_is_read_is_an_ask_for_every_size(header: Header) -> None:
    reading = read_pattern(header.text)
    for size in size_names(reading) or (None,):
        document = one_size(reading, size)
        check_document(document)
        if "gauge" in document or "weight" in document.get("designer_yarn", {}):
            read_ask(document)
    assert "chosen" not in ask_document(reading).get("sizes", {})


@pytest.mark.parametrize("header", HEADERS, ids=lambda header: header.name)
def test_source_words_are_in_the_text(header: Header) -> None:
    reading = read_pattern(header.text)
    for each in reading.readings:
        assert each.words
        for span in each.words:
            assert 0 <= span.start < span.end <= len(reading.text)
