"""Who is signed in: kept by the server alone, so that signing out ends it for every cookie."""

import hashlib
import secrets
import threading
import time
from collections.abc import Callable
from dataclasses import dataclass

IDLE_MINUTES = 60
LONGEST_HOURS = 14
MOST_SESSIONS = 500
TOKEN_BYTES = 32


@dataclass(slots=True)
class _Session:
    mark: str
    begun: float
    seen: float


class Sessions:
    """Sessions by their token. One ends when idle, after a working day, or with its passphrase."""

    def __init__(
        self, idle_minutes: float = IDLE_MINUTES, clock: Callable[[], float] = time.monotonic
    ) -> None:
        self._idle_seconds = idle_minutes * 60
        self._clock = clock
        self._lock = threading.Lock()
        self._sessions: dict[str, _Session] = {}

    def begin(self, mark: str) -> str:
        """Returns the token of a new session; `mark` tells the passphrase it began with."""
        token, now = secrets.token_urlsafe(TOKEN_BYTES), self._clock()
        with self._lock:
            self._sessions = {k: s for k, s in self._sessions.items() if self._lives(s, now)}
            while len(self._sessions) >= MOST_SESSIONS:
                self._sessions.pop(next(iter(self._sessions)))
            self._sessions[_name(token)] = _Session(mark, now, now)
        return token

    def alive(self, token: str, mark: str) -> bool:
        """True if the session is going on, which also counts as a sign of life."""
        now = self._clock()
        with self._lock:
            found = self._sessions.get(_name(token))
            if found is None or found.mark != mark or not self._lives(found, now):
                self._sessions.pop(_name(token), None)
                return False
            found.seen = now
            return True

    def end(self, token: str) -> None:
        """Ends a session."""
        with self._lock:
            self._sessions.pop(_name(token), None)

    def _lives(self, session: _Session, now: float) -> bool:
        idle, old = now - session.seen, now - session.begun
        return idle < self._idle_seconds and old < LONGEST_HOURS * 3600


def _name(token: str) -> str:
    """Returns what a session is kept under: the memory holds no token that could be sent."""
    return hashlib.sha256(token.encode()).hexdigest()
