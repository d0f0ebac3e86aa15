"""`shopdesk answer`: a pattern's ask as JSON in, the yarns judged for it as JSON out."""

from typing import TYPE_CHECKING

import click

from shopdesk.terminal.options import language_option
from shopdesk.terminal.printing import print_json

if TYPE_CHECKING:
    from shopdesk.services.answers import AskPut


@click.command()
@click.argument("ask")
@language_option
@click.pass_obj
def answer(data: str | None, ask: str, language: str | None) -> None:
    """Judge the shelf's yarns for the pattern in ASK, a JSON file ('-': standard input).

    The answer is JSON on standard output; `shopdesk schema` describes both. A problem with ASK is
    told on standard error with the field's path and what would be right, and exit code 2.

    An ask that nothing fits is noted for the morning's list, the same ask once a day.
    """
    from shopdesk.terminal.asking import read_ask_file

    print_json(_answered(data, read_ask_file(ask), language))


def _answered(data: str | None, put: "AskPut", language: str | None) -> dict[str, object]:
    from shopdesk.answering.answer.answer_document import answer_document
    from shopdesk.services.answers import ask_the_shelf
    from shopdesk.terminal.visiting import the_shop
    from shopdesk.wording.translate import translate

    with the_shop(data) as shop:
        answered = ask_the_shelf(shop, put)
        reader = shop.settings().reader(language)
    return answer_document(answered, lambda said: translate(said, reader))
