"""Makes the daily backup beside a counter that is being served."""

import threading

from shopdesk.shelf.backup import BackupRefused, daily_backup
from shopdesk.shelf.journal import JournalRefused, note
from shopdesk.shelf.place import Place

LOOK_EVERY_SECONDS = 600.0


class DailyBackups(threading.Thread):
    """Looks now and then whether a backup is due; a failed one is logged and tried again."""

    def __init__(self, place: Place, kept: int, every_seconds: float = LOOK_EVERY_SECONDS) -> None:
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
        except JournalRefused:
            return

    def _note_failure(self, why: str) -> None:
        try:
            note(self._place.folder, "backup failed", why=why)
        except JournalRefused:
            return
