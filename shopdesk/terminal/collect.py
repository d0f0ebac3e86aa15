"""`shopdesk collect`: sells what was on hold."""

from typing import Any

import click

from shopdesk.terminal.boundary import BadUsage
from shopdesk.terminal.visiting import json_option, staff_option


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
    from shopdesk.services.holds import PartCollected, collect_hold, collect_part
    from shopdesk.terminal.visiting import show_holds, the_shop

    with the_shop(data) as shop:
        if skeins is None:
            done = collect_hold(shop, hold, staff)
        else:
            part = PartCollected(skeins, options["release_rest"], staff)
            done = collect_part(shop, hold, part)
    show_holds((done,), options["as_json"])
