"""`shopdesk collect`: sells what was put by."""

import click

from shopdesk.terminal.visiting import json_option, staff_option


@click.command()
@click.argument("hold", type=int)
@staff_option
@json_option
@click.pass_obj
def collect(data: str | None, hold: int, staff: str, as_json: bool) -> None:
    """Sell what is put by, with a movement of the stock. Doing it twice changes nothing."""
    from shopdesk.terminal.visiting import shop_to_write, show_holds
    from shopdesk.visits.holds import collect as collect_hold

    with shop_to_write(data) as session:
        done = collect_hold(session, hold, staff)
    show_holds((done,), as_json)
