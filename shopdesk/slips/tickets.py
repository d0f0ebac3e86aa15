"""Tickets for the shelf's edge: the shop's own measured facts, price, care in words, barcode."""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from io import BytesIO

from reportlab.lib.styles import ParagraphStyle
from reportlab.lib.units import mm
from reportlab.pdfgen.canvas import Canvas
from reportlab.platypus import Flowable, Frame, KeepInFrame

from shopdesk.answering.profile.profile import shelf_profile
from shopdesk.answering.profile.summary import label_care
from shopdesk.craft.care import care_sayings
from shopdesk.craft.figures import Basis, Figure
from shopdesk.craft.messages import message
from shopdesk.craft.yarn import ShelfYarn
from shopdesk.slips.barcodes import Bars, barcode, printable
from shopdesk.slips.fonts import BOLD, REGULAR, load_fonts
from shopdesk.slips.papers import Paper, PaperUnknown, papers
from shopdesk.slips.typography import paragraph
from shopdesk.wording import formatting
from shopdesk.wording.formatting import ReaderPreferences
from shopdesk.wording.translate import term, translate

TICKET_HEIGHT_MM = 66.0
PADDING_MM = 2.0
ACROSS, DOWN = 2, 4


@dataclass(frozen=True, slots=True)
class Ticket:
    """What one ticket says, in words already."""

    name: str
    sku: str
    price: str
    lines: tuple[str, ...]
    gtin: str | None = None


def ticket_papers() -> tuple[str, ...]:
    """Returns what tickets can be printed on."""
    return tuple(papers("ticket"))


def draw_tickets(tickets: Sequence[Ticket], paper: str) -> bytes:
    """Returns a PDF: eight tickets to a sheet to be cut, or one after the other on a roll.

    Raises PaperUnknown.
    """
    named = papers("ticket").get(paper)
    if named is None:
        right = message("problem_shelf.choose_one_of", names=", ".join(ticket_papers()))
        raise PaperUnknown(message("problem_shelf.no_ticket_paper", name=paper), right)
    load_fonts()
    buffer = BytesIO()
    if named.height_mm is None:
        _on_roll(tickets, named, buffer)
    else:
        _on_sheets(tickets, named, named.height_mm * mm, buffer)
    return buffer.getvalue()


def _on_sheets(tickets: Sequence[Ticket], paper: Paper, height: float, buffer: BytesIO) -> None:
    canvas = Canvas(buffer, pagesize=(paper.width_mm * mm, height), invariant=1)
    wide = paper.text_mm * mm / ACROSS
    high = (height - (paper.top_mm + paper.foot_mm) * mm) / DOWN
    for place, ticket in enumerate(tickets):
        row, column = divmod(place % (ACROSS * DOWN), ACROSS)
        if place and row == column == 0:
            canvas.showPage()
        left = paper.side_mm * mm + column * wide
        foot = height - paper.top_mm * mm - (row + 1) * high
        canvas.setDash(1, 3)
        canvas.rect(left, foot, wide, high)
        _draw(canvas, ticket, (left, foot, wide, high))
    canvas.save()


def _on_roll(tickets: Iterable[Ticket], roll: Paper, buffer: BytesIO) -> None:
    size = (roll.width_mm * mm, TICKET_HEIGHT_MM * mm)
    canvas = Canvas(buffer, pagesize=size, invariant=1)
    for place, ticket in enumerate(tickets):
        if place:
            canvas.showPage()
        side = roll.side_mm * mm
        _draw(canvas, ticket, (side, 0.0, roll.text_mm * mm, size[1]))
    canvas.save()


def _draw(canvas: Canvas, ticket: Ticket, box: tuple[float, float, float, float]) -> None:
    """Letters shrink to what room there is; the bar code never does, so that it can be read."""
    left, foot, wide, high = box
    padding = PADDING_MM * mm
    inner, room, start = wide - 2 * padding, high - 2 * padding, foot + padding
    number = printable(ticket.gtin)
    if number is not None:
        bars = Bars(barcode(number))
        _, tall = bars.wrap(inner, room)
        bars.drawOn(canvas, left + padding, start)
        room, start = room - tall - padding, start + tall + padding
    fitted = KeepInFrame(inner, room, _story(ticket), mode="shrink")
    Frame(left + padding, start, inner, room, 0, 0, 0, 0).addFromList([fitted], canvas)


def _story(ticket: Ticket) -> list[Flowable]:
    strong = ParagraphStyle("name", fontName=BOLD, fontSize=13, leading=15)
    price = ParagraphStyle("price", fontName=BOLD, fontSize=16, leading=19)
    body = ParagraphStyle("body", fontName=REGULAR, fontSize=8, leading=10.2)
    return [
        paragraph(strong, ticket.name),
        paragraph(body, ticket.sku),
        paragraph(price, ticket.price),
        *(paragraph(body, line) for line in ticket.lines),
    ]


MOST_CARE = 4


def ticket_of(yarn: ShelfYarn, reader: ReaderPreferences) -> Ticket:
    """Returns the ticket: the shop's measurements go before what the band says, and say so."""
    care, by_default = label_care(yarn.label)
    said = care_sayings(care, by_default)[:MOST_CARE]
    lines = (*_facts(yarn, reader), " ".join(translate(one, reader) for one in said))
    price = formatting.money(yarn.price, reader)
    return Ticket(yarn.name, yarn.sku, price, tuple(line for line in lines if line), yarn.gtin)


def _facts(yarn: ShelfYarn, reader: ReaderPreferences) -> Iterator[str]:
    label, profile = yarn.label, shelf_profile(yarn)
    yield label.printed_put_up
    shares = [
        f"{formatting.percent(share.percent, reader)} {term(f'terms.fibre.{share.fibre}', reader)}"
        for share in label.fibres
    ]
    yield ", ".join(shares)
    stitches = profile.natural_stitches
    if stitches is not None and stitches.basis is not Basis.ESTIMATE:
        code = "ticket.gauge_shop" if _shops(stitches) else "ticket.gauge_band"
        yield translate(message(code, stitches_st=stitches.value), reader)
    if profile.wraps_per_inch is not None and _shops(profile.wraps_per_inch):
        yield translate(
            message("ticket.wraps", wraps=round(profile.wraps_per_inch.value, 1)), reader
        )
    length = profile.metres_per_100g
    if length is not None and _shops(length):
        yield translate(message("ticket.length_shop", length_m=length.value), reader)


def _shops(figure: Figure) -> bool:
    return figure.basis is Basis.SHOP
