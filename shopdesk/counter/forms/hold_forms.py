"""Holding skeins, moving them between branches, and whose data is meant."""

from collections.abc import Sequence
from decimal import Decimal

from flask_wtf import FlaskForm
from wtforms import BooleanField, HiddenField

from shopdesk.counter.forms.ask_fields import HAND_WAY
from shopdesk.counter.forms.fields import (
    BoundedNumberField,
    NumberField,
    PickField,
    TextField,
    day_in,
    request_key,
)
from shopdesk.counter.refusals import said_alone
from shopdesk.counter.request import own_branch
from shopdesk.services.branches import BranchName, Transfer
from shopdesk.services.contacts import ContactDetails, ContactRefused, checked_contact
from shopdesk.services.hands import HandNote
from shopdesk.services.holds import HoldOrder, PartCollected
from shopdesk.services.privacy import Person
from shopdesk.shelf.branch_lots import LotAtBranch

_DAY = {"type": "date"}


class LotFields(FlaskForm):
    """A lot on the shelf as the band names it; `key` is the form's random word."""

    key = HiddenField()
    sku = TextField("Article number", "SKU, such as OY-3102.")
    colour = TextField("Colour’s code")
    lot = TextField("Dye lot", "Empty for a yarn without lots.")
    branch = PickField("Branch", [])
    skeins = BoundedNumberField("Skeins", low=1, high=10_000, whole=True)
    staff = TextField("Staff", "Who does it; may be empty.")

    def offer(self, branches: Sequence[BranchName]) -> None:
        """Fills the list of branches."""
        self.branch.choices = [(one.code, one.shown) for one in branches]

    def where(self) -> LotAtBranch:
        """Returns the lot that the boxes name."""
        branch = self.branch.data or own_branch()
        return LotAtBranch(self.sku.typed, self.colour.typed, self.lot.typed or None, branch)

    def number_of_skeins(self) -> int:
        """Returns what the box says, once it was checked."""
        return int(self.skeins.number or Decimal(0))


class HoldForm(LotFields):
    """Skeins of one lot, or all of a slip's, for a customer until a day."""

    slip = HiddenField()
    until = TextField("Last day", "Empty: as the settings say.", render_kw=_DAY)
    name = TextField("Customer’s name", "May be empty.")
    phone = TextField("Telephone", "May be empty.", render_kw={"type": "tel"})
    may_ask = BooleanField("Agreed to be asked how the swatch came out")

    def boxes(self) -> list[object]:
        """Returns the boxes that are filled in: of a slip the lots are given."""
        lot = [] if self.slip.data else [self.sku, self.colour, self.lot, self.branch, self.skeins]
        return [*lot, self.until, self.name, self.phone, self.may_ask, self.staff]

    def order(self, slip: int | None) -> HoldOrder | None:
        """Returns what is to be held, or None with messages beside the boxes that cannot be.

        `slip` is the number of the slip that the form is about.
        """
        until, person = day_in(self.until), self._person()
        if slip is None:
            self.skeins.validate(self)
        wrong = self.until.errors or self.skeins.errors or person is None
        if wrong or person is None:
            return None
        lots = ((self.where(), self.number_of_skeins()),) if slip is None else ()
        return HoldOrder(lots, slip, until, person, self.staff.typed, request_key(self.key))

    def _person(self) -> ContactDetails | None:
        try:
            return checked_contact(self.name.typed, self.phone.typed, bool(self.may_ask.data))
        except ContactRefused as refusal:
            self[refusal.field].errors = [said_alone(refusal)]
            return None


class HoldChange(FlaskForm):
    """What is done with one hold; `key` is the form's random word."""

    key = HiddenField()
    skeins = BoundedNumberField("Only so many", low=1, high=10_000, whole=True)
    until = TextField("New last day", render_kw=_DAY)
    staff = TextField("Staff", "Who does it; may be empty.")

    def part(self, release_rest: bool) -> PartCollected | None:
        """Returns how many are collected, or None with a message beside the box."""
        if not self.skeins.validate(self):
            return None
        skeins = int(self.skeins.number or Decimal(0))
        return PartCollected(skeins, release_rest, self.staff.typed, request_key(self.key))


class TransferForm(LotFields):
    """Skeins from one branch to another."""

    to_branch = PickField("To branch", [])

    def offer(self, branches: Sequence[BranchName]) -> None:
        """Fills both lists of branches."""
        super().offer(branches)
        self.to_branch.choices = self.branch.choices

    def transfer(self) -> Transfer | None:
        """Returns what goes where, or None with a message beside the box that cannot be."""
        if not self.skeins.validate(self):
            return None
        to_branch, skeins = self.to_branch.data or "", self.number_of_skeins()
        return Transfer(self.where(), to_branch, skeins, self.staff.typed, request_key(self.key))


class BranchForm(FlaskForm):
    """A new branch."""

    code = TextField("Code", "Small letters and digits, such as north.")
    name = TextField("Name", "What people call it; may be empty.")


class PersonForm(FlaskForm):
    """A whole name, a whole number, or both; sent in the body only."""

    name = TextField("Customer’s whole name")
    phone = TextField("Whole telephone number", render_kw={"type": "tel", "autocomplete": "off"})
    percent = NumberField("Always works", "Percent, such as 4.")
    way = PickField(
        "Which way the hand is off",
        HAND_WAY,
        default="tighter",
    )
    agreed = BooleanField("Agreed that we keep the hand")

    def boxes(self) -> list[object]:
        """Returns every box that may hold a message."""
        return [self.name, self.phone, self.percent, self.agreed]

    def note(self, person: Person) -> HandNote:
        """Returns the hand as typed."""
        looser = self.way.data == "looser"
        return HandNote(person, self.percent.typed, looser, bool(self.agreed.data))
