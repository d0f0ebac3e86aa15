"""Every phrase of the table reads its own example, and no phrase is without one."""

import pytest

from shopdesk.patterns.phrases.grammar import Phrase, PhraseFault, phrases
from shopdesk.patterns.phrases.grammar import _Compiler as Compiler
from shopdesk.patterns.phrases.matching import READERS, mentions_of
from shopdesk.patterns.phrases.mentions import Sureness
from shopdesk.patterns.phrases.page import page_of
from shopdesk.patterns.reading import read_pattern
from shopdesk.patterns.text.cleaning import clean
from tests.patterns.corpus_files import Header, expect, score


@pytest.mark.parametrize("phrase", phrases(), ids=lambda phrase: phrase.name)
def test_a_form_reads_its_example(phrase: Phrase) -> None:
    header = Header(phrase.name, phrase.example)
    expect(header, [line.strip() for line in phrase.reads.split(";")])
    reading = read_pattern(phrase.example, "de" if phrase.language else None)
    result = score(header, reading)
    expected = {*header.expected, *header.open}
    assert not result.missing
    assert {name: each for name, each in result.wrong.items() if name in expected} == {}


@pytest.mark.parametrize("phrase", phrases(), ids=lambda phrase: phrase.name)
def test_a_form_is_what_reads_its_example(phrase: Phrase) -> None:
    page = page_of(clean(phrase.example), "de" if phrase.language else None)
    used = {each.phrase for each in mentions_of(page)}
    assert phrase.name in used or phrase.gives == "nothing"


def test_forms_are_named_once_and_have_a_reader() -> None:
    names = [phrase.name for phrase in phrases()]
    assert len(set(names)) == len(names)
    assert {phrase.gives for phrase in phrases()} <= READERS.keys()
    assert {phrase.sure for phrase in phrases()} <= set(Sureness)


@pytest.mark.parametrize("pattern", ["a ( b", "a ) b", "( a ( b )?"])
def test_a_form_with_a_bracket_astray_is_refused(pattern: str) -> None:
    with pytest.raises(PhraseFault, match="bracket"):
        Compiler(pattern).steps()
