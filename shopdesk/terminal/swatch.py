"""`shopdesk swatch`: what a swatch that came back says, kept as evidence on the yarn."""

from collections.abc import Iterator
from dataclasses import dataclass
from functools import partial
from typing import Any

import click

from shopdesk.answering.swatch.swatch_reading import SwatchEntry
from shopdesk.answering.swatch.swatch_result import swatch_document
from shopdesk.craft.errors import InputError
from shopdesk.craft.messages import message
from shopdesk.craft.tools import SYSTEMS
from shopdesk.craft.yarn import Craft
from shopdesk.services.swatches import SwatchOf, SwatchRecord, SwatchReport, report_swatch
from shopdesk.terminal.streams import print_json
from shopdesk.terminal.visiting import (
    branch_option,
    json_option,
    language_option,
    naming_options,
    staff_option,
    the_shop,
)
from shopdesk.wording.formatting import ReaderPreferences
from shopdesk.wording.translate import translate

_GROUPS = (
    ("Gauge", ("gauge", "trust")),
    ("Next", ("advice",)),
    ("If they go on regardless", ("regardless",)),
    ("Sizes", ("other_size",)),
    ("Rows", ("rows",)),
)


@dataclass(frozen=True, slots=True)
class SwatchOptions:
    """What was written on the command line besides what was measured."""

    slip: int | None
    yarn: str | None
    crochet: bool
    knitter: bool
    from_shop: bool
    asked: bool
    dry_run: bool
    branch: str
    staff: str
    language: str | None
    as_json: bool


@click.command()
@click.argument("slip", type=int, required=False)
@click.option("--stitches", required=True, help="How many stitches were counted, such as 22 1/2.")
@click.option("--over", default="10 cm", show_default=True, help="Over which length.")
@click.option("--rows", default="", help="How many rows were counted.")
@click.option("--rows-over", default="", help="Over which length, if not the same.")
@click.option("--washed/--unwashed", default=None, help="Whether it was washed and dried.")
@click.option("--tool", default="", help="The needle or hook it was worked on.")
@click.option(
    "--tool-system",
    type=click.Choice(SYSTEMS),
    default="mm",
    show_default=True,
    help="What the tool's number means.",
)
@click.option("--width", default="", help="The swatch's width, such as '15 cm', if it is weighed.")
@click.option("--height", default="", help="The swatch's height, if it is weighed.")
@click.option("--mass", default="", help="What the swatch weighs, such as '6 g'.")
@click.option("--pattern", "stitch_pattern", default="", help="Its stitch pattern, if another.")
@click.option("--yarn", metavar="SKU", help="The yarn of a swatch without a slip.")
@click.option("--crochet", is_flag=True, help="A swatch without a slip is crocheted.")
@click.option("--knitter", is_flag=True, help="Ask for the knitter's name; optional.")
@click.option("--from-shop", is_flag=True, help="Staff made it, not a customer.")
@click.option("--asked", is_flag=True, help="The shop had asked how the swatch came out.")
@click.option("--dry-run", is_flag=True, help="Only say what it changes; keep nothing.")
@branch_option
@staff_option
@language_option
@json_option
@click.pass_obj
def swatch(data: str | None, /, **written: Any) -> None:
    """Say what a swatch changes for SLIP, and keep it as evidence on the yarn.

    Size, tool, other sizes, rows, yarn and firmness come out, each as sure as it is.
    """
    wanted = SwatchOptions(
        **{name: written.pop(name) for name in SwatchOptions.__dataclass_fields__}
    )
    with the_shop(data, wanted.branch) as shop, naming_options(stitch_pattern="--pattern"):
        record = report_swatch(shop, _report(wanted, written))
        reader = shop.settings().reader(wanted.language)
    _show(_document(record, reader), wanted)


def _report(wanted: SwatchOptions, written: dict[str, Any]) -> SwatchReport:
    of = _swatch_of(wanted)
    washed = {None: "", True: "yes", False: "no"}[written.pop("washed")]
    entry = SwatchEntry(**written, washed=washed, hand=_knitter() if wanted.knitter else "")
    return SwatchReport(
        of,
        entry,
        wanted.staff,
        not wanted.from_shop,
        keep=not wanted.dry_run,
        asked_for=wanted.asked,
    )


def _swatch_of(wanted: SwatchOptions) -> SwatchOf:
    if (wanted.slip is None) is (wanted.yarn is None):
        right = message("problem_terminal.give_swatch")
        raise InputError(message("problem_terminal.which_swatch"), right)
    craft = Craft.CROCHET if wanted.crochet else Craft.KNIT
    return SwatchOf(wanted.slip, wanted.yarn or "", craft)


def _knitter() -> str:
    """Asks for the name, so that it stands in no command line."""
    return str(click.prompt("Knitter", default="", show_default=False, err=True))


def _document(record: SwatchRecord, reader: ReaderPreferences) -> dict[str, Any]:
    subject, words = record.subject, partial(translate, reader=reader)
    kept = {"swatch": record.number, "slip": subject.slip_number, "sku": subject.sku}
    return {**kept, **swatch_document(record.event.swatch, record.result, words)}


def _show(document: dict[str, Any], wanted: SwatchOptions) -> None:
    if wanted.as_json:
        print_json(document)
        return
    for line in _lines(document):
        click.echo(line)


def _lines(document: dict[str, Any]) -> Iterator[str]:
    """Yields the lines; groups without a sentence are left out."""
    kept = document["swatch"]
    yield f"swatch {kept}, kept" if kept else "looked at, not kept"
    for heading, names in _GROUPS:
        yield from _group(heading, [text for name in names for text in _texts(document[name])])
    yield from _group("Yarn, for the same finished size", list(_yarn(document)))
    weighed, firmness = document["weighed"], document["firmness"]
    if weighed is not None:
        yield from _group("By the scale", list(_texts(weighed["said"])))
    if firmness is not None:
        yield from _group("Fabric", list(_texts(firmness["said"])))
    yield from _group("The yarn's own gauge", list(_own_gauge(document["own_gauge"])))


def _group(heading: str, texts: list[str]) -> Iterator[str]:
    if texts:
        yield f"{heading}:"
        yield from (f"  {text}" for text in texts)


def _texts(said: Any) -> Iterator[str]:
    if isinstance(said, dict):
        yield str(said["text"])
    for one in said if isinstance(said, list) else ():
        yield str(one["text"])


def _yarn(document: dict[str, Any]) -> Iterator[str]:
    for part in document["parts"]:
        name = f"{part['part']}: " if len(document["parts"]) > 1 and part["part"] else ""
        yield name + part["said"]["text"]


def _own_gauge(own: dict[str, Any]) -> Iterator[str]:
    for when, figure in (("without this swatch", own["before"]), ("with it", own["after"])):
        if figure is not None:
            yield (
                f"{when}: {figure['value']:.1f} stitches to 10 cm "
                f"({figure['low']:.1f} to {figure['high']:.1f}), by {figure['basis']}"
            )
    if own["after"] is not None:
        yield from _texts(own["after"]["notes"])
