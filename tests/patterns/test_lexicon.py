"""Every item kind and stitch pattern has words that a pattern is read by, in every language."""

import pytest

from shopdesk.answering.model.ask import OTHER_ITEM, OTHER_PATTERN, ItemKind, StitchPattern, Wearer
from shopdesk.patterns.phrases.mentions import Sureness
from shopdesk.patterns.reading import read_pattern
from shopdesk.patterns.tokens.lexicon import (
    LANGUAGES,
    MOST_WORDS,
    Lexicon,
    language_of,
    lexicon,
    parts_of_compound,
)
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


@pytest.mark.parametrize(
    ("title", "kind"),
    [
        ("Sweater: a cardigan", "cardigan"),
        ("A sweater: a vest", "vest"),
        ("A jumper, a dress", "dress"),
        ("Bag, a felted bag", "felted bag"),
        ("Strickjacke, ein Pullover", "cardigan"),
    ],
)
def test_what_is_also_called_by_a_wider_name_stays_what_it_is(title: str, kind: str) -> None:
    (item,) = [each for each in read_pattern(f"{title}\n").readings if each.name == "item"]
    assert (item.value, item.sure, item.others) == (kind, Sureness.SURE, ())


def values_read(text: str) -> dict[str, object]:
    return {each.name: each.value for each in read_pattern(text).readings}


@pytest.mark.parametrize("pattern", ["stockinette", "garter", "brioche"])
def test_a_pattern_that_only_knitters_name_says_the_craft(pattern: str) -> None:
    assert values_read(f"A scarf in {pattern} stitch\n")["craft"] == "knit"


@pytest.mark.parametrize("pattern", ["ribbed", "lace", "cable", "seed stitch", "stranded"])
def test_a_pattern_that_crochet_has_too_says_no_craft(pattern: str) -> None:
    assert "craft" not in values_read(f"A {pattern} scarf\n")


FAR = "\nOne size, for whoever likes it and has a winter to spare, with the notes of a friend.\n"


@pytest.mark.parametrize(
    ("name", "pattern"),
    [("garter", "garter"), ("fair isle", "stranded"), ("ribbed", None), ("cable", None)],
)
def test_a_pattern_far_from_the_gauge_is_the_fabric_where_it_means_nothing_else(
    name: str, pattern: str | None
) -> None:
    assert values_read(f"A {name} scarf{FAR}22 sts = 10 cm\n").get("pattern") == pattern


def test_a_gauge_in_rib_comes_after_one_in_another_pattern() -> None:
    text = "24 sts and 30 rows = 10 cm in rib\n18 sts = 10 cm in garter stitch\n"
    assert values_read(text)["pattern"] == "garter"


def test_no_more_words_are_looked_up_than_the_longest_spelling_has() -> None:
    known = [key for name in LANGUAGES for key in (*lexicon(name).folded, *lexicon(name).exact)]
    assert max(map(len, known)) == MOST_WORDS


def test_only_up_to_three_letters_with_a_capital_are_read_as_written() -> None:
    words = Lexicon()
    for spelling in ("ABC", "ABCD", "abc"):
        words.add(spelling, "known", spelling)
    assert words.meanings(("ABC",)) == {"ABC": "known", "abc": "known"}
    assert words.meanings(("abc",)) == {"abc": "known"}
    assert words.meanings(("abcd",)) == {"ABCD": "known"}


def test_one_spelling_may_mean_several_things_of_which_the_first_of_a_kind_stays() -> None:
    words = Lexicon()
    for kind, value in (("measure", "width"), ("small", "small"), ("measure", "length")):
        words.add(kind, value, "wide")
    assert words.meanings(("WIDE",)) == {"measure": "width", "small": "small"}
    assert words.meanings(("narrow",)) == {}


@pytest.mark.parametrize(
    ("word", "meanings"),
    [
        ("Rottuch", {"item": "shawl"}),
        ("Dreieckstuch", {"item": "shawl"}),
        ("Abtuch", {}),
        ("Tuch", {}),
        ("Herrenweste", {"item": "vest", "wearer": "adult"}),
        ("Herrenstrickjacke", {"item": "cardigan", "wearer": "adult"}),
        ("Zopfweste", {"item": "vest", "feature": "cables"}),
        ("Wollknäuel", {}),
    ],
)
def test_the_parts_of_a_german_word_say_what_it_is(word: str, meanings: dict[str, str]) -> None:
    assert parts_of_compound(word, lexicon("de")) == meanings


def test_no_other_language_puts_words_into_one() -> None:
    assert parts_of_compound("beachhat", lexicon("en")) == {}


@pytest.mark.parametrize(
    ("text", "language"),
    [
        ("22 sts and 30 rows, needles", "en"),
        ("22 Maschen und 30 Reihen, Nadeln", "de"),
        ("22 mailles et 30 rangs, aiguilles", "fr"),
        ("sac", "fr"),
        ("Hat, Mütze, Maschen", "de"),
        ("bib, sac, fil", "fr"),
        ("22 / 30 = 10", "en"),
    ],
)
def test_the_language_is_the_one_whose_own_words_stand_there_most(text: str, language: str) -> None:
    assert language_of(text) == language
