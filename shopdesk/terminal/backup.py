"""`shopdesk backup`: one more copy of the whole shop, made while it is served."""

from pathlib import Path

import click


@click.command()
@click.option(
    "-o",
    "--output",
    type=click.Path(path_type=Path),
    help="A new file, or a folder. Default: the data folder's backups.",
)
@click.pass_obj
def backup(data: str | None, output: Path | None) -> None:
    """Copy the shop's database to a new file, check the copy, and print where it is.

    It may be done while the counter is served.
    """
    from shopdesk.shop.location import find_place
    from shopdesk.upkeep.backup import back_up

    click.echo(back_up(find_place(data), output))
