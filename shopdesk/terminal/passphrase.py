"""`shopdesk passphrase`: sets what staff sign in with, so that other machines may be let in."""

import sys

import click

from shopdesk.terminal.boundary import BadUsage

MOST_BYTES = 4096


@click.command()
@click.option("--remove", is_flag=True, help="Take the passphrase away; only loopback is left.")
@click.pass_obj
def passphrase(data: str | None, remove: bool) -> None:
    """Set the passphrase that staff sign in with, typed twice or read from standard input.

    It holds at once, also for a counter that is being served: whoever is signed in is signed out.
    """
    from shopdesk.shop.location import find_place
    from shopdesk.shop.passphrase import (
        PassphraseRefused,
        keep_passphrase,
        new_passphrase,
        remove_passphrase,
    )
    from shopdesk.wording.formatting import ReaderPreferences, capital
    from shopdesk.wording.translate import told

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
