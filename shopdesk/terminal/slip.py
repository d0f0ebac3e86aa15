"""`shopdesk slip`: a yarn chosen for an ask, as a numbered slip in a PDF."""

from dataclasses import dataclass, replace
from datetime import datetime
from shlex import quote
from typing import TYPE_CHECKING, Any

import click

from shopdesk.reference.paper_uses import papers_for
from shopdesk.terminal.boundary import BadUsage
from shopdesk.terminal.options import language_option
from shopdesk.terminal.visiting import branch_option

if TYPE_CHECKING:
    from sqlalchemy.orm import Session

    from shopdesk.answering.model.answer import Answer, Candidate
    from shopdesk.answering.model.ask import Ask
    from shopdesk.craft.yarn import ShelfYarn
    from shopdesk.services.slip_records import SlipRecord
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
    from shopdesk.shop.location import find_place
    from shopdesk.shop.shop import opened_shop
    from shopdesk.terminal.asking import read_ask_file

    chosen = Options(**options)
    document, wanted = read_ask_file(ask)
    with opened_shop(find_place(data)) as shop:
        number = _made(shop, document, wanted, chosen)
    if chosen.output != "-":
        click.echo(f"Slip {number}: {chosen.output}")


def _made(shop: "Shop", document: Any, wanted: "Ask", chosen: Options) -> int:
    from shopdesk.terminal.output import output_file

    answered, shelf = _answered(shop, wanted, chosen.yarn)
    order = _order(document, answered, shelf, chosen)
    with output_file(chosen.output) as file, shop.write() as session:
        record = _kept(session, answered, shelf, order)
        file.write(record.pdf())
    return record.summary.number


def _answered(shop: "Shop", wanted: "Ask", sku: str) -> "tuple[Answer, dict[str, ShelfYarn]]":
    """Returns the answer, and by SKU the chosen yarn with the one it is held with."""
    from shopdesk.services.answers import answer_from_shelf, judged_apart
    from shopdesk.shelf.loading import shelf_yarn
    from shopdesk.store.settings import load_settings

    with shop.read() as session:
        terms = load_settings(session).terms()
        answered = answer_from_shelf(session, wanted, terms)
        if answered.candidate(sku) is None:
            apart = judged_apart(session, wanted, terms, [sku])
            more = [one.candidate for one in apart.values() if one.unmet is None]
            answered = replace(answered, candidates=(*answered.candidates, *more))
        candidate = _candidate(answered, sku)
        second = candidate.companion.sku if candidate.companion else None
        found = [shelf_yarn(session, each) for each in (sku, second) if each]
    return answered, {yarn.sku: yarn for yarn in found if yarn is not None}


def _candidate(answered: "Answer", sku: str) -> "Candidate":
    candidate = answered.candidate(sku)
    if candidate is None:
        raise BadUsage(
            f"--yarn: '{sku}' is not among the yarns of the answer, or is ruled out by a wish; "
            "take a 'sku' that `shopdesk answer` prints"
        )
    return candidate


def _order(
    document: Any, answered: "Answer", shelf: "dict[str, ShelfYarn]", chosen: Options
) -> "SlipOrder":
    from shopdesk.services.slips import SlipOrder
    from shopdesk.terminal.choosing import Wanted, choice_of

    wanted = Wanted(chosen.colours, chosen.lots, chosen.skeins, chosen.told)
    return SlipOrder(
        ask_document=document,
        choice=choice_of(_candidate(answered, chosen.yarn), shelf[chosen.yarn], wanted),
        staff=chosen.staff,
        on=datetime.now().astimezone().date(),
        language=chosen.language,
        paper=chosen.paper,
        customer_name=chosen.customer,
        branch=chosen.branch,
    )


def _kept(
    session: "Session", answered: "Answer", shelf: "dict[str, ShelfYarn]", order: "SlipOrder"
) -> "SlipRecord":
    from shopdesk.services.slips import SlipRefused, make_slip
    from shopdesk.shelf.branch_lots import StockRefused
    from shopdesk.slips.composing import CautionsNotTold
    from shopdesk.slips.papers import PaperUnknown
    from shopdesk.slips.slip_lines import SelectionError
    from shopdesk.store.settings import load_settings
    from shopdesk.wording.translate import translate

    try:
        return make_slip(session, answered, shelf, order)
    except CautionsNotTold as untold:
        reader = load_settings(session).reader(order.language)
        lines = [
            f"--told {quote(each.code)}: {translate(each.text, reader)}" for each in untold.cautions
        ]
        raise BadUsage("\n".join(["tell the customer first, then add:", *lines])) from None
    except PaperUnknown as unknown:
        raise BadUsage(f"--paper: {unknown}") from None
    except (SelectionError, SlipRefused, StockRefused) as refusal:
        raise BadUsage(str(refusal)) from None
