"""Options that several verbs share."""

from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import replace

import click

from shopdesk.craft.errors import InputErrors
from shopdesk.wording.formatting import LANGUAGES

language_option = click.option(
    "--language",
    type=click.Choice(LANGUAGES),
    help="The language of the sentences. Default: the shop's own.",
)


@contextmanager
def naming_options(**spelled: str) -> Iterator[None]:
    """Lets what is wrong with a request's fields be told of the command's options.

    A field's option is spelled as the field is, unless `spelled` says otherwise.
    """
    try:
        yield
    except InputErrors as refusal:
        raise InputErrors(
            replace(one, path=(spelled.get(one.place) or _option(one.place),))
            for one in refusal.problems
        ) from None


def _option(field: str) -> str:
    return "--" + field.replace("_", "-")
