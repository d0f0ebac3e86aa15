"""Files that were uploaded and are being looked at: kept in the database for a day at most."""

import secrets
import zlib
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from dataclasses import dataclass
from datetime import timedelta
from pathlib import Path
from tempfile import TemporaryDirectory

from sqlalchemy import Engine, delete, select, update
from sqlalchemy.orm import Session

from shopdesk.craft.lengths import FILE_NAME
from shopdesk.exchange.columns import Field, matched, remembered
from shopdesk.exchange.files import read_table
from shopdesk.exchange.importing import Source, fields_of, without_spare
from shopdesk.exchange.lines import FileDefaults
from shopdesk.store.database import reading
from shopdesk.store.models import ImportRun, ImportUpload
from shopdesk.store.settings import load_settings
from shopdesk.store.tables.stock import FIRST_BRANCH
from shopdesk.store.types import now

KEPT_FOR = timedelta(days=1)


@dataclass(frozen=True, slots=True)
class Upload:
    """An uploaded file by its random name, and what is said of it."""

    token: str
    kind: str
    file_name: str
    said: Mapping[str, str]
    wishes: FileDefaults


def keep_upload(
    session: Session, kind: str, file_name: str, content: bytes, wishes: FileDefaults
) -> str:
    """Keeps a file and returns its token; files of an earlier day are forgotten."""
    session.execute(delete(ImportUpload).where(ImportUpload.uploaded_at < now() - KEPT_FOR))
    token = secrets.token_urlsafe(16)
    session.add(
        ImportUpload(
            token=token,
            kind=kind,
            file_name=file_name[-FILE_NAME:],
            content=zlib.compress(content, 1),
            said=_document({}, wishes),
            uploaded_at=now(),
        )
    )
    return token


def upload_of(session: Session, token: str) -> Upload | None:
    """Returns an upload without its content, or None if it is not kept any more."""
    wanted = select(ImportUpload.kind, ImportUpload.file_name, ImportUpload.said)
    row = session.execute(wanted.where(ImportUpload.token == token)).one_or_none()
    if row is None:
        return None
    wishes = FileDefaults(row.said["branch"], row.said["delivery"])
    return Upload(token, row.kind, row.file_name, row.said["headings"], wishes)


def say_of_upload(
    session: Session, token: str, said: Mapping[str, str], wishes: FileDefaults
) -> None:
    """Changes what is said of an upload's headings, branch and delivery."""
    changed = update(ImportUpload).where(ImportUpload.token == token)
    session.execute(changed.values(said=_document(said, wishes)))


def import_of(session: Session, token: str) -> ImportRun | None:
    """Returns the import that an upload became, if it was taken in."""
    return session.scalars(select(ImportRun).where(ImportRun.request_key == token)).one_or_none()


@contextmanager
def on_disk(engine: Engine, upload: Upload) -> Iterator[Source]:
    """Gives an upload as a file to import, for the length of the block."""
    with reading(engine) as session:
        wanted = select(ImportUpload.content).where(ImportUpload.token == upload.token)
        content = session.scalars(wanted).one()
    with TemporaryDirectory() as folder:
        path = Path(folder) / "upload"
        path.write_bytes(zlib.decompress(content))
        yield Source(path, upload.file_name, upload.kind, upload.said, upload.wishes)


def headings_of(engine: Engine, source: Source) -> tuple[tuple[str, str | None], ...]:
    """Returns each heading of a file with the field it is taken for. Raises FileRefused."""
    headings = read_table(source.path).headings
    with reading(engine) as session:
        said = {**remembered(session, source.kind), **source.said}
        fields = upload_fields(session, source.kind)
    columns = without_spare(source.kind, matched(headings, fields, said))
    return tuple((c.heading, c.field.key if c.field else None) for c in columns)


def upload_fields(session: Session, kind: str) -> tuple[Field, ...]:
    """Returns the fields that a file of this kind may have."""
    return fields_of(kind, load_settings(session).currency)


def _document(said: Mapping[str, str], wishes: FileDefaults) -> dict[str, object]:
    return {
        "headings": dict(said),
        "branch": wishes.branch or FIRST_BRANCH,
        "delivery": wishes.delivery,
    }
