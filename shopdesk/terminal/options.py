"""Options that several verbs share."""

from collections.abc import Iterator
from contextlib import contextmanager

import click

from shopdesk.craft.errors import InputErrors
from shopdesk.terminal.boundary import BadUsage
from shopdesk.wording.formatting import LANGUAGES

language_option = click.option(
    "--language",
    type=click.Choice(LANGUAGES),
    help="The language of the sentences. Default: the shop's own.",
)


@contextmanager
def naming_options(**spelled: str) -> Iterator[None]:
    """Turns what is wrong with a request's fields into lines that name the command's options.

    A field's option is spelled as the field is, unless `spelled` says otherwise. Raises BadUsage.
    """
    try:
        yield
    except InputErrors as refusal:
        lines = [
            f"{spelled.get(one.place) or _option(one.place)}: {one.wrong}; {one.right}"
            for one in refusal.problems
        ]
        raise BadUsage("\n".join(lines)) from None


def _option(field: str) -> str:
    return "--" + field.replace("_", "-")
