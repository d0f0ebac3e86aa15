"""Where the counter listens, by which names it may be called, and what must be so before."""

import errno
import ipaddress
import logging
from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Any

from shopdesk.terminal.boundary import BadUsage, CommandFailed

if TYPE_CHECKING:
    import ssl

    from flask import Flask
    from waitress.server import BaseWSGIServer

    from shopdesk.shop.location import DataLocation

SERVER: dict[str, Any] = {
    "threads": 8,
    "ident": None,
    "clear_untrusted_proxy_headers": True,
    "expose_tracebacks": False,
    "max_request_body_size": 36_000_000,
}
LOCALHOST = "127.0.0.1"
LOOPBACK_NAMES = ("localhost",)
LONGEST_NAME = 253


def is_loopback(host: str) -> bool:
    """True if only this computer can reach the address. Raises BadUsage if it is none."""
    if host in LOOPBACK_NAMES:
        return True
    try:
        return ipaddress.ip_address(host).is_loopback
    except ValueError:
        raise BadUsage(
            f"--host: '{host}' is no address; write 127.0.0.1, or an address of this computer"
        ) from None


class ListenAddress:
    """Where and how the counter is to be reached, once it is clear that it may be.

    Raises BadUsage with the option that is wrong and what would be right.
    """

    def __init__(
        self,
        place: "DataLocation",
        *,
        host: str = LOCALHOST,
        port: int = 0,
        names: Sequence[str] = (),
        tls_cert: Path | None = None,
        tls_key: Path | None = None,
        idle_minutes: int = 60,
    ) -> None:
        require_passphrase(place, host)
        self.host = host
        self.port = port
        self.names = names
        self.answers_to = names_answered_to(host, names)
        self.tls = _tls(tls_cert, tls_key)
        self.idle_minutes = idle_minutes

    def address(self, port: int) -> str:
        """Returns the link to the counter at a port."""
        called = _in_link(self.names[0] if self.names else self.host)
        return f"{'https' if self.tls else 'http'}://{called}:{port}/"


def require_passphrase(place: "DataLocation", host: str) -> None:
    """Raises BadUsage if other machines would get in without a passphrase."""
    from shopdesk.shop.passphrase import kept_passphrase

    if not is_loopback(host) and kept_passphrase(place) is None:
        raise BadUsage(
            f"--host: {host} would let other machines in; set a passphrase first, "
            "with `shopdesk passphrase`"
        )


def names_answered_to(host: str, names: Sequence[str]) -> tuple[str, ...]:
    """Returns the host names that the counter may be called by. Raises BadUsage."""
    from shopdesk.counter.security import LOOPBACK_HOSTS

    for name in names:
        if not (name.isascii() and 0 < len(name) <= LONGEST_NAME and _is_name(name)):
            raise BadUsage(
                f"--name: '{name}' is no host name; write such as shop-pc or 192.168.1.20"
            )
    every = not is_loopback(host) and ipaddress.ip_address(host).is_unspecified
    if every and not names:
        raise BadUsage(
            f"--host: {host} is every address of this computer; say with --name by which name "
            "or address the other counters call it"
        )
    return (*LOOPBACK_HOSTS, _in_link(host), *map(_in_link, names))


def listening(app: "Flask", entrance: ListenAddress) -> "BaseWSGIServer":
    """Returns a server that listens. Raises CommandFailed with the reason if it cannot."""
    logging.getLogger("waitress.queue").setLevel(logging.ERROR)
    host = LOCALHOST if entrance.host in LOOPBACK_NAMES else entrance.host
    settings = SERVER | {"host": host, "port": entrance.port}
    try:
        if entrance.tls is not None:
            from shopdesk.terminal.tls import tls_server

            return tls_server(app, entrance.tls, **settings)
        from waitress.server import create_server

        return create_server(app, **settings)
    except OSError as refusal:
        raise CommandFailed(_why_not(refusal, entrance.host, entrance.port)) from None


def _tls(certificate: Path | None, key: Path | None) -> "ssl.SSLContext | None":
    if certificate is None:
        if key is not None:
            raise BadUsage("--tls-key: a key alone is not enough; give --tls-cert too")
        return None
    from shopdesk.terminal.tls import tls_context

    return tls_context(certificate, key)


def _in_link(host: str) -> str:
    return f"[{host}]" if ":" in host else host


def _why_not(refusal: OSError, host: str, port: int) -> str:
    if refusal.errno == errno.EADDRINUSE:
        return f"port {port} is in use; is Shopdesk running already? Choose another with --port"
    if refusal.errno == errno.EACCES:
        return f"port {port} is not open to this user; choose one above 1023 with --port"
    if refusal.errno == errno.EADDRNOTAVAIL:
        return f"{host} is not an address of this computer"
    return f"{host} port {port} cannot be used: {refusal.strerror}"


def _is_name(name: str) -> bool:
    try:
        ipaddress.ip_address(name)
    except ValueError:
        parts = name.split(".")
        return all(part and part.replace("-", "").replace("_", "").isalnum() for part in parts)
    return True
