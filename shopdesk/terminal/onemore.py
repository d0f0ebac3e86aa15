"""`shopdesk onemore`: where one more skein of a lot is to be had, and how to blend another in."""

from typing import TYPE_CHECKING, Any

import click

from shopdesk.terminal.boundary import BadUsage
from shopdesk.terminal.options import language_option
from shopdesk.terminal.visiting import branch_option, json_option, where_document

if TYPE_CHECKING:
    from sqlalchemy.orm import Session

    from shopdesk.services.one_more import LotAvailability, OneMore
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
    from shopdesk.store.settings import load_settings
    from shopdesk.terminal.printing import print_json
    from shopdesk.terminal.visiting import shop_to_read

    with shop_to_read(data) as session:
        found = _found(session, branch, **band)
        reader = load_settings(session).reader(language)
    if as_json:
        print_json({"found": [_document(one, reader) for one in found]})
        return
    for one in found:
        for line in _lines(one, reader):
            click.echo(line)


def _found(
    session: "Session",
    branch: str,
    sku: str | None,
    colour: str | None,
    lot: str,
    slip: int | None,
    barcode: str | None,
) -> "tuple[OneMore, ...]":
    from shopdesk.services.one_more import by_band, by_barcode, by_slip

    if slip is not None:
        return by_slip(session, slip, branch)
    if barcode is not None:
        bands = by_barcode(session, barcode)
        return tuple(by_band(session, one.sku, one.colour_code, lot, branch) for one in bands)
    if sku is None or colour is None:
        raise BadUsage("no yarn is named; give SKU, --colour and --lot, or --slip, or --barcode")
    return (by_band(session, sku, colour, lot, branch),)


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
