"""`shopdesk schema`: what an ask may hold, and what an answer holds."""

import click

from shopdesk.answering.answer.answer_document import answer_schema
from shopdesk.answering.ask.document import ask_schema
from shopdesk.terminal.streams import print_json


@click.command()
@click.argument("document", type=click.Choice(["ask", "answer"]))
def schema(document: str) -> None:
    """Print the JSON Schema of the ask or of the answer."""
    if document == "ask":
        print_json(ask_schema())
    else:
        print_json(answer_schema())
