"""`shopdesk extend`: skeins held until another day."""

import click

from shopdesk.terminal.visiting import json_option, staff_option


@click.command()
@click.argument("hold", type=int)
@click.option("--until", metavar="DAY", required=True, help="The new last day, as 2026-12-09.")
@staff_option
@json_option
@click.pass_obj
def extend(data: str | None, hold: int, until: str, staff: str, as_json: bool) -> None:
    """Hold the skeins until another day; also after they ran out, while they are still free."""
    from shopdesk.services.holds import extend_hold
    from shopdesk.terminal.visiting import day_written, show_holds, the_shop

    day = day_written(until, "--until")
    assert day is not None
    with the_shop(data) as shop:
        done = extend_hold(shop, hold, day, staff)
    show_holds((done,), as_json)
