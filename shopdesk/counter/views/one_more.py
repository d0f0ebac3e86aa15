"""One more skein of a lot: where it is, and how another lot is blended in."""

from flask import Blueprint, render_template, request
from sqlalchemy.orm import Session

from shopdesk.counter.forms.one_more_form import OneMoreForm
from shopdesk.counter.request import asked_branch, engine, own_branch
from shopdesk.craft.errors import InputError
from shopdesk.parsing.gtins import GtinRefused
from shopdesk.services.one_more import (
    BandColour,
    BandUnknown,
    OneMore,
    by_band,
    by_barcode,
    by_slip,
    colours_of,
)
from shopdesk.services.sales import SlipUnknown
from shopdesk.store.database import reading

pages = Blueprint("one_more", __name__)

FEWEST_BARCODE_DIGITS = 8
MOST_LETTERS = 60


@pages.get("/one-more")
def one_more() -> str | tuple[str, int]:
    """Shows the form, and what was found for it."""
    form = OneMoreForm(formdata=request.args)
    found: tuple[OneMore, ...] = ()
    colours: tuple[BandColour, ...] = ()
    if form.find.typed:
        try:
            with reading(engine()) as session:
                found, colours = _found(session, form)
        except (BandUnknown, GtinRefused, SlipUnknown) as refusal:
            _show(form, refusal)
    page = render_template(
        "one_more.html", form=form, found=found, colours=colours,
        boxes=[form.find, form.colour, form.lot],
    )  # fmt: skip
    return (page, 422) if form.find.errors or form.colour.errors else page


def _found(
    session: Session, form: OneMoreForm
) -> tuple[tuple[OneMore, ...], tuple[BandColour, ...]]:
    """Returns what was found, or the colours to choose from where the band leaves that open."""
    sought, colour, lot = (box.typed[:MOST_LETTERS] for box in (form.find, form.colour, form.lot))
    digits = sought.replace(" ", "").replace("-", "")
    if digits.isascii() and digits.isdigit():
        if len(digits) < FEWEST_BARCODE_DIGITS:
            return by_slip(session, int(digits), asked_branch(), own_branch()), ()
        bands = by_barcode(session, sought)
        if len(bands) > 1 and not colour:
            return (), bands
        code = colour or bands[0].colour_code
        return (by_band(session, bands[0].sku, code, lot, own_branch()),), ()
    if not colour:
        return (), colours_of(session, sought)
    return (by_band(session, sought, colour, lot, own_branch()),), ()


def _show(form: OneMoreForm, refusal: InputError) -> None:
    words = f"{refusal.wrong}; {refusal.right}"
    form[refusal.field or "find"].errors = [words[:1].upper() + words[1:]]
