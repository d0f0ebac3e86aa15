"""The label check of the shelf, the trail of its stock, yarns without a label, shelf tickets."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import TypeVar

from sqlalchemy.orm import Session

from shopdesk.answering.label.check import CheckedLabel, check_label, check_labels
from shopdesk.answering.unlabelled import UnlabelledYarn, WeighedPiece, unlabelled
from shopdesk.craft.errors import InputError, InputErrors, Problem
from shopdesk.craft.messages import message
from shopdesk.craft.numerals import read_number
from shopdesk.craft.yarn import FibreShare
from shopdesk.exchange.blends import read_blend
from shopdesk.exchange.cells import length, mass
from shopdesk.parsing.quantities import numbers_listed
from shopdesk.shelf.loading import YarnUnknown, shelf_yarn, shelf_yarns
from shopdesk.shelf.stock import Discrepancy, discrepancies
from shopdesk.shop.shop import Shop

MOST_READINGS = 12
MOST_TICKETS = 400
Value = TypeVar("Value")


def check_shelf(shop: Shop) -> tuple[CheckedLabel, ...]:
    """Returns the label check of every yarn on offer, the worst first."""
    with shop.read() as session:
        return shelf_labels(session)


def shelf_labels(session: Session) -> tuple[CheckedLabel, ...]:
    """Returns the same as the session sees it."""
    return check_labels(shelf_yarns(session, with_stock=False))


def check_yarn(shop: Shop, sku: str) -> CheckedLabel:
    """Returns the label check of one yarn, also of a retired one. Raises YarnUnknown."""
    with shop.read() as session:
        found = shelf_yarn(session, sku)
    if found is None:
        raise YarnUnknown(sku)
    return check_label(found)


def check_stock(shop: Shop) -> tuple[Discrepancy, ...]:
    """Returns every lot in a branch whose stock is not the sum of its movements."""
    with shop.read() as session:
        return tuple(discrepancies(session))


def print_tickets(shop: Shop, skus: Sequence[str], paper: str) -> bytes:
    """Returns a PDF with the shelf ticket of each yarn that is there, as often as it is named.

    Raises YarnUnknown if none of them is, and PaperUnknown.
    """
    from shopdesk.slips.tickets import draw_tickets, ticket_of

    wanted = skus[:MOST_TICKETS]
    with shop.read() as session:
        found = [yarn for sku in wanted if (yarn := shelf_yarn(session, sku)) is not None]
    if not found:
        raise YarnUnknown(", ".join(wanted)[:80])
    reader = shop.settings().reader()
    return draw_tickets([ticket_of(yarn, reader) for yarn in found], paper)


@dataclass(frozen=True, slots=True)
class UnlabelledTexts:
    """What is typed of a yarn without a label; '' where nothing is.

    `length` was measured off and weighs `mass`; `whole` is the mass of all that is left; `wraps`
    lists readings of wraps per inch; `fibres` is a guess such as 'wool 80, nylon 20'.
    """

    length: str = ""
    mass: str = ""
    whole: str = ""
    wraps: str = ""
    fibres: str = ""


def identify_yarn(typed: UnlabelledTexts) -> UnlabelledYarn:
    """Returns what follows from what was measured. Raises InputErrors, by the fields' names."""
    problems: dict[str, Problem] = {}

    def read(field: str, reader: Callable[[str], Value]) -> Value | None:
        text = getattr(typed, field)
        try:
            return reader(text) if text else None
        except InputError as refusal:
            first = refusal.problem
            problems[field] = Problem((field,), first.wrong, first.right)
            return None

    metres = read("length", lambda text: length(text, ""))
    piece_g = read("mass", lambda text: mass(text, ""))
    whole = read("whole", lambda text: mass(text, ""))
    wraps = read("wraps", _wraps) or []
    shares = read("fibres", _shares) or ()
    if (metres is None) != (piece_g is None):
        empty = "mass" if piece_g is None else "length"
        wrong = message("problem_visit.both_of_piece")
        problems.setdefault(empty, Problem((empty,), wrong))
    if not (metres or wraps):
        wrong = message("problem_visit.measure_it")
        problems.setdefault("length", Problem(("length",), wrong))
    if problems:
        raise InputErrors(problems.values())
    piece = WeighedPiece(metres, piece_g) if metres and piece_g else None
    return unlabelled(piece, whole, wraps, shares)


def _shares(text: str) -> tuple[FibreShare, ...]:
    return tuple(FibreShare(*share) for share in read_blend(text))


def _wraps(text: str) -> list[float]:
    right = message("problem_visit.write_readings")
    found = [float(read_number(one, right)) for one in numbers_listed(text.replace(", ", "; "))]
    if not found or len(found) > MOST_READINGS or not all(0 < one <= 100 for one in found):
        raise InputError(message("problem_visit.no_wraps", text=text[:40]), right)
    return found
