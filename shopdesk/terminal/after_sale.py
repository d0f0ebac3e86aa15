"""After the sale: one more skein of a lot (`onemore`), and what comes back (`leftover`)."""

from typing import Any

import click

from shopdesk.craft.errors import InputError
from shopdesk.craft.figures import Figure
from shopdesk.craft.messages import message
from shopdesk.services.leftovers import (
    BroughtBack,
    LengthUnknown,
    ReturnView,
    may_come_back,
    take_back,
    weigh_remnant,
)
from shopdesk.services.one_more import LotAvailability, OneMore, SkeinSought, find_one_more
from shopdesk.terminal.boundary import CommandFailed
from shopdesk.terminal.streams import print_json
from shopdesk.terminal.visiting import (
    branch_option,
    json_option,
    language_option,
    naming_options,
    staff_option,
    the_shop,
    where_document,
)
from shopdesk.wording.formatting import ReaderPreferences
from shopdesk.wording.translate import english, translate


@click.command()
@click.argument("sku", default="")
@click.option("--colour", default="", help="The colour's code on the band.")
@click.option("--lot", default="", help="The dye lot on the band.")
@click.option("--slip", type=int, help="The number of the customer's slip.")
@click.option("--barcode", help="The article number on the band.")
@branch_option
@language_option
@json_option
@click.pass_obj
def onemore(
    data: str | None, /, as_json: bool, language: str | None, branch: str, **band: Any
) -> None:
    """Find one more skein: by the band (SKU, --colour, --lot), a --slip or a --barcode."""
    sought = SkeinSought(**band, every_colour=True)
    with the_shop(data, branch) as shop:
        found = find_one_more(shop, sought).found
        reader = shop.settings().reader(language)
    if as_json:
        print_json({"found": [_document(one, reader) for one in found]})
        return
    for one in found:
        for line in _lines(one, reader):
            click.echo(line)


def _document(one: OneMore, reader: ReaderPreferences) -> dict[str, Any]:
    return {
        "sku": one.band.sku,
        "yarn": one.band.yarn,
        "colour": one.band.colour_code,
        "colour_name": one.band.colour,
        "lots": list(one.lots),
        "same_lot": [_place(place) for place in one.same],
        "other_lots": [_place(place) for place in one.other],
        "advice": [translate(each, reader) for each in one.advice],
    }


def _place(place: LotAvailability) -> dict[str, Any]:
    return {
        **where_document(place.where),
        "free": place.free,
        "held": place.held,
        "days_apart": place.days_apart,
    }


def _lines(one: OneMore, reader: ReaderPreferences) -> list[str]:
    lots = ", ".join(lot or "without a lot" for lot in one.lots)
    places = [(place, "same lot") for place in one.same] + [(p, "other lot") for p in one.other]
    return [
        f"{one.band.yarn} ({one.band.sku}), {one.band.colour}, lot {lots}",
        *(f"  {what}: {place.where}: {place.free} free, {place.held} on hold"
          for place, what in places),
        *(f"  {translate(each, reader)}" for each in one.advice),
    ]  # fmt: skip


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
        right = message("problem_terminal.name_leftover")
        raise InputError(message("problem_terminal.nothing_left_over"), right)


def _return(data: str | None, as_json: bool, asked: dict[str, Any]) -> None:
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


def _rule(view: ReturnView) -> str:
    if view.last_day is None:
        return "this shop takes nothing back"
    until = view.last_day.isoformat()
    return f"unopened skeins come back until {until}" + ("" if view.in_time else ": too late")


def _view_document(view: ReturnView) -> dict[str, Any]:
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


def _metres_document(metres: Figure) -> dict[str, Any]:
    return {
        "metres": round(metres.value, 1),
        "low": round(metres.low, 1),
        "high": round(metres.high, 1),
        "basis": metres.basis.value,
        "notes": [english(note) for note in metres.notes],
    }
