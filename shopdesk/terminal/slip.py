"""`shopdesk slip`: a yarn chosen for an ask, as a numbered slip in a PDF."""

from dataclasses import dataclass
from shlex import quote
from typing import TYPE_CHECKING, Any

import click

from shopdesk.reference.paper_uses import papers_for
from shopdesk.terminal.boundary import BadUsage
from shopdesk.terminal.options import language_option
from shopdesk.terminal.visiting import branch_option

if TYPE_CHECKING:
    from shopdesk.services.answers import AskPut, JudgedYarn
    from shopdesk.services.slips import SlipOrder
    from shopdesk.shop.shop import Shop


@dataclass(frozen=True, slots=True)
class Options:
    """What was written on the command line besides the ask."""

    yarn: str
    colours: tuple[str, ...]
    lots: tuple[str, ...]
    skeins: tuple[str, ...]
    told: tuple[str, ...]
    staff: str
    customer: str | None
    paper: str | None
    language: str | None
    branch: str
    output: str


@click.command()
@click.argument("ask")
@click.option("--yarn", metavar="SKU", required=True, help="The yarn to write the slip for.")
@click.option(
    "--colour",
    "colours",
    multiple=True,
    help="The colour's code or name, or PART=COLOUR. Default: the answer's first.",
)
@click.option(
    "--lot",
    "lots",
    multiple=True,
    help="The dye lot, or PART=LOT. Default: the lots that the answer plans.",
)
@click.option(
    "--skeins",
    multiple=True,
    help="How many skeins, or PART=NUMBER. Default: as many as the answer plans.",
)
@click.option(
    "--told",
    metavar="CODE",
    multiple=True,
    help="The code of a flagged caution that the customer was told.",
)
@click.option("--staff", default="", help="Who served the customer.")
@click.option("--customer", help="The customer's name, only if it is wanted on the slip.")
@click.option("--paper", help=f"One of {', '.join(papers_for('slip'))}. Default: the shop's own.")
@language_option
@branch_option
@click.option("-o", "--output", required=True, help="The PDF to write ('-': standard output).")
@click.pass_obj
def slip(data: str | None, /, ask: str, **options: Any) -> None:
    """Write the slip for the yarn SKU chosen for ASK, a JSON file ('-': standard input).

    The slip takes the shop's next number and is kept like one made at the counter. If a caution
    must be told to the customer first, the command says so, and --told confirms it.
    """
    from shopdesk.terminal.asking import read_ask_file
    from shopdesk.terminal.visiting import the_shop

    chosen = Options(**options)
    put = read_ask_file(ask)
    with the_shop(data, chosen.branch) as shop:
        number = _made(shop, put, chosen)
    if chosen.output != "-":
        click.echo(f"Slip {number}: {chosen.output}")


def _made(shop: "Shop", put: "AskPut", chosen: Options) -> int:
    from shopdesk.services.answers import judge_yarn
    from shopdesk.services.slips import SlipOrder
    from shopdesk.terminal.choosing import Wanted, choice_of

    judged = judge_yarn(shop, put.ask, [chosen.yarn]).get(chosen.yarn)
    if judged is None or judged.ruled_out is not None:
        raise BadUsage(
            f"--yarn: '{chosen.yarn}' is not among the yarns of the answer, or is ruled out by a "
            "wish; take a 'sku' that `shopdesk answer` prints"
        )
    wanted = Wanted(chosen.colours, chosen.lots, chosen.skeins, chosen.told)
    order = SlipOrder(
        ask_document=put.document,
        choice=choice_of(judged, wanted),
        staff=chosen.staff,
        language=chosen.language,
        paper=chosen.paper,
        customer_name=chosen.customer,
    )
    return _printed(shop, judged, order, chosen.output)


def _printed(shop: "Shop", judged: "JudgedYarn", order: "SlipOrder", output: str) -> int:
    """Makes the slip and writes its PDF; one that cannot be written is not made."""
    from shopdesk.craft.errors import InputError
    from shopdesk.services.slips import make_slip
    from shopdesk.slips.composing import CautionsNotTold
    from shopdesk.slips.papers import PaperUnknown
    from shopdesk.terminal.output import output_file
    from shopdesk.wording.translate import translate

    try:
        with output_file(output) as file:
            record = make_slip(shop, judged, order, lambda made: file.write(made.pdf()))
        return record.summary.number
    except CautionsNotTold as untold:
        reader = shop.settings().reader(order.language)
        lines = [
            f"--told {quote(each.code)}: {translate(each.text, reader)}" for each in untold.cautions
        ]
        raise BadUsage("\n".join(["tell the customer first, then add:", *lines])) from None
    except PaperUnknown as unknown:
        raise BadUsage(f"--paper: {unknown}") from None
    except InputError as refusal:
        raise BadUsage(str(refusal)) from None
