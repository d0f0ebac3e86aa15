"""The command `shopdesk`: its verbs, each loaded only when it is asked for."""

from importlib import import_module
from keyword import iskeyword

import click

from shopdesk import __version__
from shopdesk.terminal.boundary import clear_errors
from shopdesk.terminal.cycles import while_a_verb_runs

# The order is that of the help. A verb's module holds a command of the same name;
# one that Python keeps for itself has a '_' behind it.
VERBS = {
    "serve": "shopdesk.terminal.serve",
    "read": "shopdesk.terminal.read",
    "answer": "shopdesk.terminal.answer",
    "slip": "shopdesk.terminal.slip",
    "import": "shopdesk.terminal.import_",
    "export": "shopdesk.terminal.export",
    "swatch": "shopdesk.terminal.swatch",
    "hold": "shopdesk.terminal.hold",
    "collect": "shopdesk.terminal.collect",
    "release": "shopdesk.terminal.release",
    "extend": "shopdesk.terminal.extend",
    "onemore": "shopdesk.terminal.one_more",
    "leftover": "shopdesk.terminal.leftovers",
    "morning": "shopdesk.terminal.morning",
    "branch": "shopdesk.terminal.branch",
    "transfer": "shopdesk.terminal.transfer",
    "forget": "shopdesk.terminal.forget",
    "schema": "shopdesk.terminal.schema",
    "check": "shopdesk.terminal.check",
    "shelf": "shopdesk.terminal.shelf",
    "passphrase": "shopdesk.terminal.passphrase",
    "backup": "shopdesk.terminal.backup",
    "restore": "shopdesk.terminal.restore",
    "doctor": "shopdesk.terminal.doctor",
}


class Verbs(click.Group):
    """Loads one verb's module, so that `answer` does not wait for what only `serve` needs."""

    def list_commands(self, ctx: click.Context) -> list[str]:
        """Returns the verbs in the order of the help."""
        return list(VERBS)

    def get_command(self, ctx: click.Context, cmd_name: str) -> click.Command | None:
        """Returns the verb's command, or None if there is no such verb."""
        if cmd_name not in VERBS:
            return None
        name = f"{cmd_name}_" if iskeyword(cmd_name) else cmd_name
        command: click.Command = getattr(import_module(VERBS[cmd_name]), name)
        return command

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
