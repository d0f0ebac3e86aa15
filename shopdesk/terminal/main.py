"""The command `shopdesk`: its verbs, each loaded only when it is asked for."""

from importlib import import_module
from typing import NamedTuple

import click

from shopdesk import __version__
from shopdesk.terminal.boundary import clear_errors
from shopdesk.terminal.cycles import while_a_verb_runs


class Verb(NamedTuple):
    """Where a verb's command is, and the first line of its help.

    The line stands here too, so that the list of all verbs is shown without loading any of them.
    """

    module: str
    function: str
    help: str

    def command(self) -> click.Command:
        """Loads the module and returns the command."""
        module = import_module(f"shopdesk.terminal.{self.module}")
        command: click.Command = getattr(module, self.function)
        return command


# The order is that of the help. Commands that need the same share a module.
VERBS = {
    "serve": Verb(
        "serve", "serve", "Set up the shop if it is new, and serve the counter page until Ctrl-C."
    ),
    "read": Verb(
        "read",
        "read",
        "Read a pattern's materials and gauge and print the ask that `answer` takes.",
    ),
    "answer": Verb(
        "answer",
        "answer",
        "Judge the shelf's yarns for the pattern in ASK, a JSON file ('-': standard input).",
    ),
    "slip": Verb(
        "slip",
        "slip",
        "Write the slip for the yarn SKU chosen for ASK, a JSON file ('-': standard input).",
    ),
    "import": Verb(
        "import_export",
        "import_",
        "Look at the table in FILE (CSV or .xlsx; '-': standard input) against the shelf.",
    ),
    "export": Verb(
        "import_export", "export", "Write the shelf's yarns, colours or stock as CSV in UTF-8."
    ),
    "swatch": Verb(
        "swatch",
        "swatch",
        "Say what a swatch changes for SLIP, and keep it as evidence on the yarn.",
    ),
    "hold": Verb(
        "holds", "hold", "Hold skeins of yarn SKU for a customer, or list what is on hold."
    ),
    "collect": Verb("holds", "collect", "Sell what is on hold, with a movement of the stock."),
    "release": Verb(
        "holds",
        "release",
        "Give back to the shelf what is on hold. Doing it twice changes nothing.",
    ),
    "extend": Verb(
        "holds",
        "extend",
        "Hold the skeins until another day; also after they ran out, while they are still free.",
    ),
    "onemore": Verb(
        "after_sale",
        "onemore",
        "Find one more skein: by the band (SKU, --colour, --lot), a --slip or a --barcode.",
    ),
    "leftover": Verb(
        "after_sale",
        "leftover",
        "Take unopened skeins of a --slip back, or weigh a part-ball with --sku and --grams.",
    ),
    "morning": Verb(
        "checks",
        "morning",
        "List what to look at today: holds, slips without a swatch, unmet asks, last balls, bands.",
    ),
    "branch": Verb("stock", "branch", "Add the branch CODE; without CODE, only list the branches."),
    "transfer": Verb(
        "stock", "transfer", "Move skeins that are free to another branch; what is on hold stays."
    ),
    "forget": Verb(
        "customers", "forget", "Remove name and telephone number of a customer wherever they stand."
    ),
    "hand": Verb(
        "customers", "hand", "Keep a customer's hand, or print the kept one as the ask's `hand`."
    ),
    "schema": Verb("schema", "schema", "Print the JSON Schema of the ask or of the answer."),
    "check": Verb(
        "checks",
        "check",
        "Check the labels: what the bands say against all the evidence, the worst first.",
    ),
    "shelf": Verb("stock", "shelf", "Find yarns on the shelf, show one, and change its stock."),
    "passphrase": Verb(
        "keeping",
        "passphrase",
        "Set the passphrase that staff sign in with, typed twice or read from standard input.",
    ),
    "backup": Verb(
        "keeping",
        "backup",
        "Copy the shop's database to a new file, check the copy, and print where it is.",
    ),
    "restore": Verb(
        "keeping", "restore", "Put the copy in the file BACKUP in the place of the shop's database."
    ),
    "doctor": Verb(
        "keeping",
        "doctor",
        "Look at versions, database, disk, backups, fonts and clock; exit 1 if one is not well.",
    ),
}


class Verbs(click.Group):
    """Loads one verb's module, so that `answer` does not wait for what only `serve` needs."""

    def list_commands(self, ctx: click.Context) -> list[str]:
        """Returns the verbs in the order of the help."""
        return list(VERBS)

    def get_command(self, ctx: click.Context, cmd_name: str) -> click.Command | None:
        """Returns the verb's command, or None if there is no such verb."""
        return VERBS[cmd_name].command() if cmd_name in VERBS else None

    def format_commands(self, ctx: click.Context, formatter: click.HelpFormatter) -> None:
        """Lists the verbs as click does, with the lines of the table."""
        width = formatter.width - 6 - max(map(len, VERBS))
        with formatter.section("Commands"):
            formatter.write_dl(
                [
                    (name, click.Command(name, help=verb.help).get_short_help_str(width))
                    for name, verb in VERBS.items()
                ]
            )

    def invoke(self, ctx: click.Context) -> object:
        """Runs the verb; whatever goes wrong becomes one clear line."""
        while_a_verb_runs()
        with clear_errors(ctx):
            return super().invoke(ctx)


@click.group(cls=Verbs, context_settings={"help_option_names": ["-h", "--help"]})
@click.version_option(__version__, message="%(prog)s %(version)s")
@click.option(
    "--data",
    metavar="DIR",
    help="The folder that holds the shop's data. Default: SHOPDESK_DATA, "
    "or the platform's folder for a user's data.",
)
@click.pass_context
def main(ctx: click.Context, data: str | None) -> None:
    """The yarn counter's assistant: from a customer's pattern to a printed slip."""
    ctx.obj = data
