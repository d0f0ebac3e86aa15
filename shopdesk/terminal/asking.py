"""Reads the ask that a verb was given, or says which field is wrong and what would be right."""

from typing import TYPE_CHECKING

from shopdesk.terminal.boundary import BadUsage, read_file

if TYPE_CHECKING:
    from shopdesk.answering.model.ask import Ask


def read_ask_file(path: str) -> "tuple[object, Ask]":
    """Returns the JSON document in a file ('-': standard input) and the Ask it makes.

    Raises AskRefused, and BadUsage for what is no JSON.
    """
    from shopdesk.answering.ask.ask_reading import read_ask
    from shopdesk.parsing.json_text import MOST_BYTES, JsonRefused, read_json

    try:
        document = read_json(read_file(path, MOST_BYTES))
        return document, read_ask(document)
    except JsonRefused as refusal:
        named = "standard input" if path == "-" else path
        raise BadUsage(f"{named}: {refusal}") from None
