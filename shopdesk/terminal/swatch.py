"""`shopdesk swatch`: what a swatch that came back says, kept as evidence on the yarn."""

from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

import click

from shopdesk.terminal.boundary import BadUsage
from shopdesk.terminal.options import language_option
from shopdesk.terminal.visiting import branch_option, json_option, staff_option

if TYPE_CHECKING:
    from sqlalchemy.orm import Session

    from shopdesk.services.swatches import SwatchEvent, SwatchSubject


@dataclass(frozen=True, slots=True)
class Options:
    """What was written on the command line besides what was measured."""

    slip: int | None
    yarn: str | None
    crochet: bool
    knitter: bool
    from_shop: bool
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
    type=click.Choice(["mm", "US", "UK"]),
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
    from shopdesk.terminal.visiting import shop_to_read, shop_to_write

    wanted = Options(**{name: written.pop(name) for name in Options.__dataclass_fields__})
    shop = shop_to_read if wanted.dry_run else shop_to_write
    with shop(data) as session:
        subject = _subject(session, wanted)
        event = _event(subject, wanted, written)
        document = _told(session, subject, event, wanted)
    _show(document, wanted)


def _subject(session: "Session", wanted: Options) -> "SwatchSubject":
    from shopdesk.craft.yarn import Craft
    from shopdesk.services.swatches import subject_of_slip, subject_of_yarn

    if (wanted.slip is None) is (wanted.yarn is None):
        raise BadUsage("which swatch is it? give the number of its SLIP, or --yarn with its SKU")
    if wanted.slip is not None:
        return subject_of_slip(session, wanted.slip, wanted.branch)
    craft = Craft.CROCHET if wanted.crochet else Craft.KNIT
    return subject_of_yarn(session, str(wanted.yarn), craft)


def _event(subject: "SwatchSubject", wanted: Options, written: dict[str, Any]) -> "SwatchEvent":
    from datetime import datetime

    from shopdesk.answering.swatch.swatch_reading import SwatchEntry, read_swatch
    from shopdesk.craft.errors import InputError
    from shopdesk.services.swatches import SwatchEvent

    washed = {None: "", True: "yes", False: "no"}[written.pop("washed")]
    hand = _knitter() if wanted.knitter else ""
    try:
        entry = SwatchEntry(**written, washed=washed, hand=hand)
        measured = read_swatch(entry, subject.craft, subject.usual_pattern)
    except InputError as refusal:
        lines = [f"--{p.place.replace('_', '-')}: {p.wrong}; {p.right}" for p in refusal.problems]
        raise BadUsage("\n".join(lines).replace("--stitch-pattern", "--pattern")) from None
    today = datetime.now().astimezone().date()
    return SwatchEvent(measured, today, wanted.staff, from_customer=not wanted.from_shop)


def _knitter() -> str:
    """Asks for the name, so that it stands in no command line."""
    return str(click.prompt("Knitter", default="", show_default=False, err=True))


def _told(
    session: "Session", subject: "SwatchSubject", event: "SwatchEvent", wanted: Options
) -> dict[str, Any]:
    from functools import partial

    from shopdesk.answering.swatch.swatch_result import swatch_document
    from shopdesk.services.swatches import keep_swatch, looked_at
    from shopdesk.store.settings import load_settings
    from shopdesk.wording.translate import translate

    result = looked_at(session, subject, event)
    number = None if wanted.dry_run else keep_swatch(session, subject, event)
    reader = load_settings(session).reader(wanted.language)
    words = partial(translate, reader=reader)
    kept = {"swatch": number, "slip": subject.slip_number, "sku": subject.sku}
    return {**kept, **swatch_document(event.swatch, result, words)}


def _show(document: dict[str, Any], wanted: Options) -> None:
    from shopdesk.terminal.printing import print_json
    from shopdesk.terminal.swatch_lines import swatch_lines

    if wanted.as_json:
        print_json(document)
        return
    for line in swatch_lines(document):
        click.echo(line)
