"""`shopdesk leftover`: unopened skeins that come back, or the metres that a part-ball holds."""

from typing import TYPE_CHECKING, Any

import click

from shopdesk.terminal.boundary import BadUsage, CommandFailed
from shopdesk.terminal.options import naming_options
from shopdesk.terminal.visiting import (
    branch_option,
    json_option,
    staff_option,
    the_shop,
    where_document,
)

if TYPE_CHECKING:
    from shopdesk.craft.figures import Figure
    from shopdesk.services.leftovers import ReturnView


@click.command()
@click.option("--slip", type=int, help="Show what may come back of this slip.")
@click.option("--colour", help="The colour that comes back, by its code.")
@click.option("--lot", help="The lot that comes back.")
@click.option("--skeins", type=int, help="Take so many unopened skeins of that lot back.")
@click.option("--sku", help="The yarn of a part-ball.")
@click.option("--grams", help="What the part-ball weighs, without its core.")
@branch_option
@staff_option
@json_option
@click.pass_obj
def leftover(data: str | None, /, as_json: bool, **asked: Any) -> None:
    """Take unopened skeins of a --slip back, or weigh a part-ball with --sku and --grams."""
    if asked["slip"] is not None:
        _return(data, as_json, asked)
    elif asked["sku"] is not None and asked["grams"] is not None:
        _weigh(data, as_json, asked["sku"], asked["grams"])
    else:
        raise BadUsage("nothing is left over; give --slip, or --sku with --grams")


def _return(data: str | None, as_json: bool, asked: dict[str, Any]) -> None:
    from shopdesk.services.leftovers import BroughtBack, may_come_back, take_back
    from shopdesk.terminal.printing import print_json

    number, skeins = asked["slip"], asked["skeins"]
    with the_shop(data, asked["branch"]) as shop:
        if skeins is None:
            view = may_come_back(shop, number)
        else:
            colour, lot, staff = asked["colour"] or "", asked["lot"], asked["staff"]
            view = take_back(shop, BroughtBack(number, colour, lot, skeins, staff))
    if as_json:
        print_json(_view_document(view))
        return
    click.echo(f"slip {number}, {view.yarn}: {_rule(view)}")
    for line in view.lines:
        click.echo(f"  {line.where}: {line.sold} sold, {line.came_back} came back")


def _rule(view: "ReturnView") -> str:
    if view.last_day is None:
        return "this shop takes nothing back"
    until = view.last_day.isoformat()
    return f"unopened skeins come back until {until}" + ("" if view.in_time else ": too late")


def _view_document(view: "ReturnView") -> dict[str, Any]:
    return {
        "slip": view.slip_number,
        "yarn": view.yarn,
        "last_day": view.last_day.isoformat() if view.last_day else None,
        "in_time": view.in_time,
        "lots": [
            {**where_document(one.where), "sold": one.sold, "came_back": one.came_back}
            for one in view.lines
        ],
    }


def _weigh(data: str | None, as_json: bool, sku: str, written: str) -> None:
    from shopdesk.services.leftovers import LengthUnknown, weigh_remnant
    from shopdesk.terminal.printing import print_json

    try:
        with the_shop(data) as shop, naming_options():
            metres = weigh_remnant(shop, sku, written)
    except LengthUnknown as unknown:
        raise CommandFailed(str(unknown)) from None
    if as_json:
        print_json(_metres_document(metres))
        return
    click.echo(
        f"about {metres.value:.0f} m ({metres.low:.0f} to {metres.high:.0f} m), "
        f"by {metres.basis.value}"
    )


def _metres_document(metres: "Figure") -> dict[str, Any]:
    from shopdesk.wording.translate import english

    return {
        "metres": round(metres.value, 1),
        "low": round(metres.low, 1),
        "high": round(metres.high, 1),
        "basis": metres.basis.value,
        "notes": [english(note) for note in metres.notes],
    }
