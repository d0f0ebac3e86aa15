"""`shopdesk morning`: what to look at before the shop opens."""

from typing import TYPE_CHECKING, Any

import click

from shopdesk.terminal.visiting import hold_document, hold_line, json_option, where_document

if TYPE_CHECKING:
    from shopdesk.visits.morning import Morning


@click.command()
@json_option
@click.pass_obj
def morning(data: str | None, as_json: bool) -> None:
    """List what to look at today: holds, slips without a swatch, unmet asks, last balls.

    It also notes the holds that ran out, and removes names older than the setting allows.
    """
    from shopdesk.shelf.opening import opened_shop
    from shopdesk.shelf.place import find_place
    from shopdesk.terminal.printing import print_json
    from shopdesk.terminal.visiting import shop_to_read
    from shopdesk.visits.morning import morning as morning_of
    from shopdesk.visits.tidying import tidy

    with opened_shop(find_place(data)) as engine:
        tidy(engine)
    with shop_to_read(data) as session:
        found = morning_of(session)
    if as_json:
        print_json(_document(found))
        return
    for line in _lines(found):
        click.echo(line)


def _document(found: "Morning") -> dict[str, Any]:
    return {
        "day": found.day.isoformat(),
        "holds_that_end": [hold_document(one) for one in found.ending],
        "holds_that_ended": [hold_document(one) for one in found.ended],
        "more_put_by_than_there_is": [
            {**where_document(one.where), "on_hand": one.on_hand, "held": one.held}
            for one in found.over_promised
        ],
        "slips_without_a_swatch": [
            {"slip": one.number, "branch": one.branch, "made_on": one.made_on.isoformat()}
            for one in found.quiet_slips
        ],
        "unmet_since": found.week_begins.isoformat(),
        "unmet_by_category": [
            {"category": category, "asks": asks} for category, asks in found.unmet
        ],
        "unmet_by_fibre": [{"fibre": name, "asks": asks} for name, asks in found.unmet_fibres],
        "last_balls": [where_document(where) for where in found.last_balls],
    }


def _lines(found: "Morning") -> list[str]:
    week = found.week_begins.isoformat()
    lists = {
        "Holds that end today": [hold_line(one) for one in found.ending],
        "Holds that ended this week": [hold_line(one) for one in found.ended],
        "More put by than there is": [
            f"{one.where}: {one.held} put by, {one.on_hand} on the shelf"
            for one in found.over_promised
        ],
        "Ask about the swatch": [
            f"slip {one.number} of {one.made_on.isoformat()}: {one.yarn}"
            for one in found.quiet_slips
        ],
        f"Unmet asks since {week} by weight category": [
            f"{'not known' if category is None else category}: {asks}"
            for category, asks in found.unmet
        ],
        f"Unmet asks since {week} by fibre": [f"{n}: {asks}" for n, asks in found.unmet_fibres],
        "Down to the last ball": [str(where) for where in found.last_balls],
    }
    return [
        line
        for heading, lines in lists.items()
        for line in (f"{heading} ({len(lines)})", *(f"  {one}" for one in lines))
    ]
