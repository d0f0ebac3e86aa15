"""The words a pattern is read by: spellings and what kinds of word each may be.

The spellings stand in words.csv; fibres come from craft/fibres.py. One spelling may be of
several kinds ('in' is an inch and a small word); the phrases decide which is meant.
"""

import csv
import re
from collections.abc import Mapping
from dataclasses import dataclass, field
from functools import cache
from importlib.resources import files

from shopdesk.craft.numerals import VULGAR
from shopdesk.reference.languages import languages
from shopdesk.reference.tables import table

_LETTER = rf"[^\W\d_{''.join(VULGAR)}]"
WORD = re.compile(
    rf"[1-6]X[LS]?\b|{_LETTER}+(?:'{_LETTER}+)?(?:(?<=CC)\d)?"
    r"|%|°\s?C\b|°|\"|#|=|→|/"
)
"""One word: letters, a size name such as 2X, or a sign that is read as a word."""
MOST_WORDS = 6
Meanings = Mapping[str, str]


@dataclass
class Lexicon:
    """The spellings of one language with those of any language."""

    folded: dict[tuple[str, ...], dict[str, str]] = field(default_factory=dict)
    exact: dict[tuple[str, ...], dict[str, str]] = field(default_factory=dict)
    ends: dict[str, str] = field(default_factory=dict)
    starts: dict[str, str] = field(default_factory=dict)

    def add(self, kind: str, value: str, spelling: str) -> None:
        """Adds a spelling; up to three letters with a capital are read only as written."""
        words = words_of(spelling)
        short_capital = len(spelling) <= 3 and spelling != spelling.lower()
        where = self.exact if short_capital else self.folded
        key = words if short_capital else tuple(word.casefold() for word in words)
        where.setdefault(key, {}).setdefault(kind, value)

    def meanings(self, words: tuple[str, ...]) -> Meanings:
        """Returns kind -> value for these words; empty if they are unknown."""
        folded = self.folded.get(tuple(word.casefold() for word in words), {})
        return {**folded, **self.exact.get(words, {})}


def parts_of_compound(word: str, words: Lexicon) -> Meanings:
    """Returns what a compound says by its parts: 'Herrenweste' a vest for an adult.

    The last part must be an item of at least four letters; the first may name the wearer.
    """
    small = word.casefold()
    ends = [item for item in words.ends if small.endswith(item) and len(small) > len(item) + 2]
    if not ends:
        return {}
    last = max(ends, key=len)
    first = small[: -len(last)]
    meanings = {"item": words.ends[last]}
    for start, who in words.starts.items():
        if first.startswith(start):
            meanings["wearer"] = who
    if first.startswith("zopf"):
        meanings["feature"] = "cables"
    return meanings


def words_of(spelling: str) -> tuple[str, ...]:
    """Returns the words of a spelling, as the text is cut into words."""
    return tuple(match[0] for match in WORD.finditer(spelling))


@cache
def _rows() -> tuple[tuple[str, str, str, tuple[str, ...]], ...]:
    text = files(__package__).joinpath("words.csv").read_text(encoding="utf-8")
    return tuple(
        (row["kind"], row["value"], row["language"], tuple(row["spellings"].split("|")))
        for row in csv.DictReader(text.splitlines())
    )


LANGUAGES = tuple(dict.fromkeys(row[2] for row in _rows() if row[2] != "any"))
"""The languages that patterns are read in: those that words.csv has words of."""


@cache
def lexicon(language: str) -> Lexicon:
    """Returns the words of one language, with those of any language."""
    made = Lexicon()
    for kind, value, of_language, spellings in _rows():
        if of_language in (language, "any"):
            for spelling in spellings:
                made.add(kind, value, spelling)
    for name in (row["name"] for row in table("fibre_aliases")):
        made.add("fibre", name, name)
    if languages()[language].compounds:
        single = {key[0]: kinds for key, kinds in made.folded.items() if len(key) == 1}
        long = {word: kinds for word, kinds in single.items() if len(word) >= 4}
        made.ends = {word: kinds["item"] for word, kinds in long.items() if "item" in kinds}
        made.starts = {word: kinds["wearer"] for word, kinds in long.items() if "wearer" in kinds}
    for row in table("attributes"):
        made.add("attribute", row["attribute"], row["name"])
        if row["of_fibre"]:
            made.add("attribute-of", row["of_fibre"], row["name"])
    return made


@cache
def _telling_words() -> Mapping[str, Mapping[str, None]]:
    """Each language's own words of at least three letters, by which a text's language shows."""
    found: dict[str, dict[str, None]] = {language: {} for language in LANGUAGES}
    for _, _, language, spellings in _rows():
        for spelling in spellings if language in found else ():
            for word in words_of(spelling):
                if len(word) >= 3:
                    found[language][word.casefold()] = None
    shared = {
        word
        for a in LANGUAGES
        for b in LANGUAGES
        if a < b
        for word in found[a].keys() & found[b].keys()
    }
    return {
        language: {word: None for word in words if word not in shared}
        for language, words in found.items()
    }


def language_of(text: str) -> str:
    """Returns the language whose own words the text has most of."""
    words = [word.casefold() for word in re.findall(r"[^\W\d_]{3,}", text)]
    counts = {name: sum(word in own for word in words) for name, own in _telling_words().items()}
    return max(LANGUAGES, key=lambda name: counts[name])
