"""How a phrase is written, and how it is found among kinds of token."""

import pytest

from shopdesk.patterns.phrases.grammar import (
    GAUGE_KINDS,
    SOFT_KINDS,
    Match,
    Phrase,
    _first_kinds,
    kinds_of,
    matches,
)
from shopdesk.patterns.phrases.grammar import _Compiler as Compiler
from shopdesk.patterns.phrases.page import page_of


def phrase(pattern: str) -> Phrase:
    steps = tuple(Compiler(pattern).steps())
    return Phrase(
        name="", gives="", pattern=pattern, sure="sure", language="", one_line=False,
        example="", reads="", steps=steps, first_kinds=_first_kinds(steps),
    )  # fmt: skip


def found(pattern: str, words: str) -> list[Match]:
    kinds = [frozenset(word.split("+")) for word in words.split()]
    return list(matches(phrase(pattern), kinds, range(len(kinds))))


def places(pattern: str, words: str) -> list[tuple[int, int, dict[str, int]]]:
    return [(each.start, each.end, dict(each.kept)) for each in found(pattern, words)]


@pytest.mark.parametrize(
    ("pattern", "words", "expected"),
    [
        ("a", "a", [(0, 1, {})]),
        ("a", "b", []),
        ("a", "b a b", [(1, 2, {})]),
        ("a", "a a", [(0, 1, {}), (1, 2, {})]),
        ("a b", "a b", [(0, 2, {})]),
        ("a b", "a", []),
        ("a b", "a c", []),
        ("x=a y=b", "a b", [(0, 2, {"x": 0, "y": 1})]),
        ("x=a y=b", "c a b", [(1, 3, {"x": 1, "y": 2})]),
        ("x=a|b", "b", [(0, 1, {"x": 0})]),
        ("x=a", "a+b", [(0, 1, {"x": 0})]),
        # A part that may be missing is taken where it is there.
        ("a x=b? c", "a b c", [(0, 3, {"x": 1})]),
        ("a x=b? c", "a c", [(0, 2, {})]),
        ("a x=b? y=b", "a b", [(0, 2, {"y": 1})]),
        ("a b?", "a b", [(0, 2, {})]),
        ("( a b )? c", "a b c", [(0, 3, {}), (2, 3, {})]),
        ("( a b )? c", "c", [(0, 1, {})]),
        ("( a b )? c", "a c", [(1, 2, {})]),
        ("( a b ) c", "a b c", [(0, 3, {})]),
        ("( a b ) c", "c", []),
        ("x=a ( y=b )? c", "a b b", []),
        ("( a ( x=b )? c )? d", "a c d", [(0, 3, {}), (2, 3, {})]),
        ("( a ( x=b )? c )? d", "a b c d", [(0, 4, {"x": 1}), (3, 4, {})]),
        # A name on a way that led nowhere is forgotten.
        ("a ( x=b c )? b d", "a b d", [(0, 3, {})]),
        # '_' is up to four small words, as few as will do.
        ("a _ x=b", "a b", [(0, 2, {"x": 1})]),
        ("a _ x=b", "a small comma each open b", [(0, 6, {"x": 5})]),
        ("a _ x=b", "a small small small small small b", []),
        ("a _ x=b", "a word b", []),
        ("a _ x=b", "a small+b b", [(0, 2, {"x": 1})]),
        # '~' is up to ten words that may stand in a gauge.
        ("a ~ x=b", "a word needle mm small b", [(0, 6, {"x": 5})]),
        ("a ~ x=b", f"a {'word ' * 10}b", [(0, 12, {"x": 11})]),
        ("a ~ x=b", f"a {'word ' * 11}b", []),
        ("a ~ x=b", "a item b", []),
    ],
)
def test_a_phrase_is_found_where_its_kinds_stand(
    pattern: str, words: str, expected: list[tuple[int, int, dict[str, int]]]
) -> None:
    assert places(pattern, words) == expected


@pytest.mark.parametrize(
    ("pattern", "first"),
    [
        ("a b", {"a"}),
        ("a|b c", {"a", "b"}),
        ("a? b", {"a", "b"}),
        ("( a b )? c", {"a", "c"}),
        ("( a? b )? c", {"a", "b", "c"}),
        ("( a b ) c", {"a"}),
        ("a? b?", {"a", "b"}),
    ],
)
def test_a_phrase_begins_with_its_first_kinds(pattern: str, first: set[str]) -> None:
    assert phrase(pattern).first_kinds == first


def test_a_phrase_that_begins_with_small_words_begins_with_any_of_them() -> None:
    assert phrase("_ a").first_kinds == SOFT_KINDS | {"a"}
    assert phrase("~ a").first_kinds == GAUGE_KINDS | {"a"}


def test_only_places_that_are_asked_for_are_tried() -> None:
    kinds = [frozenset("a")] * 3
    assert [each.start for each in matches(phrase("a"), kinds, [1])] == [1]


def test_a_bare_unit_is_of_another_kind_than_a_quantity() -> None:
    bare, quantity = page_of("per inch, 4 inches", "en").tokens[1::2]
    assert kinds_of(bare) == {"unit-short"}
    assert kinds_of(page_of("4 inches", "en").tokens[0]) == {"short"}
    assert "short" not in kinds_of(bare)
    assert quantity.merged
    # A word that is a unit and something else is both.
    assert kinds_of(page_of("hat in", "en").tokens[1]) >= {"unit-short", "small", "over"}
