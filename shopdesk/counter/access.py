"""The door for staff: who is signed in, how long a session lasts, and how guessing is slowed."""

import hashlib
import ipaddress
import math
import secrets
import threading
import time
from collections import OrderedDict
from collections.abc import Callable
from dataclasses import dataclass
from typing import cast

from flask import Flask, current_app, g, redirect, request, session, url_for
from flask.typing import ResponseReturnValue

from shopdesk.shop.location import DataLocation
from shopdesk.shop.passphrase import Passphrase, kept_passphrase

FREE_TRIES = 5
FIRST_WAIT_SECONDS = 2.0
LONGEST_WAIT_SECONDS = 60.0
LONGEST_WAIT_HERE_SECONDS = 2.0
FORGOTTEN_AFTER_SECONDS = 3600.0
MOST_ADDRESSES = 4096
IPV6_NETWORK_BITS = 64


@dataclass(slots=True)
class _Tries:
    wrong: int = 0
    last: float = -math.inf
    free_again: float = -math.inf


class Backoff:
    """Counts wrong tries by address. The wait doubles with each one after the free tries.

    Loopback waits two seconds at most: whoever sits at the shop's own computer is not the danger.
    """

    def __init__(self, clock: Callable[[], float] = time.monotonic) -> None:
        self._clock = clock
        self._tries: OrderedDict[str, _Tries] = OrderedDict()

    def seconds_left(self, address: str) -> int:
        """Returns for how many whole seconds this address must wait, or 0."""
        tries = self._tries.get(_source(address))
        return math.ceil(max(0.0, tries.free_again - self._clock())) if tries else 0

    def wrong(self, address: str) -> None:
        """Counts one wrong try."""
        source, now = _source(address), self._clock()
        tries = self._tries.get(source, _Tries())
        if now - tries.last > FORGOTTEN_AFTER_SECONDS:
            tries = _Tries()
        tries.wrong, tries.last = tries.wrong + 1, now
        over = tries.wrong - FREE_TRIES
        if over >= 0:
            longest = LONGEST_WAIT_HERE_SECONDS if _is_here(address) else LONGEST_WAIT_SECONDS
            tries.free_again = now + min(longest, FIRST_WAIT_SECONDS * 2.0 ** min(over, 30))
        self._tries[source] = tries
        self._tries.move_to_end(source)
        while len(self._tries) > MOST_ADDRESSES:
            self._tries.popitem(last=False)

    def right(self, address: str) -> None:
        """Forgets the wrong tries of an address."""
        self._tries.pop(_source(address), None)


def _source(address: str) -> str:
    """Returns what is counted as one: an IPv4 address, or the network of an IPv6 address."""
    try:
        found = ipaddress.ip_address(address)
    except ValueError:
        return address
    if isinstance(found, ipaddress.IPv6Address) and not found.is_loopback:
        return str(ipaddress.ip_network((int(found), IPV6_NETWORK_BITS), strict=False))
    return str(found)


def _is_here(address: str) -> bool:
    try:
        return ipaddress.ip_address(address).is_loopback
    except ValueError:
        return False


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


_ACCESS = "shopdesk_door"
_ASK_AGAIN = "shopdesk_ask_again"
_TOKEN = "staff"
OPEN_TO_ALL = ("static", "signing.sign_in", "signing.enter", "health.health")


class StaffAccess:
    """The passphrase as it stands now, who is signed in, and who must wait.

    `always_shut` is for a counter that other machines can reach: it stays shut even if the
    passphrase is taken away while it is served.
    """

    def __init__(
        self,
        place: DataLocation,
        *,
        always_shut: bool = False,
        idle_minutes: float = IDLE_MINUTES,
        backoff: Backoff | None = None,
    ) -> None:
        self._place = place
        self._always_shut = always_shut
        self._backoff = backoff or Backoff()
        self._sessions = Sessions(idle_minutes)
        self._one_at_a_time = threading.Lock()

    def passphrase(self) -> Passphrase | None:
        """Returns the passphrase that is set now. Raises PassphraseDamaged."""
        return kept_passphrase(self._place)

    def lets_in(self, token: str) -> bool:
        """True if whoever holds this token may see the counter."""
        passphrase = self.passphrase()
        if passphrase is None:
            return not self._always_shut
        return bool(token) and self._sessions.alive(token, passphrase.salt)

    def enter(self, typed: str, address: str) -> str | int:
        """Returns a new session's token, or the seconds to wait before the next try, often 0.

        One try at a time is looked at, so that guessing in parallel gains nothing.
        """
        with self._one_at_a_time:
            wait = self._backoff.seconds_left(address)
            if wait:
                return wait
            passphrase = self.passphrase()
            if passphrase is None or not passphrase.fits(typed):
                self._backoff.wrong(address)
                return self._backoff.seconds_left(address)
            self._backoff.right(address)
            return self._sessions.begin(passphrase.salt)

    def leave(self, token: str) -> None:
        """Ends the session of this token."""
        self._sessions.end(token)


def guard(
    app: Flask, staff_access: StaffAccess | None, ask_again: Callable[[], ResponseReturnValue]
) -> None:
    """Lets only signed-in staff see the pages; without a door everybody may.

    `ask_again` makes the page for what was sent by somebody who is not signed in.
    """
    app.extensions[_ACCESS] = staff_access
    app.extensions[_ASK_AGAIN] = ask_again
    app.jinja_env.globals.update(signed_in=signed_in)
    if staff_access is not None:
        app.before_request(_ask_who)


def staff_access() -> StaffAccess | None:
    """Returns the door of the application that serves this request."""
    return cast("StaffAccess | None", current_app.extensions[_ACCESS])


def token() -> str:
    """Returns the token that the browser sent, or ''."""
    return str(session.get(_TOKEN, ""))


def remember(new_token: str | None) -> None:
    """Gives the browser a new session with this token, or one without."""
    session.clear()
    g.pop("csrf_token", None)
    if new_token is not None:
        session[_TOKEN] = new_token


def signed_in() -> bool:
    """True if this request is of staff who signed in, and may sign out."""
    return bool(token()) and request.endpoint not in OPEN_TO_ALL


def path_within(address: str) -> str:
    """Returns a path of this site that `address` is, or '/' if it leads anywhere else."""
    inside = address.startswith("/") and not address.startswith(("//", "/\\"))
    return address if inside and address.isprintable() else "/"


def _ask_who() -> ResponseReturnValue | None:
    shut = cast(StaffAccess, staff_access())
    if request.endpoint in OPEN_TO_ALL or shut.lets_in(token()):
        return None
    if request.method in ("GET", "HEAD"):
        return redirect(url_for("signing.sign_in", back=request.full_path.rstrip("?")), 303)
    ask_again: Callable[[], ResponseReturnValue] = current_app.extensions[_ASK_AGAIN]
    return ask_again()
