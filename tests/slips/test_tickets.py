"""Shelf tickets: what they say, on sheets and rolls, with a bar code that reads back."""

from io import BytesIO
from pathlib import Path

import pytest
from pypdf import PdfReader

from shopdesk.slips.papers import PaperUnknown
from shopdesk.slips.tickets import Ticket, draw_tickets, ticket_of, ticket_papers
from shopdesk.wording.formatting import ReaderPreferences
from tests.factories import a_band_gauge, a_care, a_label, a_swatch, a_weighing, a_wraps, a_yarn
from tests.slip_reading import decoded

# GS1 General Specifications, worked example of a check digit.
EAN = "6291041500213"


def a_ticket(**facts: object) -> Ticket:
    label = a_label(gauge=a_band_gauge(22), care=a_care(), printed_put_up="50 g / 112 m")
    return ticket_of(a_yarn(label=label, gtin=EAN, **facts), ReaderPreferences())


def words(pdf: bytes) -> str:
    return " ".join(page.extract_text() for page in PdfReader(BytesIO(pdf)).pages)


def test_the_shops_own_facts_are_told_from_the_bands() -> None:
    lines = " ".join(a_ticket().lines)
    assert "22 stitches to 10 cm, by the band" in lines
    measured = a_ticket(measurements=(a_swatch(23), a_wraps(11), a_weighing(10, 4.4)))
    lines = " ".join(measured.lines)
    assert "measured here" in lines
    assert "11 wraps per inch" in lines
    assert "227 m in 100 g, weighed here" in lines


@pytest.mark.parametrize("paper", ticket_papers())
def test_a_ticket_says_name_price_and_care(paper: str) -> None:
    text = words(draw_tickets([a_ticket()], paper))
    for said in ("Yarn T-1", "6.50", "Wash by hand", EAN):
        assert said in text


@pytest.mark.parametrize("paper", ticket_papers())
def test_the_bar_code_reads_back_at_a_label_printers_203_dpi(paper: str, tmp_path: Path) -> None:
    # zxing-cpp is the second opinion. Long care must never shrink the bars.
    many = a_ticket(name="Long " * 20, measurements=(a_swatch(23), a_wraps(11)))
    assert decoded(draw_tickets([many], paper), 203, tmp_path) == [EAN]


def test_eight_tickets_share_a_sheet_and_a_roll_has_one_a_piece() -> None:
    assert len(PdfReader(BytesIO(draw_tickets([a_ticket()] * 9, "A4"))).pages) == 2
    assert len(PdfReader(BytesIO(draw_tickets([a_ticket()] * 3, "roll-58"))).pages) == 3


def test_hostile_and_long_names_are_drawn_as_text() -> None:
    text = words(draw_tickets([a_ticket(name="<b>&amp; " + "long " * 23)], "roll-58"))
    assert "<b>&amp; long" in text


def test_an_unknown_paper_is_refused() -> None:
    with pytest.raises(PaperUnknown):
        draw_tickets([a_ticket()], "A0")


def test_a_wrong_barcode_is_left_out() -> None:
    label = a_label(care=a_care())
    ticket = ticket_of(a_yarn(label=label, gtin="6291041500214"), ReaderPreferences())
    assert "6291041500214" not in words(draw_tickets([ticket], "A4"))
