"""A shelf with one yarn, and slips made from it, for tests of what comes after a slip."""

from datetime import date, datetime, time
from typing import Any

from sqlalchemy import Engine

from shopdesk.answering.ask.ask_reading import read_ask
from shopdesk.answering.model.answer import Answer
from shopdesk.answering.swatch.swatch_reading import SwatchEntry
from shopdesk.services.answers import JudgedYarn
from shopdesk.services.contacts import checked_contact
from shopdesk.services.slips import SlipOrder, make_slip
from shopdesk.services.swatches import SwatchOf, SwatchReport, report_swatch
from shopdesk.shelf.branch_lots import LotAtBranch
from shopdesk.shelf.stock import receive
from shopdesk.shelf.writing import writing
from shopdesk.shop.shop import Shop
from shopdesk.store.models import Branch
from tests.ask_documents import an_ask_document
from tests.factories import a_label, a_lot
from tests.shelf.rows import put_yarn
from tests.slip_factories import A_SLIP_DAY, a_choice, a_shelf_yarn, an_answer

SLIP_LOT = LotAtBranch("T-1", "14", "M2231")
OTHER_LOT = LotAtBranch("T-1", "14", "M2240")
NORTH_LOT = LotAtBranch("T-1", "14", "M2231", "north")


def stock_shelf(shelf: Engine, skeins: int = 20) -> None:
    """Puts two lots of one colour on the shelf, and a second branch beside it."""
    lots = (a_lot(skeins, "M2231", "14", name="Moss"), a_lot(3, "M2240", "14", name="Moss"))
    with writing(shelf) as session:
        put_yarn(session, "T-1", lots=lots, label=a_label(grams=100, metres_per_100g=230))
        session.add(Branch(code="north", name="North"))


def shop_on(shelf: Engine, day: date = A_SLIP_DAY, branch: str = "main") -> Shop:
    """Returns the shop at noon of a day, as asked from a branch."""
    noon = datetime.combine(day, time(12)).astimezone()
    return Shop(shelf, branch, clock=lambda: noon)


def a_judged_yarn(
    answer: Answer | None = None, document: dict[str, Any] | None = None
) -> JudgedYarn:
    """Returns the yarn of an answer with one, and of an ask, as judged apart."""
    alone, ask = answer or an_answer(), read_ask(document or an_ask_document())
    return JudgedYarn(ask, alone, alone.candidates[0], None, {"T-1": a_shelf_yarn()})


def a_slip(
    shelf: Engine,
    on: date = A_SLIP_DAY,
    name: str | None = None,
    phone: str = "",
    ask: bool = False,
    branch: str = "main",
) -> int:
    """Makes a slip of five skeins of SLIP_LOT, or of that lot in a branch; returns its number."""
    left = checked_contact(name or "", phone, ask)
    order = SlipOrder(an_ask_document(), a_choice(), "AB", customer_name=name, contact=left)
    return make_slip(shop_on(shelf, on, branch), a_judged_yarn(), order).summary.number


def slip_1_of_north(shelf: Engine) -> None:
    """Makes slip 1 of north, for five skeins of the nine that lie there."""
    with writing(shelf) as session:
        receive(session, NORTH_LOT, 9)
    a_slip(shelf, branch="north")


def a_swatch(shelf: Engine, slip: int = 1, branch: str = "main", hand: str = "") -> None:
    """Keeps a swatch of 22 stitches over 10 cm for a slip."""
    report_swatch(Shop(shelf, branch), SwatchReport(SwatchOf(slip), SwatchEntry("22", hand=hand)))
