"""`shopdesk schema`: what an ask may hold, and what an answer holds."""

import click

from shopdesk.terminal.printing import print_json


@click.command()
@click.argument("document", type=click.Choice(["ask", "answer"]))
def schema(document: str) -> None:
    """Print the JSON Schema of the ask or of the answer."""
    if document == "ask":
        from shopdesk.answering.ask.document import ask_schema

        print_json(ask_schema())
    else:
        from shopdesk.answering.answer.answer_document import answer_schema

        print_json(answer_schema())
