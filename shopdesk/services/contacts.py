"""What customers leave of themselves: a name, a telephone number, leave to be asked; all optional.

It stands in one table apart, so that it can be forgotten whole. It is never part of an address,
a log line or a stock movement.
"""

import re
from dataclasses import dataclass
from datetime import datetime

from sqlalchemy.orm import Session

from shopdesk.craft import lengths
from shopdesk.craft.errors import InputError
from shopdesk.craft.messages import message
from shopdesk.slips.visible import visible
from shopdesk.store.models import Contact
from shopdesk.store.types import now

_PHONE = re.compile(r"\+?[0-9 ()/.\-]{3,40}", re.ASCII)
_FEWEST_DIGITS = 3


class ContactRefused(InputError):
    """A name or number that cannot be kept; `field` says which."""


@dataclass(frozen=True, slots=True)
class ContactDetails:
    """What one customer left. `may_ask`: agreed to be asked about the swatch."""

    name: str = ""
    phone: str = ""
    may_ask: bool = False

    @property
    def empty(self) -> bool:
        """True where nothing was left that could tell who it is or how to reach them."""
        return not (self.name or self.phone or self.may_ask)


NO_CONTACT = ContactDetails()


def checked_contact(name: str = "", phone: str = "", may_ask: bool = False) -> ContactDetails:
    """Returns what was typed, tidied. Raises ContactRefused."""
    name, phone = visible(name), phone.strip()
    if len(name) > lengths.CUSTOMER:
        raise ContactRefused(
            message("problem_visit.letters_many", count=len(name)),
            message("problem_visit.at_most", count=lengths.CUSTOMER),
            "name",
        )
    if phone and not (_PHONE.fullmatch(phone) and len(phone_key(phone)) >= _FEWEST_DIGITS):
        raise ContactRefused(
            message("problem_visit.no_phone"), message("problem_visit.write_phone"), "phone"
        )
    return ContactDetails(name, phone, may_ask)


def name_key(name: str) -> str:
    """Returns a name as it is compared: whatever its capitals and blanks."""
    return visible(name).casefold()[: lengths.NAME_KEY]


def phone_key(phone: str) -> str:
    """Returns a number's digits as they are compared; '+' and '00' before a country are one."""
    digits = re.sub(r"[^0-9]", "", phone)
    return digits.removeprefix("00") if phone.strip().startswith("00") else digits


def keep_contact(
    session: Session,
    details: ContactDetails,
    slip_id: int | None = None,
    at: datetime | None = None,
) -> int | None:
    """Keeps what a customer left. Returns its key, or None where nothing was left."""
    if details.empty:
        return None
    row = Contact(
        left_at=at or now(),
        name=details.name,
        name_key=name_key(details.name),
        phone=details.phone,
        phone_key=phone_key(details.phone),
        may_ask=details.may_ask,
        slip_id=slip_id,
    )
    session.add(row)
    session.flush()
    return row.id
