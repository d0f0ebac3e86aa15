"""Slips that went home: made once, numbered without gaps, found again, reprinted, superseded.

A slip is never changed: what was wrong on one is put right by another that supersedes it.
Names of customers are searched for, so a search belongs in a form, never in an address or a log.
"""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from datetime import date
from typing import Any

from sqlalchemy import event, func, inspect, select
from sqlalchemy.engine import Connection
from sqlalchemy.orm import Mapper, Session

from shopdesk.answering.ask.ask_sizes import SizedAsk, for_size
from shopdesk.answering.model.answer import Selection
from shopdesk.craft import lengths
from shopdesk.craft.errors import InputError
from shopdesk.craft.messages import Message, message
from shopdesk.services.answers import JudgedYarn
from shopdesk.services.asks import new_request_key, save_ask
from shopdesk.services.contacts import NO_CONTACT, ContactDetails, keep_contact
from shopdesk.services.slip_records import (
    SlipRecord,
    SlipSummary,
    record_of,
    summary_of,
    superseded_by,
)
from shopdesk.shelf.branch_lots import branch_id
from shopdesk.shop.shop import Shop
from shopdesk.slips.composing import compose
from shopdesk.slips.content import SlipContent, SlipHeader, slip_shop
from shopdesk.slips.papers import paper_named
from shopdesk.slips.slip_documents import choice_document, content_document, words_document
from shopdesk.slips.slip_text import slip_text
from shopdesk.slips.slip_words import SlipText
from shopdesk.slips.visible import visible
from shopdesk.store.models import Branch, Slip
from shopdesk.store.settings import ShopSettings
from shopdesk.store.tables.stock import FIRST_BRANCH
from shopdesk.store.types import can_be_number
from shopdesk.wording.formatting import LanguageRefused, ReaderPreferences, require_texts

CHANGEABLE = frozenset({"customer_name", "customer_key"})


class SlipRefused(InputError):
    """A slip that cannot be made or found."""


class SlipIsKept(RuntimeError):
    """Something tried to change a slip that went home."""


@dataclass(frozen=True, slots=True)
class SlipOrder:
    """What a slip is made of besides the yarn as it was judged.

    `request_key` is a random word of the form that asks for it: sent twice, it makes one slip.
    `supersedes` is the number of the slip that this one replaces. `contact` is kept beside the
    slip and never on it.
    """

    ask_document: Mapping[str, Any]
    choice: Selection
    staff: str
    language: str | None = None
    paper: str | None = None
    customer_name: str | None = None
    held_until: date | None = None
    supersedes: int | None = None
    request_key: str | None = None
    contact: ContactDetails = NO_CONTACT


@dataclass(frozen=True, slots=True)
class AskedAgain:
    """A slip's ask, kept anew; `left_open` names what was known for the old size only."""

    token: str
    left_open: tuple[str, ...] = ()


def make_slip(
    shop: Shop,
    judged: JudgedYarn,
    order: SlipOrder,
    hand_out: Callable[[SlipRecord], object] | None = None,
) -> SlipRecord:
    """Makes the next slip of the shop's branch, or returns the one that this request made before.

    `hand_out` takes the slip before it is kept. Where that fails, and on SlipRefused,
    SelectionError, CautionsNotTold, PaperUnknown and StockRefused (no such branch), nothing is
    kept and no number is used.
    """
    with shop.write() as session:
        record = write_slip(session, shop, judged, order)
        if hand_out is not None:
            hand_out(record)
    return record


def find_slips(
    shop: Shop, on: date | None = None, name: str | None = None
) -> tuple[SlipSummary, ...]:
    """Returns the branch's slips of a day, of a customer's name, or both, the newest first."""
    with shop.read() as session:
        return slips_found(session, on, name, shop.branch)


def show_slip(shop: Shop, number: int) -> SlipRecord | None:
    """Returns a slip of the shop's branch as it went home, or None if there is none."""
    if not can_be_number(number):
        return None
    with shop.read() as session:
        return slip(session, number, shop.branch)


def ask_again(shop: Shop, record: SlipRecord, size: str = "") -> AskedAgain:
    """Keeps the ask of a slip once more, or for another size. Raises SizeUnknown."""
    document = record.ask_document
    sized = for_size(document, size) if size else SizedAsk(dict(document))
    return AskedAgain(save_ask(shop, new_request_key(), sized.document), sized.left_open)


def write_slip(session: Session, shop: Shop, judged: JudgedYarn, order: SlipOrder) -> SlipRecord:
    """Makes a slip as `make_slip` does, in a writing session with other work."""
    branch = _lock_branch(session, shop.branch)
    made = _made_before(session, order.request_key)
    if made is not None:
        return record_of(session, made)
    settings, moment = shop.settings(), shop.clock()
    reader = _reader(settings, order.language)
    before = _to_supersede(session, branch, order.supersedes)
    stamp = SlipHeader(_next_number(session, branch), shop.today(), order.staff, order.supersedes)
    content = _compose(judged, order, settings, stamp)
    row = _row(order, content, slip_text(content, reader), reader, settings)
    row.branch_id, row.supersedes_id = branch, before.id if before else None
    row.made_on, row.made_at = stamp.on, moment
    session.add(row)
    session.flush()
    keep_contact(session, order.contact, row.id, moment)
    return record_of(session, row)


def _reader(settings: ShopSettings, language: str | None) -> ReaderPreferences:
    reader = settings.reader(language)
    try:
        require_texts(reader.language)
    except LanguageRefused as refusal:
        problem = refusal.problem
        raise SlipRefused(problem.wrong, problem.right, "language") from None
    return reader


def slip(session: Session, number: int, branch: str = FIRST_BRANCH) -> SlipRecord | None:
    """Returns one slip by its number, or None if there is none."""
    row = _by_number(session, branch_id(session, branch), number)
    return None if row is None else record_of(session, row)


def slips_found(
    session: Session,
    on: date | None = None,
    name: str | None = None,
    branch: str = FIRST_BRANCH,
    most: int = 50,
) -> tuple[SlipSummary, ...]:
    """Returns the branch's slips of a day, of a customer's name, or both, the newest first.

    A name is found by any part of it, whatever its capitals.
    """
    query = select(Slip).where(Slip.branch_id == branch_id(session, branch))
    if on is not None:
        query = query.where(Slip.made_on == on)
    if name is not None:
        query = query.where(Slip.customer_key.contains(_key(name), autoescape=True))
    rows = session.scalars(query.order_by(Slip.number.desc()).limit(most))
    return tuple(summary_of(session, row) for row in rows)


def _lock_branch(session: Session, code: str) -> int:
    """Makes everybody else who wants a number of this branch wait until this one is kept.

    On SQLite a writing session has the whole database to itself already.
    """
    key = branch_id(session, code)
    session.execute(select(Branch.id).where(Branch.id == key).with_for_update())
    return key


def _made_before(session: Session, request_key: str | None) -> Slip | None:
    if request_key is None:
        return None
    return session.scalar(select(Slip).where(Slip.request_key == request_key))


def _by_number(session: Session, branch: int, number: int) -> Slip | None:
    return session.scalar(select(Slip).where(Slip.branch_id == branch, Slip.number == number))


def _to_supersede(session: Session, branch: int, number: int | None) -> Slip | None:
    if number is None:
        return None
    row = _by_number(session, branch, number)
    if row is None:
        wrong = message("problem_visit.no_slip", number=number)
        raise SlipRefused(wrong, message("problem_visit.give_slip"))
    later = superseded_by(session, row)
    if later is not None:
        wrong = message("problem_visit.slip_replaced", number=number)
        raise SlipRefused(wrong, message("problem_visit.replace_later", later=later))
    return row


def _next_number(session: Session, branch: int) -> int:
    last = session.scalar(select(func.max(Slip.number)).where(Slip.branch_id == branch))
    return (last or 0) + 1


def _compose(
    judged: JudgedYarn, order: SlipOrder, settings: ShopSettings, stamp: SlipHeader
) -> SlipContent:
    return compose(
        judged.ask,
        judged.answer,
        order.choice,
        judged.shelf,
        slip_shop(settings),
        stamp,
        held_until=order.held_until,
    )


def _row(
    order: SlipOrder,
    content: SlipContent,
    words: SlipText,
    reader: ReaderPreferences,
    settings: ShopSettings,
) -> Slip:
    too_long = message("problem_visit.customer_long")
    name = _short(order.customer_name, lengths.CUSTOMER, too_long)
    return Slip(
        number=content.stamp.number,
        staff=_short(order.staff, lengths.STAFF, message("problem_shelf.staff_long")) or "",
        title=visible(content.title)[: lengths.TITLE],
        sku=order.choice.sku,
        yarn=visible(content.yarn)[: lengths.YARN],
        paper=paper_named(order.paper or settings.paper).key,
        units=reader.units,
        crochet_terms=reader.crochet_terms,
        ask=dict(order.ask_document),
        choice=choice_document(order.choice),
        content=content_document(content),
        words=words_document(words),
        customer_name=name,
        customer_key=_key(name) if name else None,
        request_key=order.request_key,
    )


def _short(written: str | None, most: int, too_long: Message) -> str | None:
    text = visible(written or "")
    if len(text) > most:
        raise SlipRefused(too_long, message("problem_shelf.letters_most", count=most))
    return text or None


def _key(name: str) -> str:
    return visible(name).casefold()[: lengths.NAME_KEY]


@event.listens_for(Slip, "before_update")
def _keep(_mapper: Mapper[Slip], _connection: Connection, row: Slip) -> None:
    changed = {each.key for each in inspect(row).attrs if each.history.has_changes()} - CHANGEABLE
    if changed == {"ask"} and _is_without_its_hand(row):
        return
    if changed:
        raise SlipIsKept(f"slip {row.number} went home as it is; make one that supersedes it")


def _is_without_its_hand(row: Slip) -> bool:
    """True where the ask lost the customer's hand, forgotten with the name, and no more."""
    history = inspect(row).attrs.ask.history
    if len(history.deleted) != 1 or len(history.added) != 1:
        return False
    before, now = history.deleted[0], history.added[0]
    return bool(now == {name: said for name, said in before.items() if name != "hand"})


@event.listens_for(Slip, "before_delete")
def _never_delete(_mapper: Mapper[Slip], _connection: Connection, row: Slip) -> None:
    raise SlipIsKept(f"slip {row.number} is kept, so that no number is missing")
