"""`shopdesk serve`: sets the shop up if need be, and serves the counter page."""

import errno
import ipaddress
import logging
import signal
from collections.abc import Iterator
from contextlib import contextmanager
from types import FrameType
from typing import TYPE_CHECKING, NoReturn

import click

from shopdesk.shelf.backup import BACKUPS_KEPT
from shopdesk.terminal.boundary import Refused, Stopped

if TYPE_CHECKING:
    from flask import Flask
    from sqlalchemy import Engine
    from waitress.server import BaseWSGIServer

    from shopdesk.shelf.place import Place

PORT = 8420
THREADS = 8
LARGEST_REQUEST_BYTES = 36_000_000
LOCALHOST = "127.0.0.1"
LOOPBACK_NAMES = ("localhost",)


@click.command()
@click.option(
    "--host",
    default=LOCALHOST,
    show_default=True,
    help="The loopback address to listen on; no other machine can reach it.",
)
@click.option(
    "--port",
    type=click.IntRange(0, 65535),
    default=PORT,
    show_default=True,
    help="The port to listen on; 0 takes any free one.",
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
def serve(data: str | None, host: str, port: int, no_demo: bool, backups_kept: int) -> None:
    """Set up the shop if it is new, and serve the counter page until Ctrl-C."""
    from shopdesk.shelf.opening import set_up_shop
    from shopdesk.shelf.place import find_place

    _require_loopback(host)
    place = find_place(data)
    engine, new = set_up_shop(place, demo=not no_demo)
    if new:
        held = "an empty shelf" if no_demo else "the demo catalogue"
        click.echo(f"Set up a new shop with {held}: {place.shown_url}")
    server = _listening(_application(place, engine, host), host, port)
    click.echo(f"Counter page: http://{_in_link(host)}:{server.effective_port}/")
    click.echo("Ctrl-C ends it.")
    signal.signal(signal.SIGTERM, _end)
    with _backups(place, backups_kept), _tidying(engine):
        server.run()
    server.close()
    engine.dispose()


@contextmanager
def _backups(place: "Place", kept: int) -> Iterator[None]:
    from shopdesk.shelf.daily import DailyBackups

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
def _tidying(engine: "Engine") -> Iterator[None]:
    from shopdesk.visits.tidying import HourlyTidying

    tidying = HourlyTidying(engine)
    tidying.start()
    try:
        yield
    finally:
        tidying.end()


def _require_loopback(host: str) -> None:
    if host in LOOPBACK_NAMES:
        return
    try:
        address = ipaddress.ip_address(host)
    except ValueError:
        raise Refused(f"--host: '{host}' is no address; write 127.0.0.1 or ::1") from None
    if not address.is_loopback:
        raise Refused(f"--host: {host} would let other machines in; write 127.0.0.1 or ::1")


def _application(place: "Place", engine: "Engine", host: str) -> "Flask":
    from shopdesk.counter.application import create_app
    from shopdesk.counter.security import LOOPBACK_HOSTS
    from shopdesk.shelf.journal import JournalHandler
    from shopdesk.shelf.place import secret_key

    logging.getLogger().addHandler(JournalHandler(place.folder))
    return create_app(engine, secret_key(place), allowed_hosts=(*LOOPBACK_HOSTS, _in_link(host)))


def _listening(app: "Flask", host: str, port: int) -> "BaseWSGIServer":
    from waitress.server import create_server

    logging.getLogger("waitress.queue").setLevel(logging.ERROR)
    try:
        return create_server(
            app,
            host=LOCALHOST if host in LOOPBACK_NAMES else host,
            port=port,
            threads=THREADS,
            ident=None,
            clear_untrusted_proxy_headers=True,
            expose_tracebacks=False,
            max_request_body_size=LARGEST_REQUEST_BYTES,
        )
    except OSError as refusal:
        raise Stopped(_why_not_listening(refusal, host, port)) from None


def _why_not_listening(refusal: OSError, host: str, port: int) -> str:
    if refusal.errno == errno.EADDRINUSE:
        return f"port {port} is in use; is Shopdesk running already? Choose another with --port"
    if refusal.errno == errno.EACCES:
        return f"port {port} is not open to this user; choose one above 1023 with --port"
    return f"{host} port {port} cannot be used: {refusal.strerror}"


def _in_link(host: str) -> str:
    return f"[{host}]" if ":" in host else host


def _end(_signal: int, _frame: FrameType | None) -> NoReturn:
    raise SystemExit(0)
