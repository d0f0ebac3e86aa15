"""Copies of the whole shop: made while it is served, daily by itself, checked before trusted."""

import errno
import os
import shutil
import sqlite3
import threading
from collections.abc import Iterator
from contextlib import closing, contextmanager
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from pathlib import Path

from shopdesk.shop.location import DataLocation
from shopdesk.upkeep.log import LogRefused, note

BACKUP_FOLDER = "backups"
BACKUPS_KEPT = 14
BACKUP_EVERY = timedelta(days=1)
_STAMP = "%Y%m%dT%H%M%SZ"
_NAME = "shopdesk-{}.sqlite3"
_SIDE_FILES = ("-wal", "-shm", "-journal")
WAIT_SECONDS = 10


class BackupRefused(RuntimeError):
    """The copy cannot be made or used; the message says why and what to do."""


@dataclass(frozen=True, slots=True)
class RestoredBackup:
    """What a restore did: the database in use now, and where the former one was put aside."""

    database: Path
    put_aside: Path | None


def back_up(place: DataLocation, target: Path | None = None) -> Path:
    """Copies the shop's SQLite database to a new file, checks the copy and returns its path.

    `target` may be a new file or a folder; without it the copy goes to the data folder's
    backups. An existing file is never overwritten. Raises BackupRefused.
    """
    source = _sqlite_file(place)
    if not source.exists():
        raise BackupRefused(f"there is no database at {source}")
    with _errors_named(target or source):
        file = _target_file(place, target)
        with _new_file(file) as draft:
            with closing(_opened(source, "ro")) as shop:
                _copy(shop, draft)
            _require_sound(draft)
    return file


def backups(place: DataLocation) -> list[Path]:
    """Returns the backups in the data folder, oldest first."""
    return sorted((place.folder / BACKUP_FOLDER).glob(_NAME.format("*")))


def last_backup_at(place: DataLocation) -> datetime | None:
    """Returns when the newest backup in the data folder was made, or None."""
    times = [at for at in map(_made_at, backups(place)) if at is not None]
    return max(times, default=None)


def daily_backup(
    place: DataLocation, kept: int = BACKUPS_KEPT, now: datetime | None = None
) -> Path | None:
    """Makes a backup if the newest is a day old, and removes those beyond `kept`.

    Returns the new backup, or None if none was due. Raises BackupRefused.
    """
    last = last_backup_at(place)
    if last is not None and (now or datetime.now(UTC)) - last < BACKUP_EVERY:
        return None
    made = back_up(place)
    with _errors_named(made):
        for old in [*backups(place)[:-kept], *_left_over(made.parent)]:
            old.unlink(missing_ok=True)
    return made


def _left_over(folder: Path) -> Iterator[Path]:
    """Yields the drafts of backups that were cut short more than a day ago."""
    for draft in folder.glob(f".{_NAME.format('*')}.*"):
        age = datetime.now(UTC) - datetime.fromtimestamp(draft.stat().st_mtime, UTC)
        if age > BACKUP_EVERY:
            yield draft


def restore(place: DataLocation, backup: Path) -> RestoredBackup:
    """Puts a backup in the place of the shop's database, and keeps the former one aside.

    The backup is copied to a new file, checked and brought to this version's schema there; only
    then does it replace. Refused while a counter has the database open. Raises BackupRefused
    and ShelfFault.
    """
    database = _sqlite_file(place)
    if not backup.is_file():
        raise BackupRefused(f"{backup} is not a file")
    draft = database.with_name(f"{database.name}.restoring-{os.getpid()}")
    try:
        with _errors_named(draft):
            database.parent.mkdir(mode=0o700, parents=True, exist_ok=True)
            with closing(_opened(backup, "ro")) as kept:
                _copy(kept, draft)
            _require_sound(draft)
            _bring_up_to_date(draft)
            return RestoredBackup(database, _replace(database, draft))
    finally:
        for name in ("", *_SIDE_FILES):
            draft.with_name(draft.name + name).unlink(missing_ok=True)


def unsound(file: Path) -> str | None:
    """Returns what SQLite's own checks find wrong with a database file, or None."""
    try:
        with closing(_opened(file, "ro")) as opened:
            found = opened.execute("PRAGMA integrity_check(1)").fetchone()[0]
            if found != "ok":
                return str(found)
            dangling = opened.execute("PRAGMA foreign_key_check").fetchone()
            return f"a row of {dangling[0]} refers to one that is missing" if dangling else None
    except sqlite3.Error as error:
        return str(error)


def _sqlite_file(place: DataLocation) -> Path:
    file = place.database_file
    if file is None:
        raise BackupRefused(
            f"{place.shown_url} is on a database server: back it up with pg_dump, "
            "restore it with pg_restore"
        )
    return file


def _target_file(place: DataLocation, target: Path | None) -> Path:
    folder = target or place.folder / BACKUP_FOLDER
    if target is None:
        folder.mkdir(mode=0o700, parents=True, exist_ok=True)
    elif not target.is_dir():
        return target
    return folder / _NAME.format(datetime.now(UTC).strftime(_STAMP))


def _made_at(backup: Path) -> datetime | None:
    stamp = backup.name.removeprefix(_NAME.partition("{")[0]).removesuffix(".sqlite3")
    try:
        return datetime.strptime(stamp, _STAMP).replace(tzinfo=UTC)
    except ValueError:
        return None


def _opened(file: Path, mode: str) -> sqlite3.Connection:
    address = f"{file.absolute().as_uri()}?mode={mode}"
    return sqlite3.connect(address, uri=True, timeout=WAIT_SECONDS, isolation_level=None)


def _copy(source: sqlite3.Connection, target: Path) -> None:
    """Copies in one step into a file of mode 600 that needs no file beside it."""
    os.close(os.open(target, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600))
    with closing(_opened(target, "rw")) as copy:
        source.backup(copy, pages=-1)
        copy.execute("PRAGMA journal_mode = DELETE")


@contextmanager
def _new_file(file: Path) -> Iterator[Path]:
    """Gives a draft that appears under the name of `file` whole, or not at all."""
    draft = file.with_name(f".{file.name}.{os.getpid()}")
    try:
        yield draft
        _sync(draft)
        _name(draft, file)
        _sync(file.parent)
    except FileExistsError:
        raise BackupRefused(f"{file} exists already; name a new file") from None
    finally:
        draft.unlink(missing_ok=True)


def _name(draft: Path, file: Path) -> None:
    """Gives a finished draft its name, unless another file has it. Raises FileExistsError."""
    try:
        os.link(draft, file)
    except FileExistsError:
        raise
    except OSError:
        # A file system without hard links, such as a memory stick's.
        if os.path.lexists(file):
            raise FileExistsError(errno.EEXIST, os.strerror(errno.EEXIST), str(file)) from None
        draft.rename(file)


def _sync(path: Path) -> None:
    handle = os.open(path, os.O_RDONLY)
    try:
        os.fsync(handle)
    finally:
        os.close(handle)


def _require_sound(file: Path) -> None:
    wrong = unsound(file)
    if wrong is not None:
        raise BackupRefused(f"the copy does not pass SQLite's checks ({wrong}); it was not kept")


def _bring_up_to_date(file: Path) -> None:
    from sqlalchemy import URL

    from shopdesk.store.database import open_shelf
    from shopdesk.store.upgrading import current_revision, upgrade

    address = URL.create("sqlite", database=str(file))
    engine = open_shelf(address.render_as_string(hide_password=False))
    try:
        if current_revision(engine) is None:
            raise BackupRefused("the backup is a database, but not one of Shopdesk's")
        upgrade(engine)
    finally:
        engine.dispose()
    with closing(_opened(file, "rw")) as opened:
        opened.execute("PRAGMA journal_mode = DELETE")
    _sync(file)


def _replace(database: Path, draft: Path) -> Path | None:
    """Puts the draft in place in one step, so that at every moment there is a whole database."""
    aside = None
    if database.exists():
        _close_out(database)
        stamp = datetime.now(UTC).strftime("%Y%m%dT%H%M%S.%fZ")
        aside = database.with_name(f"{database.name}.before-{stamp}")
        _keep_aside(database, aside)
    draft.replace(database)
    _sync(database.parent)
    return aside


def _keep_aside(database: Path, aside: Path) -> None:
    """Gives the former database a second name; a damaged one's side files go along with it."""
    for name in _SIDE_FILES:
        beside = database.with_name(database.name + name)
        if beside.exists():
            beside.rename(aside.with_name(aside.name + name))
    try:
        os.link(database, aside)
    except FileExistsError:
        raise
    except OSError:
        shutil.copy2(database, aside)


def _close_out(database: Path) -> None:
    """Folds the write-ahead log into the file, which SQLite does for its only user alone.

    A file that is too damaged for that is left as it is.
    """
    try:
        with closing(_opened(database, "rw")) as opened:
            opened.execute("PRAGMA journal_mode = DELETE")
    except sqlite3.OperationalError as error:
        if error.sqlite_errorname.startswith("SQLITE_BUSY"):
            raise BackupRefused(
                f"{database} is in use; end `shopdesk serve` first, nothing was changed"
            ) from None
        raise
    except sqlite3.DatabaseError:
        return


@contextmanager
def _errors_named(file: Path) -> Iterator[None]:
    try:
        yield
    except sqlite3.Error as error:
        raise BackupRefused(f"{file} cannot be written or read: {error}") from error
    except OSError as error:
        raise BackupRefused(f"{error.filename or file}: {error.strerror}") from error


LOOK_EVERY_SECONDS = 600.0


class DailyBackups(threading.Thread):
    """Looks now and then whether a backup is due; a failed one is logged and tried again."""

    def __init__(
        self, place: DataLocation, kept: int, every_seconds: float = LOOK_EVERY_SECONDS
    ) -> None:
        super().__init__(name="daily backups", daemon=True)
        self._place = place
        self._kept = kept
        self._every_seconds = every_seconds
        self._over = threading.Event()

    def run(self) -> None:
        """Looks until `end` is called."""
        while True:
            self._look()
            if self._over.wait(self._every_seconds):
                return

    def end(self) -> None:
        """Lets a backup that is being made finish, and stops looking."""
        self._over.set()
        self.join()

    def _look(self) -> None:
        try:
            made = daily_backup(self._place, self._kept)
            if made is not None:
                note(self._place.folder, "backup", file=made.name)
        except BackupRefused as refusal:
            self._note_failure(str(refusal))
        except LogRefused:
            return

    def _note_failure(self, why: str) -> None:
        try:
            note(self._place.folder, "backup failed", why=why)
        except LogRefused:
            return
