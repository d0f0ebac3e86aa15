"""The last line before the user: named errors in their own words, others in one line and a log."""

from collections.abc import Iterator
from contextlib import contextmanager

import click

SPOKEN = "shopdesk.language"
"""Under which a command's context keeps the language that its --language names."""
NO_BREAK = "\N{NO-BREAK SPACE}\N{NARROW NO-BREAK SPACE}"
"""Blanks of French and of numbers, which Python does not count as printable."""


class CommandFailed(click.ClickException):
    """Ends a verb with lines on stderr and exit code 1."""

    exit_code = 1

    def show(self, file: object = None) -> None:
        """Writes each line of the message with the command's name before it."""
        for line in self.message.splitlines() or [""]:
            click.echo(f"shopdesk: {_printable(line)}", err=True)


class BadUsage(CommandFailed):
    """Ends a verb because its input must be corrected: exit code 2."""

    exit_code = 2


@contextmanager
def clear_errors(ctx: click.Context) -> Iterator[None]:
    """Turns every error that leaves a verb of `ctx` into a CommandFailed.

    What must be corrected, an InputError, becomes BadUsage: one line a problem, exit code 2, in
    the language of the verb's --language, else in English.
    """
    try:
        yield
    except (click.ClickException, click.exceptions.Exit, click.Abort, BrokenPipeError):
        raise
    except Exception as error:
        raise _ending(error, ctx) from error


# What words and log need is loaded only once something went wrong: this module is loaded for
# `--help` too, which needs none of it.
def _ending(error: Exception, ctx: click.Context) -> CommandFailed:
    from shopdesk.craft.errors import InputError
    from shopdesk.wording.catalog import BASE_LANGUAGE
    from shopdesk.wording.formatting import ReaderPreferences
    from shopdesk.wording.translate import told

    if isinstance(error, InputError):
        reader = ReaderPreferences(ctx.meta.get(SPOKEN) or BASE_LANGUAGE)
        return BadUsage(told(error, reader))
    return CommandFailed(_words_for(error, ctx))


def _words_for(error: Exception, ctx: click.Context) -> str:
    if _is_ours(error):
        return str(error)
    if isinstance(error, OSError) and error.strerror:
        place = f"{error.filename}: " if error.filename else ""
        return f"{place}{error.strerror}"
    return f"something unexpected went wrong ({type(error).__name__}); {_logged(error, ctx)}"


def _is_ours(error: Exception) -> bool:
    return type(error).__module__.startswith("shopdesk.")


def _logged(error: Exception, ctx: click.Context) -> str:
    from shopdesk.shop.location import DatabaseAddressRefused, find_place
    from shopdesk.upkeep.log import LogRefused, note_fault

    try:
        folder = find_place(ctx.params["data"]).folder
        return f"the details are in {note_fault(folder, error, ctx.invoked_subcommand)}"
    except (LogRefused, DatabaseAddressRefused) as refusal:
        return str(refusal)


def _printable(line: str) -> str:
    return "".join(
        letter if letter.isprintable() or letter in NO_BREAK else "\N{REPLACEMENT CHARACTER}"
        for letter in line
    )
