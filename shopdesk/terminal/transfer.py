"""`shopdesk transfer`: skeins from one branch to another."""

import click

from shopdesk.terminal.visiting import json_option, staff_option


@click.command()
@click.argument("sku")
@click.option("--colour", required=True, help="The colour's code.")
@click.option("--lot", help="The dye lot; left out for a yarn without lots.")
@click.option("--skeins", type=int, required=True, help="How many skeins.")
@click.option("--from", "origin", default="main", show_default=True, help="The branch they leave.")
@click.option("--to", "target", required=True, help="The branch they go to.")
@staff_option
@json_option
@click.pass_obj
def transfer(
    data: str | None, /, sku: str, colour: str, lot: str | None, skeins: int, origin: str,
    target: str, staff: str, as_json: bool,
) -> None:  # fmt: skip
    """Move skeins that are free to another branch; what is on hold stays."""
    from shopdesk.services.branches import Transfer, transfer_skeins
    from shopdesk.shelf.branch_lots import LotAtBranch
    from shopdesk.terminal.printing import print_json
    from shopdesk.terminal.visiting import the_shop, where_document

    where = LotAtBranch(sku, colour, lot, origin)
    with the_shop(data) as shop:
        free = transfer_skeins(shop, Transfer(where, target, skeins, staff))
    if as_json:
        print_json({**where_document(where), "free": free, "sent": skeins, "to": target})
        return
    click.echo(f"{skeins} x {where} sent to {target}; {free} are free here")
