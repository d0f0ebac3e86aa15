"""Tables in and out: looked at, taken in and undone; uploads kept for a day; the shelf as CSV."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from datetime import datetime

from sqlalchemy import select

from shopdesk.craft.errors import InputError
from shopdesk.craft.messages import message
from shopdesk.exchange.columns import read_said
from shopdesk.exchange.exporting import EXPORTS, csv_lines
from shopdesk.exchange.importing import Progress, Source, dry_run, import_file
from shopdesk.exchange.lines import FileDefaults
from shopdesk.exchange.problems import FileRefused
from shopdesk.exchange.reports import Report
from shopdesk.exchange.undoing import Undone, last_import, undo
from shopdesk.exchange.uploads import (
    Upload,
    headings_of,
    import_of,
    keep_upload,
    on_disk,
    say_of_upload,
    upload_fields,
    upload_of,
)
from shopdesk.shop.shop import Shop
from shopdesk.store.models import ImportRun

MOST_LISTED = 20


class UploadUnknown(InputError):
    """There is no such uploaded file, or it is not kept any more."""


@dataclass(frozen=True, slots=True)
class ImportMade:
    """An import that was made: its number, what it did, and when it was undone, if it was."""

    id: int
    kind: str
    file_name: str
    at: datetime
    made: int
    changed: int
    unchanged: int
    undone_at: datetime | None


@dataclass(frozen=True, slots=True)
class ImportsMade:
    """The imports that were made, the latest first, and the one that an undo undoes."""

    runs: tuple[ImportMade, ...]
    last: ImportMade | None


def look_at_table(shop: Shop, source: Source, progress: Progress | None = None) -> Report:
    """Returns what taking the file in would do; changes nothing. Raises FileRefused."""
    return dry_run(shop.engine, source, progress)


def take_in_table(
    shop: Shop,
    source: Source,
    *,
    without_refused: bool = False,
    request_key: str | None = None,
    progress: Progress | None = None,
) -> Report:
    """Takes the file in, all of it or nothing, and returns what was done.

    `without_refused` leaves out the lines that cannot be taken. `request_key` is a random word
    that the import is found by. Raises FileRefused and LinesRefused.
    """
    return import_file(
        shop.engine,
        source,
        without_refused=without_refused,
        request_key=request_key,
        progress=progress,
    )


def undo_import(shop: Shop, number: int | None = None) -> Undone:
    """Undoes the latest import; `number` makes sure that it is that one. Raises UndoRefused."""
    return undo(shop.engine, number)


def export_table(shop: Shop, kind: str) -> Iterator[str]:
    """Yields yarns, colours or stock as lines of CSV, as the import takes them back.

    Raises InputError for another kind.
    """
    if kind not in EXPORTS:
        known = message("problem_shelf.choose_one_of", names=", ".join(EXPORTS))
        raise InputError(message("problem_visit.no_table", text=kind[:40]), known)
    return _lines(shop, kind)


def _lines(shop: Shop, kind: str) -> Iterator[str]:
    with shop.read() as session:
        yield from csv_lines(session, kind)


def list_imports(shop: Shop) -> ImportsMade:
    """Returns the latest imports that were made."""
    with shop.read() as session:
        latest = select(ImportRun).order_by(ImportRun.id.desc()).limit(MOST_LISTED)
        runs, last = session.scalars(latest).all(), last_import(session)
        return ImportsMade(tuple(map(_made, runs)), _made(last) if last is not None else None)


def import_of_upload(shop: Shop, token: str) -> ImportsMade | None:
    """Returns the import that an uploaded file became, if it was taken in."""
    with shop.read() as session:
        run, last = import_of(session, token), last_import(session)
        if run is None:
            return None
        return ImportsMade((_made(run),), _made(last) if last is not None else None)


def upload_table(shop: Shop, kind: str, name: str, content: bytes, wishes: FileDefaults) -> str:
    """Keeps a file to be looked at, for a day at most, and returns its token."""
    with shop.write() as session:
        return keep_upload(session, kind, name, content, wishes)


def find_upload(shop: Shop, token: str) -> Upload:
    """Returns an uploaded file without its content. Raises UploadUnknown."""
    with shop.read() as session:
        found = upload_of(session, token)
    if found is None:
        gone, again = message("problem_visit.upload_gone"), message("problem_visit.upload_again")
        raise UploadUnknown(gone, again)
    return found


def look_at_upload(shop: Shop, upload: Upload, progress: Progress | None = None) -> Report:
    """Returns what taking an uploaded file in would do. Raises FileRefused."""
    with on_disk(shop.engine, upload) as source:
        return look_at_table(shop, source, progress)


def take_in_upload(
    shop: Shop, upload: Upload, without_refused: bool = False, progress: Progress | None = None
) -> Report:
    """Takes an uploaded file in, once. Raises FileRefused and LinesRefused."""
    with on_disk(shop.engine, upload) as source:
        return take_in_table(
            shop,
            source,
            without_refused=without_refused,
            request_key=upload.token,
            progress=progress,
        )


def upload_headings(shop: Shop, upload: Upload) -> tuple[tuple[str, str | None], ...]:
    """Returns each heading with the field it is taken for; () if the file cannot be read."""
    with on_disk(shop.engine, upload) as source:
        try:
            return headings_of(shop.engine, source)
        except FileRefused:
            return ()


def column_fields(shop: Shop, kind: str) -> list[str]:
    """Returns the keys of the fields that a file of this kind may have."""
    with shop.read() as session:
        return sorted(field.key for field in upload_fields(session, kind))


def choose_columns(shop: Shop, upload: Upload, chosen: Mapping[str, str]) -> None:
    """Keeps which field each of these headings holds. Raises InputError for an unknown field."""
    with shop.write() as session:
        said = read_said(chosen.items(), upload_fields(session, upload.kind))
        say_of_upload(session, upload.token, {**upload.said, **said}, upload.wishes)


def _made(run: ImportRun) -> ImportMade:
    return ImportMade(
        run.id, run.kind, run.file_name, run.at, run.made, run.changed, run.unchanged, run.undone_at
    )
