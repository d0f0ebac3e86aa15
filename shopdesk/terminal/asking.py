"""Reads the ask that a verb was given, or says which field is wrong and what would be right."""

from typing import TYPE_CHECKING, Any

from shopdesk.terminal.boundary import BadUsage, read_file

if TYPE_CHECKING:
    from shopdesk.services.answers import AskPut


def read_ask_file(path: str) -> "AskPut":
    """Returns the ask of the JSON document in a file ('-': standard input).

    Raises AskRefused, and BadUsage for what is no JSON.
    """
    from shopdesk.answering.ask.ask_reading import read_ask
    from shopdesk.parsing.json_text import MOST_BYTES, JsonRefused, read_json
    from shopdesk.services.answers import AskPut

    try:
        document: Any = read_json(read_file(path, MOST_BYTES))
        return AskPut(document, read_ask(document))
    except JsonRefused as refusal:
        named = "standard input" if path == "-" else path
        raise BadUsage(f"{named}: {refusal}") from None
