"""Which column of a file holds which field, by the usual names or as the shop said once."""

import re
from collections.abc import Callable, Container, Iterable, Mapping
from dataclasses import dataclass, replace

from sqlalchemy import delete, insert, select
from sqlalchemy.orm import Session

from shopdesk.craft.errors import InputError
from shopdesk.craft.lengths import HEADING
from shopdesk.craft.messages import message
from shopdesk.craft.money import currencies
from shopdesk.exchange.problems import FileRefused, shown
from shopdesk.parsing.quantities import LENGTH_UNITS, MASS_UNITS, SPELLINGS
from shopdesk.store.models import ImportHeading

_RUN = tuple("=+-@\t\r\n＝＋－＠")
_GUARD = "'"


def harmless(text: str) -> str:
    """Returns the text as it may stand in a file that a spreadsheet opens."""
    return _GUARD + text if text.startswith(_RUN) or _is_guarded(text) else text


def as_typed(text: str) -> str:
    """Returns the text that `harmless` was given."""
    return text[1:] if _is_guarded(text) else text


def _is_guarded(text: str) -> bool:
    return text.startswith(_GUARD) and text.lstrip(_GUARD).startswith(_RUN)


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
    """A heading's name in plain form, and the unit it names, '' if none."""

    name: str
    unit: str


_UNIT_WORDS = {
    **{unit: unit for unit in (*LENGTH_UNITS, *MASS_UNITS)},
    **{word: unit for word, unit in SPELLINGS.items() if word.isalpha()},
    "us": "US",
    "uk": "UK",
    "jp": "JP",
    "%": "",
}
_OVER = re.compile(
    r"(?:/|\bper|\bauf|\bsur|\bover|\bon)\s*(?P<over>[0-9.,]*\s*(?:cm|mm|in|inch))\Z"
)
_BEHIND = re.compile(r"\A(?P<name>.*?\S)(?:\s+in)?\s+(?P<unit>\S+)\Z")
_BRACKETED = re.compile(r"\A(?P<name>.*?\S)?\s*[(\[](?P<unit>[^)\]]*)[)\]]\Z")


def plain_heading(text: str) -> str:
    """Returns a heading in small letters with single blanks: what it is remembered by."""
    return re.sub(r"[\s_\u00a0]+", " ", text.casefold()).strip(" .:*")[:HEADING]


def read_heading(written: str) -> Heading:
    """Returns the heading with its unit told apart: 'Length (yd)', 'Preis in EUR', 'put_up_g'."""
    plain = plain_heading(written)
    bracketed = _BRACKETED.match(plain)
    if bracketed is not None:
        unit = _unit(bracketed["unit"])
        if unit is not None:
            return Heading((bracketed["name"] or "").strip(), unit)
    over = _OVER.search(plain)
    if over is not None:
        name = plain[: over.start()].strip(" (")
        return Heading(name, over["over"].replace("inch", "in").strip())
    behind = _BEHIND.match(plain)
    unit = _unit(behind["unit"]) if behind is not None else None
    if behind is not None and unit is not None:
        return Heading(behind["name"], unit)
    return Heading(plain, "")


def _unit(text: str) -> str | None:
    plain = text.strip(" .")
    if plain in _UNIT_WORDS:
        return _UNIT_WORDS[plain]
    if plain.upper() in currencies():
        return plain.upper()
    over = _OVER.search(plain)
    return over["over"].replace("inch", "in").strip() if over is not None else None


IGNORED = ""
Said = Mapping[str, str]
"""The shop's own headings in plain form, each with the key of its field; '' leaves it out."""


@dataclass(frozen=True, slots=True)
class Column:
    """One column of a file: its place, its heading, and the field it holds, if any."""

    place: int
    heading: str
    unit: str = ""
    field: Field | None = None


def columns_of(headings: Iterable[str], fields: Iterable[Field], said: Said) -> tuple[Column, ...]:
    """Returns a column for each heading. Raises FileRefused if two hold the same field."""
    columns = matched(headings, fields, said)
    taken: dict[str, str] = {}
    for column in columns:
        if column.field is None:
            continue
        if column.field.key in taken:
            raise FileRefused(
                message(
                    "problem_file.two_columns",
                    one=shown(taken[column.field.key]),
                    other=shown(column.heading),
                    field=column.field.key,
                ),
                message("problem_file.say_column"),
            )
        taken[column.field.key] = column.heading
    return columns


def matched(headings: Iterable[str], fields: Iterable[Field], said: Said) -> tuple[Column, ...]:
    """Returns a column for each heading, also where two are taken for the same field."""
    by_name = _by_name(fields)
    return tuple(_column(place, heading, by_name, said) for place, heading in enumerate(headings))


def without_fields(columns: Iterable[Column], keys: Container[str]) -> tuple[Column, ...]:
    """Returns the columns with those that hold one of these fields left out."""
    return tuple(
        replace(column, field=None) if column.field and column.field.key in keys else column
        for column in columns
    )


def read_said(pairs: Iterable[tuple[str, str]], fields: Iterable[Field]) -> dict[str, str]:
    """Returns headings with their fields' keys as `Said`. Raises InputError for an unknown one."""
    keys = {field.key for field in fields}
    said = {}
    for heading, key in pairs:
        if key not in keys | {IGNORED}:
            raise InputError(
                message("problem_file.no_field", text=shown(key)),
                message("problem_shelf.give_one_of", names=", ".join(sorted(keys))),
            )
        said[plain_heading(heading)] = key
    return said


def _by_name(fields: Iterable[Field]) -> dict[str, Field]:
    listed = tuple(fields)
    names = {plain_heading(name): field for field in listed for name in field.names}
    return names | {plain_heading(field.key): field for field in listed}


def _column(place: int, written: str, by_name: Mapping[str, Field], said: Said) -> Column:
    plain = plain_heading(written)
    heading = read_heading(written)
    if plain in said:
        key = said[plain]
        return Column(
            place, written, heading.unit, by_name.get(plain_heading(key)) if key else None
        )
    if plain in by_name:
        return Column(place, written, "", by_name[plain])
    return Column(place, written, heading.unit, by_name.get(heading.name))


def remembered(session: Session, kind: str) -> dict[str, str]:
    """Returns what was said of headings in files of this kind."""
    wanted = select(ImportHeading.heading, ImportHeading.field).where(ImportHeading.kind == kind)
    return {row.heading: row.field for row in session.execute(wanted)}


def remember(session: Session, kind: str, said: Said) -> None:
    """Keeps what was said of headings; what was said of the same heading before is replaced."""
    rows = [
        {"kind": kind, "heading": plain_heading(heading), "field": key}
        for heading, key in said.items()
    ]
    headings = [row["heading"] for row in rows]
    session.execute(
        delete(ImportHeading).where(ImportHeading.kind == kind, ImportHeading.heading.in_(headings))
    )
    session.execute(insert(ImportHeading), rows)
