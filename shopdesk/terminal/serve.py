"""`shopdesk serve`: sets the shop up if need be, and serves the counter page."""

import logging
import signal
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from types import FrameType
from typing import TYPE_CHECKING, Any, NoReturn

import click

from shopdesk.terminal.cycles import while_pages_are_served
from shopdesk.terminal.listening import LOCALHOST, ListenAddress, is_loopback, listening
from shopdesk.upkeep.backup import BACKUPS_KEPT

if TYPE_CHECKING:
    from flask import Flask
    from sqlalchemy import Engine

    from shopdesk.shop.location import DataLocation

PORT = 8420
IDLE_MINUTES = 60


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
    from shopdesk.shop.location import find_place
    from shopdesk.upkeep.setup import set_up_shop

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
def _backups(place: "DataLocation", kept: int) -> Iterator[None]:
    from shopdesk.upkeep.backup import DailyBackups

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
    from shopdesk.shop.shop import Shop
    from shopdesk.upkeep.housekeeping import HourlyTidying

    tidying = HourlyTidying(Shop(engine))
    tidying.start()
    try:
        yield
    finally:
        tidying.end()


def _application(place: "DataLocation", engine: "Engine", entrance: ListenAddress) -> "Flask":
    from shopdesk.counter.access import StaffAccess
    from shopdesk.counter.application import create_app
    from shopdesk.shop.location import CounterBranch, secret_key
    from shopdesk.upkeep.log import JournalHandler

    logging.getLogger().addHandler(JournalHandler(place.folder))
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
