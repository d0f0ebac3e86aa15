"""`shopdesk export`: the shelf as a CSV file that `shopdesk import` takes back unchanged."""

import click


@click.command()
@click.argument("kind", type=click.Choice(["yarns", "colours", "stock"]))
@click.option("-o", "--output", default="-", help="A file; default: standard output.")
@click.pass_obj
def export(data: str | None, kind: str, output: str) -> None:
    """Write the shelf's yarns, colours or stock as CSV in UTF-8.

    A file begins with a byte order mark, which spreadsheet programs look for.
    """
    from shopdesk.services.table_files import export_table
    from shopdesk.terminal.output import output_file
    from shopdesk.terminal.visiting import the_shop

    with the_shop(data) as shop, output_file(output) as file:
        encoding = "utf-8" if output == "-" else "utf-8-sig"
        for line in export_table(shop, kind):
            file.write(line.encode(encoding))
            encoding = "utf-8"
