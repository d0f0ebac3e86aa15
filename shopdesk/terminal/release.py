"""`shopdesk release`: gives back what was on hold."""

import click

from shopdesk.terminal.visiting import json_option, staff_option


@click.command()
@click.argument("hold", type=int)
@staff_option
@json_option
@click.pass_obj
def release(data: str | None, hold: int, staff: str, as_json: bool) -> None:
    """Give back to the shelf what is on hold. Doing it twice changes nothing."""
    from shopdesk.services.holds import release_hold
    from shopdesk.terminal.visiting import show_holds, the_shop

    with the_shop(data) as shop:
        done = release_hold(shop, hold, staff)
    show_holds((done,), as_json)
