"""Which column of a file holds which field: by the usual names, or as the shop said once."""

from collections.abc import Container, Iterable, Mapping
from dataclasses import dataclass, replace

from shopdesk.craft.refusals import Refused
from shopdesk.shelf.importing.fields import Field, plain_heading, read_heading
from shopdesk.shelf.importing.problems import FileRefused, shown

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
                f"the columns '{shown(taken[column.field.key])}' and '{shown(column.heading)}' "
                f"are both taken for {column.field.key}",
                "say for one of them what it holds, or that it is left out",
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
    """Returns headings with their fields' keys as `Said`. Raises Refused for an unknown field."""
    keys = {field.key for field in fields}
    said = {}
    for heading, key in pairs:
        if key not in keys | {IGNORED}:
            raise Refused(
                f"'{shown(key)}' is not a field", "give one of " + ", ".join(sorted(keys))
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
