"""`shopdesk restore`: a backup in the place of the shop's database, checked before it replaces."""

from pathlib import Path

import click


@click.command()
@click.argument("backup", type=click.Path(path_type=Path))
@click.pass_obj
def restore(data: str | None, backup: Path) -> None:
    """Put the copy in the file BACKUP in the place of the shop's database.

    The copy is checked and brought up to date first; the former database is kept beside it. End
    `shopdesk serve` before.
    """
    from shopdesk.shop.location import find_place
    from shopdesk.upkeep.backup import restore as put_back

    done = put_back(find_place(data), backup)
    click.echo(f"Restored: {done.database}")
    if done.put_aside is not None:
        click.echo(f"The former database is kept as {done.put_aside}")
