"""`shopdesk release`: gives back what was put by."""

import click

from shopdesk.terminal.visiting import json_option, staff_option


@click.command()
@click.argument("hold", type=int)
@staff_option
@json_option
@click.pass_obj
def release(data: str | None, hold: int, staff: str, as_json: bool) -> None:
    """Give back to the shelf what is put by. Doing it twice changes nothing."""
    from shopdesk.services.holds import release as release_hold
    from shopdesk.terminal.visiting import shop_to_write, show_holds

    with shop_to_write(data) as session:
        done = release_hold(session, hold, staff)
    show_holds((done,), as_json)
