"""What every answer to a browser carries, and which requests are refused before any view."""

from collections.abc import Sequence

from flask import Flask, Response, abort, request
from flask_wtf import CSRFProtect

from shopdesk.counter.refusals import refuse_page
from shopdesk.craft.messages import message

SAFE_METHODS = ("GET", "HEAD", "OPTIONS")
FORM_KINDS = ("", "application/x-www-form-urlencoded", "multipart/form-data")
LOOPBACK_HOSTS = ("localhost", "127.0.0.1", "[::1]")
TLS_REMEMBERED_SECONDS = 365 * 24 * 3600
CONTENT_SECURITY_POLICY = "; ".join(
    (
        "default-src 'none'",
        "style-src 'self'",
        "script-src 'self'",
        "img-src 'self'",
        "font-src 'self'",
        "connect-src 'self'",
        "form-action 'self'",
        "base-uri 'none'",
        "frame-ancestors 'none'",
    )
)
HEADERS = {
    "Content-Security-Policy": CONTENT_SECURITY_POLICY,
    "X-Content-Type-Options": "nosniff",
    "X-Frame-Options": "DENY",
    "Referrer-Policy": "same-origin",
    "Cross-Origin-Opener-Policy": "same-origin",
    "Cross-Origin-Resource-Policy": "same-origin",
    "Permissions-Policy": "camera=(), geolocation=(), microphone=()",
}


def refuse_strangers(app: Flask, allowed_hosts: Sequence[str]) -> None:
    """Refuses foreign host names, changes that another site's page asks for, and odd bodies."""
    names = tuple(name.casefold() for name in allowed_hosts)
    app.before_request(lambda: _check_host(names))
    app.before_request(_check_origin)
    app.before_request(_check_kind)


def protect(app: Flask, *, over_tls: bool) -> None:
    """Sets headers, cookie flags and form tokens."""
    app.config.update(
        SESSION_COOKIE_NAME="shopdesk",
        SESSION_COOKIE_HTTPONLY=True,
        SESSION_COOKIE_SAMESITE="Strict",
        SESSION_COOKIE_SECURE=over_tls,
        WTF_CSRF_TIME_LIMIT=None,
        WTF_CSRF_SSL_STRICT=True,
    )
    CSRFProtect(app)
    app.after_request(_add_headers)
    if over_tls:
        app.after_request(_ask_for_tls)


def host_name(header: str) -> str:
    """Returns the name in a Host header without its port, in small letters."""
    name, colon, port = header.rpartition(":")
    return (name if colon and port.isdecimal() else header).casefold()


def _check_host(allowed: Sequence[str]) -> None:
    if host_name(request.headers.get("Host", "")) not in allowed:
        refuse_page(400, message("problem_page.host_name"))


def _check_origin() -> None:
    """Refuses a change that another site's page asks for, whatever token it carries."""
    origin = request.headers.get("Origin")
    if request.method in SAFE_METHODS or origin is None:
        return
    if origin != request.host_url.rstrip("/"):
        refuse_page(403, message("problem_page.other_site"))


def _check_kind() -> None:
    """Refuses a body that is no form's: no page of ours sends one."""
    if request.method not in SAFE_METHODS and request.mimetype not in FORM_KINDS:
        abort(415)


def _add_headers(response: Response) -> Response:
    for name, value in HEADERS.items():
        response.headers.setdefault(name, value)
    if request.endpoint != "static":
        response.headers["Cache-Control"] = "no-store"
    return response


def _ask_for_tls(response: Response) -> Response:
    response.headers["Strict-Transport-Security"] = f"max-age={TLS_REMEMBERED_SECONDS}"
    return response
