"""The shop kept safe and sound: copies, a look at its health, and what staff sign in with."""

import sys
from pathlib import Path

import click

from shopdesk.shop.location import find_place
from shopdesk.shop.passphrase import (
    PassphraseRefused,
    keep_passphrase,
    new_passphrase,
    remove_passphrase,
)
from shopdesk.terminal.boundary import BadUsage, CommandFailed
from shopdesk.upkeep.backup import back_up
from shopdesk.upkeep.backup import restore as put_back
from shopdesk.upkeep.doctor import check_up
from shopdesk.wording.formatting import ReaderPreferences, capital
from shopdesk.wording.translate import told

MOST_BYTES = 4096


@click.command()
@click.option(
    "-o",
    "--output",
    type=click.Path(path_type=Path),
    help="A new file, or a folder. Default: the data folder's backups.",
)
@click.pass_obj
def backup(data: str | None, output: Path | None) -> None:
    """Copy the shop's database to a new file, check the copy, and print where it is.

    It may be done while the counter is served.
    """
    click.echo(back_up(find_place(data), output))


@click.command()
@click.argument("backup", type=click.Path(path_type=Path))
@click.pass_obj
def restore(data: str | None, backup: Path) -> None:
    """Put the copy in the file BACKUP in the place of the shop's database.

    The copy is checked and brought up to date first; the former database is kept beside it. End
    `shopdesk serve` before.
    """
    done = put_back(find_place(data), backup)
    click.echo(f"Restored: {done.database}")
    if done.put_aside is not None:
        click.echo(f"The former database is kept as {done.put_aside}")


@click.command()
@click.pass_obj
def doctor(data: str | None) -> None:
    """Look at versions, database, disk, backups, fonts and clock; exit 1 if one is not well."""
    ill = 0
    for finding in check_up(find_place(data)):
        ill += not finding.well
        click.echo(f"{'ok  ' if finding.well else 'LOOK'}  {finding.what + ':':14} {finding.seen}")
    if ill:
        raise CommandFailed(f"{ill} of these {'needs' if ill == 1 else 'need'} attention")


@click.command()
@click.option("--remove", is_flag=True, help="Take the passphrase away; only loopback is left.")
@click.pass_obj
def passphrase(data: str | None, remove: bool) -> None:
    """Set the passphrase that staff sign in with, typed twice or read from standard input.

    It holds at once, also for a counter that is being served: whoever is signed in is signed out.
    """
    place = find_place(data)
    if remove:
        there_was = remove_passphrase(place)
        click.echo("The passphrase is removed." if there_was else "There was no passphrase.")
        return
    try:
        kept = keep_passphrase(place, new_passphrase(_typed()))
    except PassphraseRefused as refusal:
        raise BadUsage(
            f"{capital(told(refusal, ReaderPreferences()))}; nothing was changed"
        ) from None
    click.echo(f"The passphrase is set; its hash is in {kept}")


def _typed() -> str:
    if sys.stdin.isatty():
        typed: str = click.prompt("Passphrase", hide_input=True, confirmation_prompt=True)
        return typed
    given = sys.stdin.buffer.readline(MOST_BYTES)
    try:
        return given.decode("utf-8-sig").rstrip("\r\n")
    except UnicodeDecodeError:
        raise BadUsage("The passphrase is not UTF-8; write it anew") from None
