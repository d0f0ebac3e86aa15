"""`shopdesk check`: what the bands say against the evidence, and whether the stock adds up."""

from typing import TYPE_CHECKING

import click

from shopdesk.terminal.options import language_option
from shopdesk.terminal.printing import print_json

if TYPE_CHECKING:
    from collections.abc import Sequence

    from shopdesk.answering.label.check import CheckedLabel
    from shopdesk.shelf.stock import Discrepancy
    from shopdesk.shop.shop import Shop
    from shopdesk.wording.formatting import ReaderPreferences


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
    from shopdesk.terminal.visiting import the_shop

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


def _checked(shop: "Shop", sku: str | None) -> "Sequence[CheckedLabel]":
    from shopdesk.services.labels import check_shelf, check_yarn
    from shopdesk.shelf.loading import YarnUnknown
    from shopdesk.terminal.boundary import BadUsage
    from shopdesk.terminal.shelf import FIND_BY_NAME

    if sku is None:
        return check_shelf(shop)
    try:
        return (check_yarn(shop, sku),)
    except YarnUnknown as unknown:
        raise BadUsage(f"--yarn: {unknown.wrong}; {FIND_BY_NAME}") from None


def _print_json(checked: "Sequence[CheckedLabel]", reader: "ReaderPreferences") -> None:
    from shopdesk.answering.label.check import label_document
    from shopdesk.wording.translate import translate

    print_json({"yarns": [label_document(one, lambda s: translate(s, reader)) for one in checked]})


def _print_lines(checked: "Sequence[CheckedLabel]", reader: "ReaderPreferences") -> None:
    from shopdesk.wording.translate import translate

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


def _stock(ctx: click.Context, shop: "Shop", as_json: bool) -> None:
    from shopdesk.services.labels import check_stock

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


def _discrepancy(one: "Discrepancy") -> dict[str, object]:
    return {
        "sku": one.where.sku,
        "colour": one.where.colour_code,
        "lot": one.where.lot,
        "branch": one.where.branch,
        "on_hand": one.on_hand,
        "moved": one.moved,
    }
