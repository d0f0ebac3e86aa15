"""`shopdesk branch`: the house's branches."""

import click

from shopdesk.terminal.visiting import json_option


@click.command()
@click.argument("code", required=False)
@click.option("--name", default="", help="What people call the new branch.")
@json_option
@click.pass_obj
def branch(data: str | None, code: str | None, name: str, as_json: bool) -> None:
    """Add the branch CODE; without CODE, only list the branches."""
    from shopdesk.services.branches import add_branch, list_branches
    from shopdesk.terminal.printing import print_json
    from shopdesk.terminal.visiting import the_shop

    with the_shop(data) as shop:
        if code is not None:
            add_branch(shop, code, name)
        found = list_branches(shop)
    if as_json:
        print_json({"branches": [{"code": one.code, "name": one.name} for one in found]})
        return
    for one in found:
        click.echo(f"{one.code:20} {one.name}".rstrip())
