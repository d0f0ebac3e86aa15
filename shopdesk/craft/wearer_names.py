"""What the name of a size, and words beside it, tell of who wears it: age, height, or who.

A number alone is a height only among heights of EN 13402, which lie 6 cm apart.
"""

import re
from collections.abc import Collection, Iterator, Sequence
from functools import cache
from typing import NamedTuple

from shopdesk.craft.fibres import fibre_named
from shopdesk.reference.tables import table

_FIRST_HEIGHT_CM, _LAST_HEIGHT_CM, _STEP_CM = 50, 176, 6
_SMALLEST_HEAD_CM, _LARGEST_HEAD_CM = 30, 62
_PEOPLE = ("baby", "toddler", "child", "adult")
"""Youngest first: of several that are named, the youngest counts."""


class Named(NamedTuple):
    """What a name tells: a measure of wearer_ranges.csv with its value, or one of the people."""

    measure: str | None = None
    value: float = 0.0
    person: str | None = None
    word: str = ""


@cache
def _meanings() -> dict[str, frozenset[str]]:
    found: dict[str, frozenset[str]] = {}
    for row in table("wearer_words"):
        for word in row["words"].split("|"):
            plain = word.casefold()
            found[plain] = found.get(plain, frozenset()) | {row["kind"]}
    return found


def _is(word: str, *kinds: str) -> bool:
    return not _meanings().get(word, frozenset()).isdisjoint(kinds)


def _pieces(text: str) -> list[str]:
    """Numbers and words, in small letters; '2T' is both, "baby's" is 'baby' and 's'."""
    return re.findall(r"\d+(?:[.,]\d+)?|[^\W\d_]+", text.casefold())


def _number(piece: str) -> float | None:
    return float(piece.replace(",", ".")) if piece[0].isdecimal() else None


def read_person(text: str) -> Named | None:
    """Returns the youngest of the people that words name, or None.

    A word beside a fibre, a weight or another word of the yarn speaks of the yarn: baby alpaca
    says nothing of the wearer.
    """
    pieces = _pieces(text)
    found = {
        person: piece
        for place, piece in enumerate(pieces)
        for person in _PEOPLE
        if _is(piece, person) and not _of_the_yarn(pieces, place)
    }
    return next((Named(person=p, word=found[p]) for p in _PEOPLE if p in found), None)


def _of_the_yarn(pieces: Sequence[str], place: int) -> bool:
    beside = (*pieces[max(0, place - 1) : place], *pieces[place + 1 : place + 2])
    return any(_is(word, "yarn") or fibre_named(word) is not None for word in beside)


def is_baby_weight(name: str) -> bool:
    """True if a weight is named after babies ('baby', 'Babygarn'), and knitted for adults too."""
    return any(piece.startswith("baby") or _is(piece, "baby") for piece in _pieces(name))


def read_size(size: str, sizes: Collection[str], *, of_the_head: bool) -> Named | None:
    """Returns what the name of a size tells, or None.

    `sizes` are the names of all sizes of the pattern; `of_the_head` says that a lone number may
    be cm around the head. Ages are read in months and years, heights and heads in cm; of a range
    the lower end counts.
    """
    pieces = _pieces(size)
    return _age(pieces) or read_person(size) or _centimetres(size, sizes, of_the_head)


def _age(pieces: Sequence[str]) -> Named | None:
    ages = list(_ages(pieces))
    return min(ages, key=_in_months) if ages else None


def _ages(pieces: Sequence[str]) -> Iterator[Named]:
    for place, piece in enumerate(pieces):
        value = _number(piece)
        unit = next((word for word in pieces[place + 1 :] if _number(word) is None), "")
        if value is None or not _is(unit, "month", "year"):
            continue
        if len(unit) > 1 or pieces[-1] == unit:
            yield Named("months" if _is(unit, "month") else "years", value)


def _in_months(age: Named) -> float:
    return age.value * (12 if age.measure == "years" else 1)


def _centimetres(size: str, sizes: Collection[str], of_the_head: bool) -> Named | None:
    every = [_lone_numbers(name) for name in {*sizes, size}]
    if any(not numbers for numbers in every):
        return None
    value, largest = min(_lone_numbers(size)), max(max(numbers) for numbers in every)
    heights = all(_is_height(one) for numbers in every for one in numbers)
    if heights and not (of_the_head and largest <= _LARGEST_HEAD_CM):
        return Named("height", value)
    smallest = min(min(numbers) for numbers in every)
    heads = of_the_head and smallest >= _SMALLEST_HEAD_CM and largest <= _LARGEST_HEAD_CM
    return Named("head", value) if heads else None


def _lone_numbers(name: str) -> list[float]:
    """The numbers of a name that is made of one or two of them, as 'size 86/92'; else nothing."""
    pieces = [piece for piece in _pieces(name) if not _is(piece, "size")]
    numbers = [value for value in map(_number, pieces) if value is not None]
    return numbers if len(numbers) == len(pieces) <= 2 else []


def _is_height(value: float) -> bool:
    return (
        _FIRST_HEIGHT_CM <= value <= _LAST_HEIGHT_CM and (value - _FIRST_HEIGHT_CM) % _STEP_CM == 0
    )
