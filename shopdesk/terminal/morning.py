"""`shopdesk morning`: what to look at before the shop opens."""

from typing import TYPE_CHECKING, Any

import click

from shopdesk.terminal.visiting import hold_document, hold_line, json_option, where_document

if TYPE_CHECKING:
    from shopdesk.services.morning import Morning, NamedLot


@click.command()
@json_option
@click.pass_obj
def morning(data: str | None, as_json: bool) -> None:
    """List what to look at today: holds, slips without a swatch, unmet asks, last balls, bands.

    It also notes the holds that ran out, and removes names older than the setting allows.
    """
    from shopdesk.services.morning import morning_list
    from shopdesk.terminal.printing import print_json
    from shopdesk.terminal.visiting import the_shop

    with the_shop(data) as shop:
        found = morning_list(shop, tidy_first=True)
    if as_json:
        print_json(_document(found))
        return
    for line in _lines(found):
        click.echo(line)


def _document(found: "Morning") -> dict[str, Any]:
    from shopdesk.answering.label.check import label_document
    from shopdesk.wording.translate import english

    return {
        "day": found.day.isoformat(),
        "holds_that_end": [hold_document(one) for one in found.ending],
        "holds_that_ended": [hold_document(one) for one in found.ended],
        "more_put_by_than_there_is": [
            {**_named_document(one.lot), "on_hand": one.on_hand, "held": one.held}
            for one in found.over_promised
        ],
        "slips_without_a_swatch": [
            {"slip": one.number, "branch": one.branch, "made_on": one.made_on.isoformat()}
            for one in found.quiet_slips
        ],
        "unmet_since": found.week_begins.isoformat(),
        "unmet_by_category": [
            {"category": category, "weight": _category(category), "asks": asks}
            for category, asks in found.unmet
        ],
        "unmet_by_fibre": [{"fibre": name, "asks": asks} for name, asks in found.unmet_fibres],
        "last_balls": [_named_document(one) for one in found.last_balls],
        "bands_to_look_at": [label_document(one, english) for one in found.doubted],
    }


def _named_document(one: "NamedLot") -> dict[str, Any]:
    return {**where_document(one.where), "yarn": one.yarn, "colour_name": one.colour}


def _named(one: "NamedLot") -> str:
    return f"{one.yarn}, {one.colour} ({one.where})"


def _category(number: int | None) -> str:
    from shopdesk.craft.weights import category

    return "not known" if number is None else category(number).words


def _fibre(key: str) -> str:
    from shopdesk.wording.formatting import ReaderPreferences
    from shopdesk.wording.translate import term

    return term(f"terms.fibre.{key}", ReaderPreferences())


def _lines(found: "Morning") -> list[str]:
    lists = {**_hold_lines(found), **_other_lines(found), "Bands to look at": _bands(found)}
    return [
        line
        for heading, lines in lists.items()
        for line in (f"{heading} ({len(lines)})", *(f"  {one}" for one in lines))
    ]


def _hold_lines(found: "Morning") -> dict[str, list[str]]:
    from shopdesk.wording.translate import english

    return {
        "Holds that end today": [hold_line(one) for one in found.ending],
        "Holds that ended this week": [hold_line(one) for one in found.ended],
        "More on hold than there is": [
            f"{_named(one.lot)}: {english(one.message)}" for one in found.over_promised
        ],
    }


def _other_lines(found: "Morning") -> dict[str, list[str]]:
    week = found.week_begins.isoformat()
    return {
        "Ask about the swatch": [
            f"slip {one.number} of {one.made_on.isoformat()}: {one.yarn}"
            for one in found.quiet_slips
        ],
        f"Unmet asks since {week} by weight category": [
            f"{_category(category)}: {asks}" for category, asks in found.unmet
        ],
        f"Unmet asks since {week} by fibre": [
            f"{_fibre(key)}: {asks}" for key, asks in found.unmet_fibres
        ],
        "Down to the last ball": [_named(one) for one in found.last_balls],
    }


def _bands(found: "Morning") -> list[str]:
    from shopdesk.wording.translate import english

    return [
        f"{one.yarn.name} ({one.yarn.sku}): {english(one.findings[0].message)}"
        for one in found.doubted
    ]
