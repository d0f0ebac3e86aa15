"""A shelf with one yarn, and slips made from it, for tests of what comes after a slip."""

from datetime import date

from sqlalchemy import Engine

from shopdesk.answering.swatch.swatch_reading import SwatchEntry
from shopdesk.services.contacts import checked_contact, keep_contact
from shopdesk.services.sales import slip_row
from shopdesk.services.slips import SlipOrder, make_slip
from shopdesk.services.swatches import SwatchOf, SwatchReport, report_swatch
from shopdesk.shelf.branch_lots import LotAtBranch
from shopdesk.shelf.writing import writing
from shopdesk.shop.shop import Shop
from shopdesk.store.models import Branch
from tests.ask_documents import an_ask_document
from tests.factories import a_label, a_lot
from tests.shelf.rows import put_yarn
from tests.slip_factories import A_SLIP_DAY, a_choice, a_shelf_yarn, an_answer

SLIP_LOT = LotAtBranch("T-1", "14", "M2231")
OTHER_LOT = LotAtBranch("T-1", "14", "M2240")


def stock_shelf(shelf: Engine, skeins: int = 20) -> None:
    """Puts two lots of one colour on the shelf, and a second branch beside it."""
    lots = (a_lot(skeins, "M2231", "14", name="Moss"), a_lot(3, "M2240", "14", name="Moss"))
    with writing(shelf) as session:
        put_yarn(session, "T-1", lots=lots, label=a_label(grams=100, metres_per_100g=230))
        session.add(Branch(code="north", name="North"))


def a_slip(
    shelf: Engine,
    on: date = A_SLIP_DAY,
    name: str | None = None,
    phone: str = "",
    ask: bool = False,
) -> int:
    """Makes a slip of five skeins of SLIP_LOT and returns its number."""
    order = SlipOrder(an_ask_document(), a_choice(), "AB", on, customer_name=name)
    with writing(shelf) as session:
        number = make_slip(session, an_answer(), {"T-1": a_shelf_yarn()}, order).summary.number
        left = checked_contact(name or "", phone, ask)
        keep_contact(session, left, slip_row(session, number).id)
    return number


def a_swatch(shelf: Engine, slip: int = 1, branch: str = "main", hand: str = "") -> None:
    """Keeps a swatch of 22 stitches over 10 cm for a slip."""
    report_swatch(Shop(shelf, branch), SwatchReport(SwatchOf(slip), SwatchEntry("22", hand=hand)))
