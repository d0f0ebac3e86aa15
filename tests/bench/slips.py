"""The PDF of a typical slip against an empty page with the same fonts."""

import json
from collections.abc import Iterator
from datetime import date
from io import BytesIO
from pathlib import Path

from reportlab.lib.units import mm
from reportlab.pdfgen.canvas import Canvas

from shopdesk.answering.ask.ask_reading import read_ask
from shopdesk.answering.model.answer import Candidate, Suitability
from shopdesk.services.answers import answer_again, judge_yarn
from shopdesk.services.selection import PartWanted, select
from shopdesk.shop.shop import Shop
from shopdesk.slips.composing import compose
from shopdesk.slips.content import SlipContent, SlipHeader, slip_shop
from shopdesk.slips.fonts import BOLD, REGULAR, load_fonts
from shopdesk.slips.papers import Paper, paper_named
from shopdesk.wording.formatting import ReaderPreferences
from tests.bench.lines import Line, in_time
from tests.bench.processes import alternating
from tests.bench.shelves import Shelves, opened, typical_ask
from tests.slip_factories import slip_pdf

PAPERS = ("A5", "A6")


def typical_slip(data: Path) -> tuple[SlipContent, ReaderPreferences]:
    """Returns the slip for the demo shop's first yarn that suits a plain pullover."""
    ask = read_ask(json.loads(typical_ask().read_text(encoding="utf-8")))
    with opened(data) as engine:
        shop = Shop(engine)
        settings = shop.settings()
        answered = answer_again(shop, ask)
        chosen = next(one for one in answered.candidates if _is_on_the_shelf(one))
        judged = judge_yarn(shop, ask, [chosen.sku])[chosen.sku]
    assert chosen.group is not Suitability.NOT_FOR_THIS
    told = [caution.code for caution in chosen.cautions]
    choice = select(judged, [PartWanted(amount.part) for amount in chosen.amounts], told)
    stamp = SlipHeader(1042, date(2026, 11, 25), "MB")
    content = compose(ask, judged.answer, choice, judged.shelf, slip_shop(settings), stamp)
    return content, settings.reader()


def _is_on_the_shelf(candidate: Candidate) -> bool:
    return candidate.companion is None and any(not c.short_by for c in candidate.colours)


def empty_page(paper: Paper) -> bytes:
    """Returns a page with one letter of each of the slip's fonts, so that both are embedded."""
    load_fonts()
    buffer = BytesIO()
    height = paper.height_mm or paper.width_mm
    canvas = Canvas(buffer, pagesize=(paper.width_mm * mm, height * mm), invariant=1)
    for name in (REGULAR, BOLD):
        canvas.setFont(name, 8)
        canvas.drawString(10, 10, "a")
    canvas.showPage()
    canvas.save()
    return buffer.getvalue()


def measure(shelves: Shelves) -> Iterator[Line]:
    """Yields the slip on each sheet."""
    content, reader = typical_slip(shelves.demo())
    for name in PAPERS:
        paper = paper_named(name)
        slip, empty = alternating(
            shelves.scale.slips,
            lambda paper=paper: slip_pdf(content, paper, reader),
            lambda paper=paper: empty_page(paper),
        )
        what = f"PDF of a slip on {name}, median of {shelves.scale.slips}"
        floor = "empty page, both fonts embedded", empty
        yield in_time("slip", what, slip, floor, "at most 3")
