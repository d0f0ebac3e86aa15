"""The moments of a program at which a test kills it: counted, so that none depends on a clock.

A moment is a statement that is about to be sent to the database, a commit that is about to be
made or is made, or a file that is about to be opened, renamed or removed.
"""

import os
import signal
import sys
from enum import StrEnum

from sqlalchemy import Engine, event
from sqlalchemy.orm import Session

FILE_EVENTS = {"open", "os.link", "os.remove", "os.rename", "shutil.move", "sqlite3.connect"}


class Way(StrEnum):
    """How a program is killed: by itself at the moment, or by the test as soon as it is told."""

    HERE = "here"
    SOON = "soon"


class Moments:
    """Counts what passes; tells of the chosen moment on standard output and ends there."""

    def __init__(self) -> None:
        self.passed = 0
        self._chosen = 0
        self._way = Way.HERE

    def choose(self, moment: int, way: Way = Way.HERE) -> None:
        """Counts anew; `moment` 1 is the next one, 0 none."""
        self.passed, self._chosen, self._way = 0, moment, way

    def come(self, *_about: object) -> None:
        """Counts one moment."""
        self.passed += 1
        if self.passed == self._chosen:
            self.end()

    def end(self) -> None:
        """Says that the moment is there, and dies unless the test is to kill."""
        os.write(1, f"{self._way}\n".encode())
        if self._way is Way.HERE:
            os.kill(os.getpid(), signal.SIGKILL)

    def watch_database(self, engine: Engine) -> None:
        """Counts the statements and commits of an engine. Of a commit the last moment is after."""
        event.listen(engine, "before_cursor_execute", self.come)
        event.listen(engine, "commit", self.come)
        event.listen(Session, "after_commit", self.come)

    def watch_files(self) -> None:
        """Counts what this process does with files from now on."""
        sys.addaudithook(lambda name, _about: self.come() if name in FILE_EVENTS else None)
