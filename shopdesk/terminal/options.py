"""Options that several verbs share."""

import click

LANGUAGES = ("en", "de", "fr")

language_option = click.option(
    "--language",
    type=click.Choice(LANGUAGES),
    help="The language of the sentences. Default: the shop's own.",
)
