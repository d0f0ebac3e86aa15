"""`shopdesk slip`: a yarn chosen for an ask, as a numbered slip in a PDF."""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from shlex import quote
from typing import Any

import click

from shopdesk.answering.model.answer import Selection
from shopdesk.craft.errors import InputErrors, Problem
from shopdesk.craft.messages import Message, message
from shopdesk.craft.numerals import NumberRefused, read_number
from shopdesk.reference.paper_uses import papers_for
from shopdesk.services.answers import AskPut, JudgedYarn, judge_yarn, require_known_yarns
from shopdesk.services.selection import PartWanted, select
from shopdesk.services.slips import SlipOrder, make_slip
from shopdesk.shop.shop import Shop
from shopdesk.slips.composing import CautionsNotTold, to_bring_over
from shopdesk.slips.papers import PaperUnknown
from shopdesk.terminal.answer import read_ask_file
from shopdesk.terminal.boundary import BadUsage
from shopdesk.terminal.streams import output_file
from shopdesk.terminal.visiting import (
    branch_option,
    language_option,
    option_refused,
    refused_in,
    the_shop,
)
from shopdesk.wording.translate import translate

MOST_SKEINS = 1000


@dataclass(frozen=True, slots=True)
class SlipOptions:
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
    chosen = SlipOptions(**options)
    put = read_ask_file(ask)
    with the_shop(data, chosen.branch) as shop:
        _made(shop, put, chosen)


def _made(shop: Shop, put: AskPut, chosen: SlipOptions) -> None:
    require_known_yarns(shop, put.ask)
    judged = judge_yarn(shop, put.ask, [chosen.yarn]).get(chosen.yarn)
    if judged is None:
        wrong = message("problem_terminal.yarn_not_answered", sku=chosen.yarn)
        raise option_refused("--yarn", wrong, message("problem_terminal.take_sku"))
    order = SlipOrder(
        ask_document=put.document,
        choice=_choice(judged, chosen),
        staff=chosen.staff,
        language=chosen.language,
        paper=chosen.paper,
        customer_name=chosen.customer,
    )
    number = _printed(shop, judged, order, chosen.output)
    if chosen.output != "-":
        click.echo(f"Slip {number}: {chosen.output}")
    reader = shop.settings().reader(chosen.language)
    for said in _to_know(judged, order.choice):
        click.echo(translate(said, reader), err=True)


def _to_know(judged: JudgedYarn, choice: Selection) -> Iterator[Message]:
    """Yields what staff should know of a slip that was made: a wish not met, lots elsewhere."""
    if judged.ruled_out is not None:
        yield message("problem_terminal.wish_rules_out", sku=choice.sku, wish=judged.ruled_out)
    yield from to_bring_over(judged.candidate, choice)


def _printed(shop: Shop, judged: JudgedYarn, order: SlipOrder, output: str) -> int:
    """Makes the slip and writes its PDF; one that cannot be written is not made."""
    try:
        with output_file(output) as file:
            record = make_slip(shop, judged, order, lambda made: file.write(made.pdf()))
        return record.summary.number
    except CautionsNotTold as untold:
        reader = shop.settings().reader(order.language)
        lines = [
            f"--told {quote(each.code)}: {translate(each.text, reader)}" for each in untold.cautions
        ]
        first = translate(message("problem_terminal.tell_first"), reader)
        raise BadUsage("\n".join([first, *lines])) from None
    except PaperUnknown as unknown:
        raise refused_in("--paper", unknown) from None


def _choice(judged: JudgedYarn, chosen: SlipOptions) -> Selection:
    """Returns the whole choice of a judged yarn. Raises InputErrors, naming the option.

    An option holds for every part, or for one as 'part=value'. What is not given is taken from the
    answer: its first colour, and the lots that it planned.
    """
    parts = [amount.part for amount in judged.candidate.amounts]
    colours = _by_part("--colour", chosen.colours, parts)
    lots = _by_part("--lot", chosen.lots, parts)
    skeins = _by_part("--skeins", chosen.skeins, parts)
    each = [
        PartWanted(part, colours.get(part), lot=lots.get(part), skeins=_number(skeins.get(part)))
        for part in parts
    ]
    try:
        return select(judged, each, chosen.told)
    except InputErrors as refusal:
        raise InputErrors(_by_option(refusal.problems)) from None


def _by_option(problems: Iterable[Problem]) -> list[Problem]:
    """Returns the problems of parts as those of options; what holds for several is said once."""
    said: list[Problem] = []
    for one in problems:
        of_option = replace(one, path=(f"--{one.path[-1]}",))
        if of_option not in said:
            said.append(of_option)
    return said


def _by_part(option: str, values: Sequence[str], parts: Sequence[str]) -> dict[str, str]:
    found: dict[str, str] = {}
    for written in values:
        name, equals, value = written.partition("=")
        named = [name] if equals and name in parts else parts
        for part in named:
            if part in found and found[part] is not None and len(named) == 1:
                wrong = message("problem_terminal.given_twice", part=part)
                raise option_refused(option, wrong, message("problem_terminal.give_once"))
            found.setdefault(part, value if len(named) == 1 and equals else written)
    return found


def _number(written: str | None) -> int | None:
    if written is None:
        return None
    right = message("problem_file.write_whole", low=1, high=MOST_SKEINS)
    try:
        number = read_number(written, right)
    except NumberRefused as refusal:
        raise refused_in("--skeins", refusal) from None
    if number != int(number) or not 1 <= number <= MOST_SKEINS:
        wrong = message("problem_terminal.skeins_cannot_be", text=written.strip())
        raise option_refused("--skeins", wrong, right)
    return int(number)
