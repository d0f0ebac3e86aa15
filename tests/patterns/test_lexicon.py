"""Every item kind and stitch pattern has words that a pattern is read by, in every language."""

import pytest

from shopdesk.answering.model.ask import OTHER_ITEM, OTHER_PATTERN, ItemKind, StitchPattern, Wearer
from shopdesk.patterns.tokens.lexicon import LANGUAGES, lexicon
from shopdesk.reference.languages import languages

READ_AS_STITCHES = {"single crochet", "half double crochet", "double crochet"}
"""Read by the words of crochet stitches, which mean others in the US than in the UK."""
NOT_READ = {"openwork crochet"}
"""A pattern that says openwork is read as lace, whatever its craft."""


def values(kind: str, language: str) -> set[str]:
    words = lexicon(language)
    meanings = (*words.folded.values(), *words.exact.values())
    return {each[kind] for each in meanings if kind in each}


def test_how_each_language_writes_is_in_the_table() -> None:
    assert set(LANGUAGES) <= set(languages())


@pytest.mark.parametrize("language", LANGUAGES)
def test_every_item_kind_has_its_words(language: str) -> None:
    assert set(ItemKind) - values("item", language) - {OTHER_ITEM} == set()
    assert values("item", language) <= set(ItemKind)


@pytest.mark.parametrize("language", LANGUAGES)
def test_every_stitch_pattern_has_its_words(language: str) -> None:
    named = set(StitchPattern) - READ_AS_STITCHES - NOT_READ
    assert named - values("pattern", language) - {OTHER_PATTERN} == set()
    assert values("pattern", language) <= set(StitchPattern)


@pytest.mark.parametrize("language", LANGUAGES)
def test_whoever_has_words_is_a_wearer(language: str) -> None:
    assert {Wearer.BABY, Wearer.CHILD, Wearer.ADULT} == values("wearer", language)
