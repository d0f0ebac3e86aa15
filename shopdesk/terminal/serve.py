"""`shopdesk serve`: sets the shop up if need be, and serves the counter page."""

import errno
import ipaddress
import logging
import signal
import ssl
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from pathlib import Path
from types import FrameType
from typing import Any, NoReturn

import click
from flask import Flask
from sqlalchemy import Engine
from waitress.server import BaseWSGIServer, create_server

from shopdesk.counter.access import StaffAccess
from shopdesk.counter.application import create_app
from shopdesk.counter.security import LOOPBACK_HOSTS
from shopdesk.shop.location import CounterBranch, DataLocation, find_place, secret_key
from shopdesk.shop.passphrase import kept_passphrase
from shopdesk.shop.shop import Shop
from shopdesk.terminal.boundary import BadUsage, CommandFailed
from shopdesk.terminal.cycles import while_pages_are_served
from shopdesk.terminal.tls import tls_context, tls_server
from shopdesk.upkeep.backup import BACKUPS_KEPT, DailyBackups
from shopdesk.upkeep.housekeeping import HourlyTidying
from shopdesk.upkeep.log import LogHandler
from shopdesk.upkeep.setup import set_up_shop

PORT = 8420
IDLE_MINUTES = 60
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


class ListenAddress:
    """Where and how the counter is to be reached, once it is clear that it may be.

    Raises BadUsage with the option that is wrong and what would be right.
    """

    def __init__(
        self,
        place: DataLocation,
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


@click.command()
@click.option(
    "--host",
    default=LOCALHOST,
    show_default=True,
    help="The address to listen on; any but loopback wants a passphrase to be set.",
)
@click.option(
    "--port",
    type=click.IntRange(0, 65535),
    default=PORT,
    show_default=True,
    help="The port to listen on; 0 takes any free one.",
)
@click.option(
    "--name",
    "names",
    multiple=True,
    help="One more host name or address that the counter may be called by.",
)
@click.option(
    "--tls-cert",
    type=click.Path(path_type=Path),
    help="A certificate (PEM): the counter then speaks HTTPS only.",
)
@click.option(
    "--tls-key",
    type=click.Path(path_type=Path),
    help="The certificate's key (PEM), if it is in a file of its own.",
)
@click.option(
    "--idle-minutes",
    type=click.IntRange(1, 24 * 60),
    default=IDLE_MINUTES,
    show_default=True,
    help="After how long without a page staff must sign in again.",
)
@click.option("--no-demo", is_flag=True, help="Leave a new shop empty, without the demo catalogue.")
@click.option(
    "--backups-kept",
    type=click.IntRange(0, 1000),
    default=BACKUPS_KEPT,
    show_default=True,
    help="How many daily backups of a SQLite shop are kept; 0 makes none.",
)
@click.pass_obj
def serve(data: str | None, /, no_demo: bool, backups_kept: int, **where: Any) -> None:
    """Set up the shop if it is new, and serve the counter page until Ctrl-C."""
    place = find_place(data)
    entrance = ListenAddress(place, **where)
    engine, new = set_up_shop(place, demo=not no_demo)
    if new:
        held = "an empty shelf" if no_demo else "the demo catalogue"
        click.echo(f"Set up a new shop with {held}: {place.shown_url}")
    server = listening(_application(place, engine, entrance), entrance)
    click.echo(f"Counter page: {entrance.address(server.effective_port)}")
    if entrance.tls is None and not is_loopback(entrance.host):
        click.echo("Without --tls-cert all that is sent can be read on the way.")
    click.echo("Ctrl-C ends it.")
    signal.signal(signal.SIGTERM, _end)
    while_pages_are_served()
    with _backups(place, backups_kept), _tidying(engine):
        server.run()
    server.close()
    engine.dispose()


@contextmanager
def _backups(place: DataLocation, kept: int) -> Iterator[None]:
    if kept == 0 or place.database_file is None:
        yield
        return
    backups = DailyBackups(place, kept)
    backups.start()
    try:
        yield
    finally:
        backups.end()


@contextmanager
def _tidying(engine: Engine) -> Iterator[None]:
    tidying = HourlyTidying(Shop(engine))
    tidying.start()
    try:
        yield
    finally:
        tidying.end()


def _application(place: DataLocation, engine: Engine, entrance: ListenAddress) -> Flask:
    logging.getLogger().addHandler(LogHandler(place.folder))
    outside = not is_loopback(entrance.host)
    return create_app(
        engine,
        secret_key(place),
        allowed_hosts=entrance.answers_to,
        over_tls=entrance.tls is not None,
        door=StaffAccess(place, always_shut=outside, idle_minutes=entrance.idle_minutes),
        branch=CounterBranch(place.folder),
    )


def _end(_signal: int, _frame: FrameType | None) -> NoReturn:
    raise SystemExit(0)


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


def require_passphrase(place: DataLocation, host: str) -> None:
    """Raises BadUsage if other machines would get in without a passphrase."""
    if not is_loopback(host) and kept_passphrase(place) is None:
        raise BadUsage(
            f"--host: {host} would let other machines in; set a passphrase first, "
            "with `shopdesk passphrase`"
        )


def names_answered_to(host: str, names: Sequence[str]) -> tuple[str, ...]:
    """Returns the host names that the counter may be called by. Raises BadUsage."""
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


def listening(app: Flask, entrance: ListenAddress) -> BaseWSGIServer:
    """Returns a server that listens. Raises CommandFailed with the reason if it cannot."""
    logging.getLogger("waitress.queue").setLevel(logging.ERROR)
    host = LOCALHOST if entrance.host in LOOPBACK_NAMES else entrance.host
    settings = SERVER | {"host": host, "port": entrance.port}
    try:
        if entrance.tls is not None:
            return tls_server(app, entrance.tls, **settings)
        return create_server(app, **settings)
    except OSError as refusal:
        raise CommandFailed(_why_not(refusal, entrance.host, entrance.port)) from None


def _tls(certificate: Path | None, key: Path | None) -> ssl.SSLContext | None:
    if certificate is None:
        if key is not None:
            raise BadUsage("--tls-key: a key alone is not enough; give --tls-cert too")
        return None
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
