"""A customer's hand: how tightly they always work, kept only with their consent.

It stands with their name and number in one row, and is forgotten with them. It moves the tool
that a swatch is started with, never a yarn's own figures.
"""

from collections.abc import Sequence
from dataclasses import dataclass

from sqlalchemy import select
from sqlalchemy.orm import Session

from shopdesk.craft.errors import InputError, InputErrors, Problem
from shopdesk.craft.hand_tool import MOST_PERCENT
from shopdesk.craft.messages import message
from shopdesk.craft.numerals import NumberRefused, read_number
from shopdesk.services.contacts import checked_contact, name_key, phone_key
from shopdesk.services.privacy import Person
from shopdesk.shop.shop import Shop
from shopdesk.store.models import Contact


@dataclass(frozen=True, slots=True)
class HandNote:
    """What is to be kept of whom: `percent` as typed, `looser` where the hand is loose.

    `agreed`: the customer said that it may be kept.
    """

    person: Person
    percent: str
    looser: bool = False
    agreed: bool = False


def keep_hand(shop: Shop, note: HandNote) -> float:
    """Keeps a customer's hand in the place of any earlier one.

    Returns it in percent, above 0 for tighter. Raises InputErrors for what was typed, and where
    the customer has not agreed.
    """
    percent, problems = _percent(note.percent)
    if not note.agreed:
        wrong = message("problem_visit.hand_not_agreed")
        problems.append(Problem(("agreed",), wrong, message("problem_visit.hand_agree")))
    if problems:
        raise InputErrors(problems)
    details = checked_contact(note.person.name, note.person.phone)
    hand = -percent if note.looser else percent
    with shop.write() as session:
        for row in _same(session, note.person):
            row.hand_percent = None
        session.add(
            Contact(
                left_at=shop.clock(),
                name=details.name,
                name_key=name_key(details.name),
                phone=details.phone,
                phone_key=phone_key(details.phone),
                hand_percent=hand,
            )
        )
    return hand


def hand_of(shop: Shop, person: Person) -> float | None:
    """Returns a customer's kept hand in percent, above 0 for tighter; None if there is none.

    Raises InputError where it cannot be told whose hand of several is meant.
    """
    with shop.read() as session:
        hands = {
            row.hand_percent
            for row in session.scalars(select(Contact).where(Contact.hand_percent.is_not(None)))
            if _may_be(row, person)
        }
    if len(hands) > 1:
        wrong = message("problem_visit.hands_differ")
        raise InputError(wrong, message("problem_visit.name_both"))
    return hands.pop() if hands else None


def _percent(typed: str) -> tuple[float, list[Problem]]:
    right = message("problem_visit.write_hand")
    try:
        number = read_number(typed, right)
    except NumberRefused as refusal:
        return 0.0, [problem.under("percent") for problem in refusal.problems]
    if not 0 < number <= MOST_PERCENT:
        wrong = message("problem_visit.no_hand", text=typed.strip()[:20])
        return 0.0, [Problem(("percent",), wrong, right)]
    return float(number), []


def _same(session: Session, person: Person) -> Sequence[Contact]:
    """Returns the rows with just this name and this number."""
    wanted = select(Contact).where(
        Contact.name_key == name_key(person.name), Contact.phone_key == phone_key(person.phone)
    )
    return session.scalars(wanted).all()


def _may_be(row: Contact, person: Person) -> bool:
    """True where nothing that is known of both differs, and something agrees."""
    pairs = (
        (row.name_key, name_key(person.name)),
        (row.phone_key, phone_key(person.phone)),
    )
    known = [(kept, asked) for kept, asked in pairs if kept and asked]
    return bool(known) and all(kept == asked for kept, asked in known)
