"""`shopdesk onemore`: where one more skein of a lot is to be had, and how to blend another in."""

from typing import TYPE_CHECKING, Any

import click

from shopdesk.terminal.boundary import BadUsage
from shopdesk.terminal.options import language_option
from shopdesk.terminal.visiting import branch_option, json_option, the_shop, where_document

if TYPE_CHECKING:
    from shopdesk.services.one_more import LotAvailability, OneMore, SkeinSought
    from shopdesk.wording.formatting import ReaderPreferences


@click.command()
@click.argument("sku", required=False)
@click.option("--colour", help="The colour's code on the band.")
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
    from shopdesk.services.one_more import find_one_more
    from shopdesk.terminal.printing import print_json

    sought = _sought(**band)
    with the_shop(data, branch) as shop:
        found = find_one_more(shop, sought).found
        reader = shop.settings().reader(language)
    if as_json:
        print_json({"found": [_document(one, reader) for one in found]})
        return
    for one in found:
        for line in _lines(one, reader):
            click.echo(line)


def _sought(
    sku: str | None, colour: str | None, lot: str, slip: int | None, barcode: str | None
) -> "SkeinSought":
    from shopdesk.services.one_more import SkeinSought

    if slip is None and barcode is None and (sku is None or colour is None):
        raise BadUsage("no yarn is named; give SKU, --colour and --lot, or --slip, or --barcode")
    return SkeinSought(slip, barcode, sku or "", colour or "", lot, every_colour=True)


def _document(one: "OneMore", reader: "ReaderPreferences") -> dict[str, Any]:
    from shopdesk.wording.translate import translate

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


def _place(place: "LotAvailability") -> dict[str, Any]:
    return {
        **where_document(place.where),
        "free": place.free,
        "held": place.held,
        "days_apart": place.days_apart,
    }


def _lines(one: "OneMore", reader: "ReaderPreferences") -> list[str]:
    from shopdesk.wording.translate import translate

    lots = ", ".join(lot or "without a lot" for lot in one.lots)
    places = [(place, "same lot") for place in one.same] + [(p, "other lot") for p in one.other]
    return [
        f"{one.band.yarn} ({one.band.sku}), {one.band.colour}, lot {lots}",
        *(f"  {what}: {place.where}: {place.free} free, {place.held} on hold"
          for place, what in places),
        *(f"  {translate(each, reader)}" for each in one.advice),
    ]  # fmt: skip
