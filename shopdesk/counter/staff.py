"""The door to the counter: where a passphrase is set, every page wants staff to be signed in."""

import threading
from typing import cast

from flask import Flask, current_app, g, redirect, request, session, url_for
from flask.typing import ResponseReturnValue

from shopdesk.counter.backoff import Backoff
from shopdesk.counter.sessions import IDLE_MINUTES, Sessions
from shopdesk.shop.location import DataLocation
from shopdesk.shop.passphrase import Passphrase, kept_passphrase

_KEY = "shopdesk_door"
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
        """Returns the passphrase that is set now. Raises PassphraseRefused if it is damaged."""
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


def guard(app: Flask, staff_access: StaffAccess | None) -> None:
    """Lets only signed-in staff see the pages; without a door everybody may."""
    app.extensions[_KEY] = staff_access
    app.jinja_env.globals.update(signed_in=signed_in)
    if staff_access is not None:
        app.before_request(_ask_who)


def staff_access() -> StaffAccess | None:
    """Returns the door of the application that serves this request."""
    return cast("StaffAccess | None", current_app.extensions[_KEY])


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
    from shopdesk.counter.views.signing import page_for_what_was_sent

    return page_for_what_was_sent()
