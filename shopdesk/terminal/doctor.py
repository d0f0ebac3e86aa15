"""`shopdesk doctor`: what a shop should look at before it calls for help."""

import click

from shopdesk.terminal.boundary import CommandFailed


@click.command()
@click.pass_obj
def doctor(data: str | None) -> None:
    """Look at versions, database, disk, backups, fonts and clock; exit 1 if one is not well."""
    from shopdesk.shop.location import find_place
    from shopdesk.upkeep.doctor import check_up

    ill = 0
    for finding in check_up(find_place(data)):
        ill += not finding.well
        click.echo(f"{'ok  ' if finding.well else 'LOOK'}  {finding.what + ':':14} {finding.seen}")
    if ill:
        raise CommandFailed(f"{ill} of these {'needs' if ill == 1 else 'need'} attention")
