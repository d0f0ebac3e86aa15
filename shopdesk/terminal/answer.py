"""`shopdesk answer`: a pattern's ask as JSON in, the yarns judged for it as JSON out."""

from typing import TYPE_CHECKING

import click

from shopdesk.terminal.options import language_option
from shopdesk.terminal.printing import print_json

if TYPE_CHECKING:
    from shopdesk.answering.model.ask import Ask


@click.command()
@click.argument("ask")
@language_option
@click.pass_obj
def answer(data: str | None, ask: str, language: str | None) -> None:
    """Judge the shelf's yarns for the pattern in ASK, a JSON file ('-': standard input).

    The answer is JSON on standard output; `shopdesk schema` describes both. A problem with ASK is
    told on standard error with the field's path and what would be right, and exit code 2.
    """
    from shopdesk.terminal.asking import read_ask_file

    _, wanted = read_ask_file(ask)
    print_json(_answered(data, wanted, language))


def _answered(data: str | None, wanted: "Ask", language: str | None) -> dict[str, object]:
    from shopdesk.answering.answer.answer_document import answer_document
    from shopdesk.services.answers import answer_from_shelf
    from shopdesk.shop.location import find_place
    from shopdesk.shop.shop import opened_shop
    from shopdesk.store.settings import load_settings
    from shopdesk.wording.translate import translate

    with opened_shop(find_place(data)) as shop, shop.read() as session:
        settings = load_settings(session)
        answered = answer_from_shelf(session, wanted, settings.terms())
    reader = settings.reader(language)
    return answer_document(answered, lambda said: translate(said, reader))
