"""The shelf as files: taken in (`import`) and written (`export`)."""

import sys
import time
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from tempfile import TemporaryDirectory

import click

from shopdesk.craft.errors import InputError
from shopdesk.exchange.importing import LinesRefused, Progress, Source
from shopdesk.exchange.lines import FileDefaults
from shopdesk.exchange.reports import Report
from shopdesk.exchange.undoing import UndoRefused
from shopdesk.services.table_files import export_table, look_at_table, take_in_table, undo_import
from shopdesk.terminal.boundary import BadUsage, CommandFailed
from shopdesk.terminal.streams import output_file, print_json, read_file
from shopdesk.terminal.visiting import the_shop
from shopdesk.wording.formatting import ReaderPreferences
from shopdesk.wording.translate import told

MOST_BYTES = 400_000_000
MOST_LISTED = 40
SECONDS_BETWEEN = 0.5


@click.command("import")
@click.argument("file", required=False)
@click.option(
    "--kind",
    type=click.Choice(["yarns", "colours", "stock", "deliveries"]),
    help="What the lines of the file are.",
)
@click.option(
    "--map",
    "mapped",
    multiple=True,
    metavar="HEADING=FIELD",
    help="What a column of your own heading holds; nothing behind '=' leaves it out. "
    "It is remembered once the file is applied.",
)
@click.option("--branch", default="main", show_default=True, help="The branch of lines without.")
@click.option("--delivery", default="", help="The delivery note's number of lines without one.")
@click.option("--apply", "applies", is_flag=True, help="Take the file in; else it is looked at.")
@click.option("--without-refused", is_flag=True, help="Apply all lines but those refused.")
@click.option("--undo", "undoes", is_flag=True, help="Undo the latest import.")
@click.option("--json", "as_json", is_flag=True, help="Print the report as JSON.")
@click.pass_obj
def import_(
    data: str | None,
    file: str | None,
    kind: str | None,
    mapped: tuple[str, ...],
    branch: str,
    delivery: str,
    applies: bool,
    without_refused: bool,
    undoes: bool,
    as_json: bool,
) -> None:
    """Look at the table in FILE (CSV or .xlsx; '-': standard input) against the shelf.

    Nothing is changed without --apply, which takes all lines or none. Exit code 1: lines were
    refused, or the import cannot be undone. Exit code 2: the file or an option cannot be read.
    """
    if undoes:
        _undo(data, as_json)
        return
    if file is None or kind is None:
        raise BadUsage("give FILE and --kind, or --undo")
    with _on_disk(file) as path:
        name = "standard input" if file == "-" else path.name
        source = Source(path, name, kind, _said(mapped), FileDefaults(branch, delivery.strip()))
        report = _report(data, source, applies, without_refused)
    if as_json:
        print_json(report.document())
    else:
        _print(report)
    if report.refused and not (applies and without_refused):
        raise CommandFailed(_of_refused(report, applies))


def _said(mapped: tuple[str, ...]) -> dict[str, str]:
    said = {}
    for pair in mapped:
        heading, sign, key = pair.rpartition("=")
        if not sign or not heading.strip():
            raise BadUsage(f"--map '{pair}': write HEADING=FIELD, such as Artikel=sku")
        said[heading] = key.strip()
    return said


@contextmanager
def _on_disk(file: str) -> Iterator[Path]:
    """Gives the file's path; standard input is put into a temporary one first."""
    if file != "-":
        path = Path(file)
        if path.is_dir():
            raise BadUsage(f"{file} is a folder; give a file")
        read_file(file, 1)
        if path.stat().st_size > MOST_BYTES:
            raise BadUsage(f"{file} is larger than {MOST_BYTES:,} bytes; part it into several")
        yield path
        return
    with TemporaryDirectory() as folder:
        path = Path(folder) / "input"
        path.write_bytes(read_file("-", MOST_BYTES))
        yield path


def _report(data: str | None, source: Source, applies: bool, without: bool) -> Report:
    with the_shop(data) as shop, _progress() as progress:
        try:
            if not applies:
                return look_at_table(shop, source, progress)
            return take_in_table(shop, source, without_refused=without, progress=progress)
        except LinesRefused as refused:
            return refused.report
        except InputError as refusal:
            raise BadUsage(f"{source.name}: {told(refusal, ReaderPreferences())}") from None


@contextmanager
def _progress() -> Iterator[Progress | None]:
    """Shows how far the work is on a terminal; elsewhere nothing."""
    if not sys.stderr.isatty():
        yield None
        return
    shown = time.monotonic()

    def show(done: int, lines: int) -> None:
        nonlocal shown
        if time.monotonic() - shown > SECONDS_BETWEEN:
            shown = time.monotonic()
            click.echo(f"\rline {done:,} of about {max(lines, done):,} ", nl=False, err=True)

    yield show
    click.echo("\r\033[K", nl=False, err=True)


def _print(report: Report) -> None:
    click.echo(f"{report.file_name}: {report.read_as}")
    unused = [heading for heading, key in report.columns if key is None and heading.strip()]
    if unused:
        click.echo(f"Left out: {', '.join(unused)}")
    for change in report.changes[:MOST_LISTED]:
        fields = "; ".join(
            f"{name}: {old or '-'} -> {new or '-'}" for name, old, new in change.fields
        )
        sign = "new" if change.new else "changed"
        click.echo(f"  line {change.line}, {sign}: {change.what}; {fields}")
    if report.new + report.changed > MOST_LISTED:
        click.echo(f"  and {report.new + report.changed - MOST_LISTED} more")
    for refusal in report.refusals[:MOST_LISTED]:
        click.echo(f"  refused, {refusal}")
    if report.refused > MOST_LISTED:
        click.echo(f"  and {report.refused - MOST_LISTED} more lines refused")
    click.echo(
        f"{report.new} new, {report.changed} changed, {report.unchanged} unchanged, "
        f"{report.refused} refused"
    )


def _of_refused(report: Report, applies: bool) -> str:
    lines = "1 line is" if report.refused == 1 else f"{report.refused} lines are"
    if not applies:
        return f"{lines} refused"
    return f"{lines} refused, so nothing was imported; correct them, or add --without-refused"


def _undo(data: str | None, as_json: bool) -> None:
    with the_shop(data) as shop:
        try:
            done = undo_import(shop)
        except UndoRefused as refusal:
            raise CommandFailed(told(refusal, ReaderPreferences())) from None
    if as_json:
        print_json({"undone": done.number, "kind": done.kind, "file": done.file_name})
    else:
        click.echo(f"Undone: import {done.number} of {done.kind} from {done.file_name}")


@click.command()
@click.argument("kind", type=click.Choice(["yarns", "colours", "stock"]))
@click.option("-o", "--output", default="-", help="A file; default: standard output.")
@click.pass_obj
def export(data: str | None, kind: str, output: str) -> None:
    """Write the shelf's yarns, colours or stock as CSV in UTF-8.

    A file begins with a byte order mark, which spreadsheet programs look for.
    """
    with the_shop(data) as shop, output_file(output) as file:
        encoding = "utf-8" if output == "-" else "utf-8-sig"
        for line in export_table(shop, kind):
            file.write(line.encode(encoding))
            encoding = "utf-8"
