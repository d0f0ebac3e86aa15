"""`shopdesk answer`: a pattern's ask as JSON in, the yarns judged for it as JSON out."""

from typing import Any

import click

from shopdesk.answering.answer.answer_document import answer_document
from shopdesk.answering.ask.ask_reading import read_ask
from shopdesk.answering.shortlist.shortlist import MOST_LISTED
from shopdesk.craft.errors import InputErrors
from shopdesk.craft.messages import message
from shopdesk.parsing.json_text import MOST_BYTES, JsonRefused, read_json
from shopdesk.services.answers import MOST_AT_ONCE, AskPut, ask_the_shelf
from shopdesk.terminal.streams import print_json, read_file
from shopdesk.terminal.visiting import language_option, refused_in, the_shop
from shopdesk.wording.translate import translate


class StandardInputRefused(InputErrors):
    """What was given on standard input is no ask."""

    whole = message("problem_terminal.standard_input")


@click.command()
@click.argument("ask")
@click.option(
    "--most",
    type=click.IntRange(1, MOST_AT_ONCE),
    default=MOST_LISTED,
    show_default=True,
    help="List at most so many yarns of a large shelf.",
)
@language_option
@click.pass_obj
def answer(data: str | None, ask: str, most: int, language: str | None) -> None:
    """Judge the shelf's yarns for the pattern in ASK, a JSON file ('-': standard input).

    The answer is JSON on standard output; `shopdesk schema` describes both. A problem with ASK is
    told on standard error with the field's path and what would be right, and exit code 2.

    An ask that nothing fits is noted for the morning's list, the same ask once a day.
    """
    print_json(_answered(data, read_ask_file(ask), most, language))


def _answered(data: str | None, put: AskPut, most: int, language: str | None) -> dict[str, object]:
    with the_shop(data) as shop:
        answered = ask_the_shelf(shop, put, most)
        reader = shop.settings().reader(language)
    return answer_document(answered, lambda said: translate(said, reader))


def read_ask_file(path: str) -> AskPut:
    """Returns the ask of the JSON document in a file ('-': standard input).

    Raises AskRefused, and InputErrors that name the file for what is no JSON.
    """
    try:
        document: Any = read_json(read_file(path, MOST_BYTES))
        return AskPut(document, read_ask(document))
    except JsonRefused as refusal:
        if path == "-":
            raise StandardInputRefused(refusal.problems) from None
        raise refused_in(path, refusal) from None
