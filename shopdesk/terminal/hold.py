"""`shopdesk hold`: skeins of a lot put by for a customer, and the list of what is put by."""

from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

import click

from shopdesk.terminal.boundary import BadUsage
from shopdesk.terminal.visiting import branch_option, json_option, staff_option

if TYPE_CHECKING:
    from sqlalchemy.orm import Session

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
@click.option("--slip", type=int, help="Put by what this slip says, every lot of it or none.")
@click.option("--until", metavar="DAY", help="The last day, such as 2026-12-09. Default: setting.")
@branch_option
@click.option("--customer", is_flag=True, help="Ask for name and telephone number; both optional.")
@staff_option
@click.option("--list", "listed", is_flag=True, help="Only list what is put by now.")
@json_option
@click.pass_obj
def hold(data: str | None, /, **options: Any) -> None:
    """Put skeins of yarn SKU by for a customer, or list what is put by.

    What is put by is not free for anybody else, and is free again by itself after the last day.
    """
    from shopdesk.services.hold_records import open_holds
    from shopdesk.services.holds import HoldTerms, put_by
    from shopdesk.terminal.visiting import (
        day_written,
        person_typed,
        shop_to_read,
        shop_to_write,
        show_holds,
    )

    wanted = Options(**options)
    if wanted.listed:
        with shop_to_read(data) as session:
            show_holds(open_holds(session), wanted.as_json)
        return
    until = day_written(wanted.until, "--until")
    person = person_typed(wanted.customer)
    with shop_to_write(data) as session:
        picks, slip_id = _picks(session, wanted)
        made = put_by(session, picks.items(), HoldTerms(wanted.staff, until, person, slip_id))
    show_holds(made, wanted.as_json)


def _picks(session: "Session", wanted: Options) -> "tuple[dict[LotAtBranch, int], int | None]":
    from shopdesk.services.sales import lots_of_slip, slip_row
    from shopdesk.shelf.branch_lots import LotAtBranch

    row = slip_row(session, wanted.slip, wanted.branch) if wanted.slip else None
    if wanted.sku is None and row is not None:
        return lots_of_slip(session, row), row.id
    if wanted.sku is None or wanted.colour is None or wanted.skeins is None:
        raise BadUsage("nothing to put by; give SKU, --colour, --lot and --skeins, or --slip")
    where = LotAtBranch(wanted.sku, wanted.colour, wanted.lot, wanted.branch)
    return {where: wanted.skeins}, row.id if row else None
