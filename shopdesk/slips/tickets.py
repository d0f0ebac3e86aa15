"""Tickets for the shelf's edge: the shop's own measured facts, price, care in words, barcode."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from io import BytesIO

from reportlab.lib.pagesizes import A4, LETTER
from reportlab.lib.styles import ParagraphStyle
from reportlab.lib.units import mm
from reportlab.pdfgen.canvas import Canvas
from reportlab.platypus import Flowable, Frame, KeepInFrame

from shopdesk.slips.barcodes import barcode, printable
from shopdesk.slips.bars import Bars
from shopdesk.slips.fonts import BOLD, REGULAR, load_fonts
from shopdesk.slips.papers import PaperUnknown, paper_named
from shopdesk.slips.paragraphs import paragraph

SHEETS = {"A4": A4, "letter": LETTER}
ROLLS = ("roll-80", "roll-58")
TICKET_HEIGHT_MM = 66.0
MARGIN_MM, PADDING_MM = 8.0, 2.0
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
    return (*SHEETS, *ROLLS)


def draw_tickets(tickets: Sequence[Ticket], paper: str) -> bytes:
    """Returns a PDF: eight tickets to a sheet to be cut, or one after the other on a roll.

    Raises PaperUnknown.
    """
    if paper not in ticket_papers():
        known = ", ".join(ticket_papers())
        raise PaperUnknown(f"'{paper}' is no paper for tickets; choose one of {known}")
    load_fonts()
    buffer = BytesIO()
    if paper in SHEETS:
        _on_sheets(tickets, SHEETS[paper], buffer)
    else:
        _on_roll(tickets, paper, buffer)
    return buffer.getvalue()


def _on_sheets(tickets: Sequence[Ticket], size: tuple[float, float], buffer: BytesIO) -> None:
    canvas = Canvas(buffer, pagesize=size, invariant=1)
    wide = (size[0] - 2 * MARGIN_MM * mm) / ACROSS
    high = (size[1] - 2 * MARGIN_MM * mm) / DOWN
    for place, ticket in enumerate(tickets):
        row, column = divmod(place % (ACROSS * DOWN), ACROSS)
        if place and row == column == 0:
            canvas.showPage()
        left = MARGIN_MM * mm + column * wide
        foot = size[1] - MARGIN_MM * mm - (row + 1) * high
        canvas.setDash(1, 3)
        canvas.rect(left, foot, wide, high)
        _draw(canvas, ticket, (left, foot, wide, high))
    canvas.save()


def _on_roll(tickets: Iterable[Ticket], paper: str, buffer: BytesIO) -> None:
    roll = paper_named(paper)
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
