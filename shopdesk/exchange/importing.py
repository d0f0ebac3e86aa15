"""Looks at a file against the shelf, or takes it in: a dry run and an import are one code.

A dry run keeps nothing. An import is one transaction: every line that is not refused, or none.
"""

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from itertools import islice
from pathlib import Path
from typing import Protocol

from sqlalchemy import Engine, func, select
from sqlalchemy.orm import Session

from shopdesk.craft.errors import InputError
from shopdesk.craft.lengths import FILE_NAME
from shopdesk.craft.messages import Message, message
from shopdesk.exchange.colour_lines import ColourImport
from shopdesk.exchange.columns import (
    Column,
    Field,
    Said,
    columns_of,
    read_said,
    remember,
    remembered,
    without_fields,
)
from shopdesk.exchange.counts_of_stock import StockImport
from shopdesk.exchange.deliveries import DeliveryImport
from shopdesk.exchange.files import read_table
from shopdesk.exchange.lines import FileDefaults, Work
from shopdesk.exchange.problems import FileRefused
from shopdesk.exchange.reports import Report, Tally
from shopdesk.exchange.rows import Row, Table, blank
from shopdesk.exchange.yarn_lines import YarnImport
from shopdesk.shelf.writing import writing
from shopdesk.store.database import drafting, roomy
from shopdesk.store.models import ImportRun, StockMovement
from shopdesk.store.settings import load_settings
from shopdesk.store.types import now

BATCH_BY_KIND = {"yarns": 250, "colours": 250, "stock": 500, "deliveries": 500}
"""Lines taken at a time. More than some 700 small objects at once wake Python's collector of
garbage over and over, which cost a sixth of an import of stock."""
Progress = Callable[[int, int], None]
"""Called with the lines done so far and the lines of the file."""


class Importing(Protocol):
    """What each kind of import does with the lines of its file."""

    needed: tuple[tuple[str, ...], ...]
    """The fields a file must have; of several such sets the first that it has in full counts."""

    def __init__(self, work: Work) -> None: ...

    @staticmethod
    def fields(currency: str) -> tuple[Field, ...]:
        """Returns the fields that a file of this kind may have."""

    def take(self, rows: list[Row]) -> None:
        """Takes a batch of lines."""

    def finish(self) -> None:
        """Does what can only be done when all lines are there."""


KINDS: Mapping[str, type[Importing]] = {
    "yarns": YarnImport,
    "colours": ColourImport,
    "stock": StockImport,
    "deliveries": DeliveryImport,
}


@dataclass(frozen=True, slots=True)
class Source:
    """A file to import: where it lies, the name to call it by, its kind, and what is said of it.

    `said` maps the shop's own headings to fields' keys, beside those that are remembered.
    """

    path: Path
    name: str
    kind: str
    said: Said = field(default_factory=dict)
    wishes: FileDefaults = field(default_factory=FileDefaults)


class LinesRefused(InputError):
    """An import was not made since lines were refused; `report` says which and why."""

    def __init__(self, report: Report) -> None:
        wrong = message("problem_file.lines_refused", count=report.refused)
        super().__init__(wrong, message("problem_file.nothing_imported"))
        self.report = report


def dry_run(engine: Engine, source: Source, progress: Progress | None = None) -> Report:
    """Returns what importing the file would do; changes nothing. Raises FileRefused."""
    with drafting(engine) as session:
        return _run(session, source, None, progress)


def import_file(
    engine: Engine,
    source: Source,
    *,
    without_refused: bool = False,
    request_key: str | None = None,
    progress: Progress | None = None,
) -> Report:
    """Takes the file in, in one transaction, and returns what was done.

    Raises FileRefused; and LinesRefused, with nothing changed, if a line is refused, unless
    `without_refused` leaves such lines out.
    """
    with writing(engine) as session:
        number = _begin(session, source, request_key)
        report = _run(session, source, number, progress)
        if report.refused and not without_refused:
            raise LinesRefused(report)
        if source.said:
            remember(session, source.kind, source.said)
        _end(session, number, report)
        return report


def fields_of(kind: str, currency: str) -> tuple[Field, ...]:
    """Returns the fields that a file of this kind may have."""
    return KINDS[kind].fields(currency)


def _run(session: Session, source: Source, number: int | None, progress: Progress | None) -> Report:
    table = read_table(source.path)
    currency = load_settings(session).currency
    kind = KINDS[source.kind]
    columns = _columns(session, source, table, kind, currency)
    tally = Tally()
    work = Work(session, columns, tally, currency, source.wishes, number)
    with roomy(session):
        importing = kind(work)
        for batch in _batches(table, BATCH_BY_KIND[source.kind]):
            importing.take([row for row in batch if not blank(row[1])])
            if progress is not None:
                progress(batch[-1][0], table.lines)
        importing.finish()
    return _report(source, table, work)


def _columns(
    session: Session, source: Source, table: Table, kind: type[Importing], currency: str
) -> tuple[Column, ...]:
    fields = kind.fields(currency)
    said = read_said(source.said.items(), fields)
    columns = columns_of(table.headings, fields, remembered(session, source.kind) | said)
    if _chosen(kind, columns) is None:
        raise _missing(kind, _held(columns), table.headings)
    return without_spare(source.kind, columns)


def without_spare(kind: str, columns: tuple[Column, ...]) -> tuple[Column, ...]:
    """Returns the columns with those left out that say again what others say already."""
    needed = KINDS[kind].needed
    chosen = _chosen(KINDS[kind], columns)
    if chosen is None:
        return columns
    return without_fields(columns, {key for keys in needed for key in keys} - set(chosen))


def _held(columns: tuple[Column, ...]) -> set[str]:
    return {column.field.key for column in columns if column.field is not None}


def _chosen(kind: type[Importing], columns: tuple[Column, ...]) -> tuple[str, ...] | None:
    held = _held(columns)
    return next((keys for keys in kind.needed if held.issuperset(keys)), None)


def _missing(kind: type[Importing], held: set[str], headings: Sequence[str]) -> FileRefused:
    first, *others = kind.needed
    listed = ", ".join(f"'{heading[:40]}'" for heading in headings[:20])
    lacking = [key for key in first if key not in held]
    right = message("problem_file.say_heading")
    for keys in others:
        right = message("problem_file.or_have", right=right, fields=keys)
    wrong = message("problem_file.no_column", fields=_any_of(lacking), headings=listed)
    return FileRefused(wrong, right)


def _any_of(keys: Sequence[str]) -> Message | str:
    """Says 'sku or colour or skeins' in the reader's language."""
    said: Message | str = keys[0]
    for key in keys[1:]:
        said = message("problem_ask.either", listed=said, last=key)
    return said


def _batches(table: Table, size: int) -> Iterator[list[Row]]:
    while batch := list(islice(table.rows, size)):
        yield batch


def _report(source: Source, table: Table, work: Work) -> Report:
    tally = work.tally
    return Report(
        kind=source.kind,
        file_name=source.name,
        read_as=table.read_as,
        columns=tuple((c.heading, c.field.key if c.field else None) for c in work.columns),
        new=tally.new,
        changed=tally.changed,
        unchanged=tally.unchanged,
        refused=tally.refused,
        changes=tuple(tally.changes),
        refusals=tuple(sorted(tally.refusals, key=lambda refusal: refusal.line)),
        number=work.number,
    )


def _begin(session: Session, source: Source, request_key: str | None) -> int:
    run = ImportRun(
        kind=source.kind, file_name=source.name[-FILE_NAME:], at=now(),
        **dict.fromkeys(("made", "changed", "unchanged"), 0),
        first_movement=_last_movement(session) + 1, request_key=request_key,
    )  # fmt: skip
    session.add(run)
    session.flush()
    number = run.id
    session.expunge(run)
    return number


def _end(session: Session, number: int, report: Report) -> None:
    run = session.get_one(ImportRun, number)
    run.made, run.changed, run.unchanged = report.new, report.changed, report.unchanged
    run.last_movement = _last_movement(session)


def _last_movement(session: Session) -> int:
    return session.scalar(select(func.max(StockMovement.id))) or 0
