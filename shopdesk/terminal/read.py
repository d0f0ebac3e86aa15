"""`shopdesk read`: a pattern's header as the ask that `answer` takes."""

import click

from shopdesk.answering.ask.document import AskRefused
from shopdesk.patterns.report import report_document, report_lines
from shopdesk.patterns.text.cleaning import TextRefused
from shopdesk.patterns.text.pattern_files import MOST_BYTES
from shopdesk.patterns.to_ask import SizeRefused
from shopdesk.patterns.tokens.lexicon import LANGUAGES
from shopdesk.services.pattern_texts import ask_of_pattern, read_pattern_text
from shopdesk.terminal.boundary import BadUsage
from shopdesk.terminal.streams import print_json, read_file
from shopdesk.wording.formatting import ReaderPreferences
from shopdesk.wording.translate import told


@click.command()
@click.argument("file", metavar="FILE|-")
@click.option("--size", metavar="SIZE", help="The size to be made, if the pattern has several.")
@click.option(
    "--in",
    "language",
    type=click.Choice(LANGUAGES),
    help="The pattern's language. Default: told from its words.",
)
@click.option(
    "--explain", is_flag=True, help="Print the words and other readings of each field as JSON."
)
@click.option("--quiet", "-q", is_flag=True, help="No report of the source words on stderr.")
def read(file: str, size: str | None, language: str | None, explain: bool, quiet: bool) -> None:
    """Read a pattern's materials and gauge and print the ask that `answer` takes.

    FILE is a text file or a PDF with text; - reads standard input. The ask holds what was read
    as sure or likely. What is unclear is left out, and said on stderr with its readings, as is
    where each field came from. Nothing of the pattern is kept.
    """
    reader = ReaderPreferences()
    try:
        reading = read_pattern_text(read_file(file, MOST_BYTES), language)
        if explain:
            print_json(report_document(reading, size))
            return
        if not quiet:
            for line in report_lines(reading):
                click.echo(line, err=True)
        print_json(ask_of_pattern(reading, size))
    except TextRefused as refusal:
        raise BadUsage(f"{file}: {told(refusal, reader)}") from None
    except SizeRefused as refusal:
        raise BadUsage(f"--size: {told(refusal, reader)}") from None
    except AskRefused as refusal:
        missing = told(refusal, reader)
        raise BadUsage(f"what could be read is not enough for an answer:\n{missing}") from None
