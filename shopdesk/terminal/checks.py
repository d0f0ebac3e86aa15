"""What to look at: before the shop opens (`morning`), at the bands and at the stock (`check`)."""

from collections.abc import Sequence
from typing import Any

import click

from shopdesk.answering.label.check import CheckedLabel, label_document
from shopdesk.craft.messages import message
from shopdesk.craft.weights import category
from shopdesk.services.labels import check_shelf, check_stock, check_yarn
from shopdesk.services.morning import Morning, NamedLot, morning_list
from shopdesk.shelf.loading import YarnUnknown
from shopdesk.shelf.stock import Discrepancy
from shopdesk.shop.shop import Shop
from shopdesk.terminal.holds import hold_document, hold_line
from shopdesk.terminal.streams import print_json
from shopdesk.terminal.visiting import (
    json_option,
    language_option,
    option_refused,
    the_shop,
    where_document,
)
from shopdesk.wording.formatting import ReaderPreferences
from shopdesk.wording.translate import english, term, translate


@click.command()
@json_option
@click.pass_obj
def morning(data: str | None, as_json: bool) -> None:
    """List what to look at today: holds, slips without a swatch, unmet asks, last balls, bands.

    It also notes the holds that ran out, and removes names older than the setting allows.
    """
    with the_shop(data) as shop:
        found = morning_list(shop, tidy_first=True)
    if as_json:
        print_json(_document(found))
        return
    for line in _lines(found):
        click.echo(line)


def _document(found: Morning) -> dict[str, Any]:
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


def _named_document(one: NamedLot) -> dict[str, Any]:
    return {**where_document(one.where), "yarn": one.yarn, "colour_name": one.colour}


def _named(one: NamedLot) -> str:
    return f"{one.yarn}, {one.colour} ({one.where})"


def _category(number: int | None) -> str:
    return "not known" if number is None else category(number).words


def _fibre(key: str) -> str:
    return term(f"terms.fibre.{key}", ReaderPreferences())


def _lines(found: Morning) -> list[str]:
    lists = {**_hold_lines(found), **_other_lines(found), "Bands to look at": _bands(found)}
    return [
        line
        for heading, lines in lists.items()
        for line in (f"{heading} ({len(lines)})", *(f"  {one}" for one in lines))
    ]


def _hold_lines(found: Morning) -> dict[str, list[str]]:
    return {
        "Holds that end today": [hold_line(one) for one in found.ending],
        "Holds that ended this week": [hold_line(one) for one in found.ended],
        "More on hold than there is": [
            f"{_named(one.lot)}: {english(one.message)}" for one in found.over_promised
        ],
    }


def _other_lines(found: Morning) -> dict[str, list[str]]:
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


def _bands(found: Morning) -> list[str]:
    return [
        f"{one.yarn.name} ({one.yarn.sku}): {english(one.findings[0].message)}"
        for one in found.doubted
    ]


@click.command()
@click.option("--yarn", metavar="SKU", help="Check this one yarn. Default: the whole shelf.")
@click.option("--stock", is_flag=True, help="Check that all stock is the sum of its movements.")
@click.option("--json", "as_json", is_flag=True, help="Print JSON.")
@language_option
@click.pass_context
def check(
    ctx: click.Context, yarn: str | None, stock: bool, as_json: bool, language: str | None
) -> None:
    """Check the labels: what the bands say against all the evidence, the worst first.

    Each yarn's lines say what does not go together and what to measure next. With --stock the
    movements are added up instead. The exit code is 1 if a band is contradicted or a stock is
    not the sum of its movements, 2 if there is no such yarn.
    """
    with the_shop(ctx.obj) as shop:
        if stock:
            _stock(ctx, shop, as_json)
            return
        reader = shop.settings().reader(language)
        checked = _checked(shop, yarn)
    if as_json:
        _print_json(checked, reader)
    else:
        _print_lines(checked, reader)
    if any(one.contradicted for one in checked):
        ctx.exit(1)


def _checked(shop: Shop, sku: str | None) -> Sequence[CheckedLabel]:
    if sku is None:
        return check_shelf(shop)
    try:
        return (check_yarn(shop, sku),)
    except YarnUnknown as unknown:
        right = message("problem_terminal.find_by_name")
        raise option_refused("--yarn", unknown.problem.wrong, right) from None


def _print_json(checked: Sequence[CheckedLabel], reader: ReaderPreferences) -> None:
    print_json({"yarns": [label_document(one, lambda s: translate(s, reader)) for one in checked]})


def _print_lines(checked: Sequence[CheckedLabel], reader: ReaderPreferences) -> None:
    for one in checked:
        if not one.findings:
            continue
        click.echo(f"{one.yarn.sku}  {one.yarn.name}")
        for finding in one.findings:
            click.echo(f"  - {translate(finding.message, reader)}")
        for step in one.measure:
            click.echo(f"  > {translate(step.message, reader)}")
    wrong, clean = sum(o.contradicted for o in checked), sum(not o.findings for o in checked)
    click.echo(f"{len(checked)} checked: {wrong} contradicted, {clean} with nothing to say.")


def _stock(ctx: click.Context, shop: Shop, as_json: bool) -> None:
    found = check_stock(shop)
    if as_json:
        print_json({"discrepancies": [_discrepancy(one) for one in found]})
    else:
        for one in found:
            click.echo(f"{one.where}: {one.on_hand} on hand, the movements make {one.moved}")
        click.echo(
            f"{len(found)} lots do not add up."
            if found
            else "Every stock is the sum of its movements."
        )
    if found:
        ctx.exit(1)


def _discrepancy(one: Discrepancy) -> dict[str, object]:
    return {
        "sku": one.where.sku,
        "colour": one.where.colour_code,
        "lot": one.where.lot,
        "branch": one.where.branch,
        "on_hand": one.on_hand,
        "moved": one.moved,
    }
