"""`shopdesk hold`: skeins of a lot held for a customer, and the list of what is on hold."""

from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

import click

from shopdesk.terminal.boundary import BadUsage
from shopdesk.terminal.visiting import branch_option, json_option, staff_option

if TYPE_CHECKING:
    from shopdesk.shelf.branch_lots import LotAtBranch


@dataclass(frozen=True, slots=True)
class Options:
    """What was written on the command line."""

    sku: str | None
    colour: str | None
    lot: str | None
    skeins: int | None
    slip: int | None
    until: str | None
    branch: str
    customer: bool
    staff: str
    listed: bool
    as_json: bool


@click.command()
@click.argument("sku", required=False)
@click.option("--colour", help="The colour's code.")
@click.option("--lot", help="The dye lot; left out for a yarn without lots.")
@click.option("--skeins", type=int, help="How many skeins.")
@click.option("--slip", type=int, help="Hold what this slip says, every lot of it or none.")
@click.option("--until", metavar="DAY", help="The last day, such as 2026-12-09. Default: setting.")
@branch_option
@click.option("--customer", is_flag=True, help="Ask for name and telephone number; both optional.")
@staff_option
@click.option("--list", "listed", is_flag=True, help="Only list what is on hold now.")
@json_option
@click.pass_obj
def hold(data: str | None, /, **options: Any) -> None:
    """Hold skeins of yarn SKU for a customer, or list what is on hold.

    What is on hold is not free for anybody else, and is free again by itself after the last day.
    """
    from shopdesk.services.hold_records import list_holds
    from shopdesk.services.holds import HoldOrder, hold_skeins
    from shopdesk.terminal.visiting import day_written, person_typed, show_holds, the_shop

    wanted = Options(**options)
    if wanted.listed:
        with the_shop(data) as shop:
            show_holds(list_holds(shop), wanted.as_json)
        return
    until = day_written(wanted.until, "--until")
    person = person_typed(wanted.customer)
    order = HoldOrder(_lots(wanted), wanted.slip or None, until, person, wanted.staff)
    with the_shop(data, wanted.branch) as shop:
        made = hold_skeins(shop, order)
    show_holds(made, wanted.as_json)


def _lots(wanted: Options) -> "tuple[tuple[LotAtBranch, int], ...]":
    """Returns the lot that is named; none where the slip says it."""
    from shopdesk.shelf.branch_lots import LotAtBranch

    if wanted.sku is None and wanted.slip:
        return ()
    if wanted.sku is None or wanted.colour is None or wanted.skeins is None:
        raise BadUsage("nothing to hold; give SKU, --colour, --lot and --skeins, or --slip")
    where = LotAtBranch(wanted.sku, wanted.colour, wanted.lot, wanted.branch)
    return ((where, wanted.skeins),)
