"""The command `shopdesk` and its verbs."""

import click

from shopdesk import __version__


@click.group()
@click.version_option(__version__)
def main() -> None:
    """The yarn counter's assistant: from a customer's pattern to a printed slip."""
