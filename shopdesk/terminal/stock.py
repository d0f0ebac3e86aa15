"""Find yarns, show one, change stock (`shelf`), and the branches that it lies in."""

from typing import Any

import click

from shopdesk.craft.errors import InputError
from shopdesk.craft.fibres import fibre_named
from shopdesk.craft.messages import message
from shopdesk.services.branches import Transfer, add_branch, list_branches, transfer_skeins
from shopdesk.services.sales import book_sale
from shopdesk.services.stock_changes import StockChange, change_stock
from shopdesk.services.yarn_finding import find_yarns, identify_scan, show_yarn
from shopdesk.shelf.branch_lots import LotAtBranch
from shopdesk.shelf.loading import YarnUnknown
from shopdesk.shelf.search import FoundYarn, YarnQuery
from shopdesk.shelf.yarn_view import yarn_document
from shopdesk.terminal.boundary import BadUsage
from shopdesk.terminal.streams import print_json
from shopdesk.terminal.visiting import (
    branch_option,
    json_option,
    staff_option,
    the_shop,
    where_document,
)
from shopdesk.wording.translate import english


@click.group()
def shelf() -> None:
    """Find yarns on the shelf, show one, and change its stock."""


@shelf.command()
@click.argument("words", nargs=-1)
@click.option("--category", type=click.IntRange(0, 7), help="A standard weight category, 0 to 7.")
@click.option("--fibre", help="A fibre that is in the blend, such as wool.")
@click.option("--machine", is_flag=True, help="Only what the band lets into the machine.")
@click.option("--in-stock", is_flag=True, help="Only what can be sold now.")
@click.option("--retired", is_flag=True, help="Retired yarns too.")
@json_option
@click.pass_context
def find(ctx: click.Context, /, words: tuple[str, ...], as_json: bool, **limits: Any) -> None:
    """Find yarns whose words begin with WORDS, or the yarn of a barcode.

    The exit code is 1 if none is found.
    """
    wish = _wish(" ".join(words), **limits)
    with the_shop(ctx.obj) as shop:
        found = find_yarns(shop, wish)
    if as_json:
        print_json({"yarns": [_found(one) for one in found.yarns], "more": found.more})
    else:
        for one in found.yarns:
            click.echo(f"{one.sku}  {one.name}  {one.put_up}  {one.price}  {one.skeins} to sell")
        if found.more:
            click.echo("There are more; say more of what you look for.", err=True)
        if found.note:
            click.echo(english(found.note), err=True)
    if not found.yarns:
        ctx.exit(1)


def _wish(
    text: str,
    category: int | None,
    fibre: str | None,
    machine: bool,
    in_stock: bool,
    retired: bool,
) -> YarnQuery:
    key = fibre_named(fibre) if fibre else None
    if fibre and key is None:
        raise BadUsage(f"--fibre: '{fibre}' is not a fibre that is known; write such as wool")
    return YarnQuery(
        text, category=category, fibre=key, machine=machine, in_stock=in_stock, retired=retired
    )


@shelf.command()
@click.argument("sku")
@json_option
@click.pass_context
def show(ctx: click.Context, sku: str, as_json: bool) -> None:
    """Show the yarn of an article number or barcode, with what can be sold of each lot.

    The exit code is 2 if there is no such yarn.
    """
    with the_shop(ctx.obj) as shop:
        try:
            view = show_yarn(shop, identify_scan(shop, sku) or sku)
        except YarnUnknown as unknown:
            right = message("problem_terminal.find_by_name")
            raise InputError(unknown.problem.wrong, right) from None
    document = yarn_document(view.yarn)
    if as_json:
        print_json(document)
        return
    for name, value in document.items():
        if isinstance(value, list):
            for line in value:
                click.echo(f"{name}: " + ", ".join(f"{k} {v}" for k, v in line.items() if v))
        elif value not in (None, ""):
            click.echo(f"{name}: {value}")


@shelf.command()
@click.argument("change", type=click.Choice(["receive", "count", "correct", "sell"]))
@click.argument("sku")
@click.argument("colour")
@click.argument("skeins", type=int)
@click.option("--lot", help="The dye lot. Left out for a yarn without lots.")
@branch_option
@click.option("--staff", default="", help="Who does it.")
@click.option("--note", default="", help="Why; a correction needs it.")
@json_option
@click.pass_context
def stock(
    ctx: click.Context,
    /,
    change: str,
    sku: str,
    colour: str,
    skeins: int,
    as_json: bool,
    **more: Any,
) -> None:
    """Change the stock of one lot: receive, count, correct (by +/- SKEINS) or sell.

    Each change leaves a movement. What cannot be, such as selling what is on hold, changes
    nothing and ends with exit code 2. Write -- before a negative number.
    """
    where = LotAtBranch(sku, colour, more["lot"] or None, more["branch"])
    with the_shop(ctx.obj) as shop:
        wanted = StockChange(change, where, skeins, more["staff"], more["note"])
        held = change_stock(shop, wanted)
    if as_json:
        print_json({"sku": sku, "colour": colour, "lot": where.lot, "on_hand": held})
    else:
        click.echo(f"{where}: {held} on hand")


@shelf.command()
@click.argument("slip", type=int)
@branch_option
@click.option("--staff", default="", help="Who does it.")
@json_option
@click.pass_context
def sold(ctx: click.Context, slip: int, branch: str, staff: str, as_json: bool) -> None:
    """Take what SLIP, a slip's number, says off the stock: all of its lots, once."""
    with the_shop(ctx.obj, branch) as shop:
        lots = book_sale(shop, slip, staff)
    if as_json:
        print_json({"lots": [{"lot": str(one.where), "on_hand": one.on_hand} for one in lots]})
    else:
        for one in lots:
            click.echo(f"{one.where}: {one.on_hand} on hand")


def _found(one: FoundYarn) -> dict[str, object]:
    return {
        "sku": one.sku,
        "name": one.name,
        "weight_name": one.weight_name,
        "put_up": one.put_up,
        "price": str(one.price),
        "skeins": one.skeins,
        "retired": one.retired,
        "colour": one.colour_code,
    }


@click.command()
@click.argument("code", required=False)
@click.option("--name", default="", help="What people call the new branch.")
@json_option
@click.pass_obj
def branch(data: str | None, code: str | None, name: str, as_json: bool) -> None:
    """Add the branch CODE; without CODE, only list the branches."""
    with the_shop(data) as shop:
        if code is not None:
            add_branch(shop, code, name)
        found = list_branches(shop)
    if as_json:
        print_json({"branches": [{"code": one.code, "name": one.name} for one in found]})
        return
    for one in found:
        click.echo(f"{one.code:20} {one.name}".rstrip())


@click.command()
@click.argument("sku")
@click.option("--colour", required=True, help="The colour's code.")
@click.option("--lot", help="The dye lot; left out for a yarn without lots.")
@click.option("--skeins", type=int, required=True, help="How many skeins.")
@click.option("--from", "origin", default="main", show_default=True, help="The branch they leave.")
@click.option("--to", "target", required=True, help="The branch they go to.")
@staff_option
@json_option
@click.pass_obj
def transfer(
    data: str | None, /, sku: str, colour: str, lot: str | None, skeins: int, origin: str,
    target: str, staff: str, as_json: bool,
) -> None:  # fmt: skip
    """Move skeins that are free to another branch; what is on hold stays."""
    where = LotAtBranch(sku, colour, lot, origin)
    with the_shop(data) as shop:
        free = transfer_skeins(shop, Transfer(where, target, skeins, staff))
    if as_json:
        print_json({**where_document(where), "free": free, "sent": skeins, "to": target})
        return
    click.echo(f"{skeins} x {where} sent to {target}; {free} are free here")
