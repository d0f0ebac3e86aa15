"""Skeins for a customer: held, collected, given back, held longer."""

from dataclasses import dataclass
from datetime import date
from typing import Any

import click

from shopdesk.services.hold_records import HoldRecord, list_holds
from shopdesk.services.holds import (
    HoldOrder,
    PartCollected,
    collect_hold,
    collect_part,
    extend_hold,
    hold_skeins,
    release_hold,
)
from shopdesk.shelf.branch_lots import LotAtBranch
from shopdesk.terminal.boundary import BadUsage
from shopdesk.terminal.customers import person_typed
from shopdesk.terminal.streams import print_json
from shopdesk.terminal.visiting import (
    branch_option,
    json_option,
    staff_option,
    the_shop,
    where_document,
)


@dataclass(frozen=True, slots=True)
class HoldOptions:
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
    wanted = HoldOptions(**options)
    if wanted.listed:
        with the_shop(data) as shop:
            _show_holds(list_holds(shop), wanted.as_json)
        return
    until = _day_written(wanted.until, "--until")
    person = person_typed(wanted.customer)
    order = HoldOrder(_lots(wanted), wanted.slip or None, until, person, wanted.staff)
    with the_shop(data, wanted.branch) as shop:
        made = hold_skeins(shop, order)
    _show_holds(made, wanted.as_json)


def _lots(wanted: HoldOptions) -> tuple[tuple[LotAtBranch, int], ...]:
    """Returns the lot that is named; none where the slip says it."""
    if wanted.sku is None and wanted.slip:
        return ()
    if wanted.sku is None or wanted.colour is None or wanted.skeins is None:
        raise BadUsage("nothing to hold; give SKU, --colour, --lot and --skeins, or --slip")
    where = LotAtBranch(wanted.sku, wanted.colour, wanted.lot, wanted.branch)
    return ((where, wanted.skeins),)


@click.command()
@click.argument("hold", type=int)
@click.option("--skeins", type=int, help="Only so many; the rest stays on hold.")
@click.option("--release-rest", is_flag=True, help="With --skeins: give the rest back.")
@staff_option
@json_option
@click.pass_obj
def collect(data: str | None, /, hold: int, **options: Any) -> None:
    """Sell what is on hold, with a movement of the stock.

    Collecting a whole hold twice changes nothing; --skeins takes as many each time.
    """
    skeins, staff = options["skeins"], options["staff"]
    if options["release_rest"] and skeins is None:
        raise BadUsage("--release-rest: no rest is left without --skeins; say how many")
    with the_shop(data) as shop:
        if skeins is None:
            done = collect_hold(shop, hold, staff)
        else:
            part = PartCollected(skeins, options["release_rest"], staff)
            done = collect_part(shop, hold, part)
    _show_holds((done,), options["as_json"])


@click.command()
@click.argument("hold", type=int)
@staff_option
@json_option
@click.pass_obj
def release(data: str | None, hold: int, staff: str, as_json: bool) -> None:
    """Give back to the shelf what is on hold. Doing it twice changes nothing."""
    with the_shop(data) as shop:
        done = release_hold(shop, hold, staff)
    _show_holds((done,), as_json)


@click.command()
@click.argument("hold", type=int)
@click.option("--until", metavar="DAY", required=True, help="The new last day, as 2026-12-09.")
@staff_option
@json_option
@click.pass_obj
def extend(data: str | None, hold: int, until: str, staff: str, as_json: bool) -> None:
    """Hold the skeins until another day; also after they ran out, while they are still free."""
    day = _day_written(until, "--until")
    assert day is not None
    with the_shop(data) as shop:
        done = extend_hold(shop, hold, day, staff)
    _show_holds((done,), as_json)


def _day_written(text: str | None, option: str) -> date | None:
    """Returns a day written as 2026-11-25, or None. Raises BadUsage."""
    if text is None:
        return None
    try:
        return date.fromisoformat(text)
    except ValueError:
        raise BadUsage(f"{option}: '{text}' is no day; write it as 2026-11-25") from None


def hold_document(one: HoldRecord) -> dict[str, Any]:
    """Returns a hold as JSON, without the customer."""
    return {
        "hold": one.number,
        **where_document(one.where),
        "yarn": one.yarn,
        "colour_name": one.colour,
        "skeins": one.skeins,
        "until": one.until.isoformat(),
        "state": one.state.value,
        "slip": one.slip_number,
    }


def hold_line(one: HoldRecord) -> str:
    """Returns a hold in one line, without the customer."""
    slip = f", slip {one.slip_number}" if one.slip_number else ""
    return (
        f"hold {one.number}: {one.skeins} x {one.where}, {one.state.value} "
        f"until {one.until.isoformat()}{slip}"
    )


def _show_holds(records: tuple[HoldRecord, ...], as_json: bool) -> None:
    """Prints holds, as JSON or a line each."""
    if as_json:
        print_json({"holds": [hold_document(one) for one in records]})
        return
    for one in records:
        click.echo(hold_line(one))
