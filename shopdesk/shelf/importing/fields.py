"""A field of a table: its names, and how one of its cells is read."""

import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass

from shopdesk.craft.money import currencies
from shopdesk.reading.quantities import LENGTH_UNITS, MASS_UNITS, SPELLINGS

Values = Mapping[str, object]
Reader = Callable[[str, str], Values]
"""Reads a cell, given the unit that its heading names, and returns the stored values it sets."""


@dataclass(frozen=True, slots=True)
class Field:
    """One thing a column may hold. `names` are further headings it goes by, in plain form."""

    key: str
    read: Reader
    names: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Heading:
    """A heading as written, its name in plain form, and the unit it names, '' if none."""

    written: str
    name: str
    unit: str


_UNIT_WORDS = {
    **{unit: unit for unit in (*LENGTH_UNITS, *MASS_UNITS)},
    **{word: unit for word, unit in SPELLINGS.items() if word.isalpha()},
    "us": "US",
    "uk": "UK",
    "%": "",
}
_OVER = re.compile(
    r"(?:/|\bper|\bauf|\bsur|\bover|\bon)\s*(?P<over>[0-9.,]*\s*(?:cm|mm|in|inch))\Z"
)
_BEHIND = re.compile(r"\A(?P<name>.*?\S)(?:\s+in)?\s+(?P<unit>\S+)\Z")
_BRACKETED = re.compile(r"\A(?P<name>.*?\S)?\s*[(\[](?P<unit>[^)\]]*)[)\]]\Z")


def plain_heading(text: str) -> str:
    """Returns a heading in small letters with single blanks: what it is remembered by."""
    return re.sub(r"[\s_\u00a0]+", " ", text.casefold()).strip(" .:*")


def read_heading(written: str) -> Heading:
    """Returns the heading with its unit told apart: 'Length (yd)', 'Preis in EUR', 'put_up_g'."""
    plain = plain_heading(written)
    bracketed = _BRACKETED.match(plain)
    if bracketed is not None:
        unit = _unit(bracketed["unit"])
        if unit is not None:
            return Heading(written, (bracketed["name"] or "").strip(), unit)
    over = _OVER.search(plain)
    if over is not None:
        name = plain[: over.start()].strip(" (")
        return Heading(written, name, over["over"].replace("inch", "in").strip())
    behind = _BEHIND.match(plain)
    unit = _unit(behind["unit"]) if behind is not None else None
    if behind is not None and unit is not None:
        return Heading(written, behind["name"], unit)
    return Heading(written, plain, "")


def _unit(text: str) -> str | None:
    plain = text.strip(" .")
    if plain in _UNIT_WORDS:
        return _UNIT_WORDS[plain]
    if plain.upper() in currencies():
        return plain.upper()
    over = _OVER.search(plain)
    return over["over"].replace("inch", "in").strip() if over is not None else None
