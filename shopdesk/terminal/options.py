"""Options that several verbs share."""

import click

from shopdesk.wording.formatting import LANGUAGES

language_option = click.option(
    "--language",
    type=click.Choice(LANGUAGES),
    help="The language of the sentences. Default: the shop's own.",
)
