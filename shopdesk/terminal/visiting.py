"""What the verbs of a customer's visit share: the shop, days, people, and holds as documents."""

from collections.abc import Iterator
from contextlib import contextmanager
from datetime import date
from typing import TYPE_CHECKING, Any

import click

from shopdesk.terminal.boundary import Refused, Stopped

if TYPE_CHECKING:
    from sqlalchemy.orm import Session

    from shopdesk.shelf.shelved import Shelved
    from shopdesk.visits.contacts import ContactDetails
    from shopdesk.visits.holding import HoldRecord

json_option = click.option("--json", "as_json", is_flag=True, help="Print JSON.")
staff_option = click.option("--staff", default="", help="Who does it.")


def _own_branch(ctx: click.Context, _option: click.Parameter, typed: str | None) -> str:
    from shopdesk.shelf.counter_branch import CounterBranch
    from shopdesk.shelf.place import find_place

    return typed or CounterBranch(find_place(ctx.obj).folder).code()


branch_option = click.option(
    "--branch", callback=_own_branch, help="The branch, by its code. Default: this counter's."
)


@contextmanager
def shop_to_read(data: str | None) -> "Iterator[Session]":
    """Gives a reading session on the shop; what cannot be is told in its own words."""
    from shopdesk.shelf.database import reading
    from shopdesk.shelf.opening import opened_shop
    from shopdesk.shelf.place import find_place

    with opened_shop(find_place(data)) as engine, _told(), reading(engine) as session:
        yield session


@contextmanager
def shop_to_write(data: str | None) -> "Iterator[Session]":
    """Gives a writing session on the shop, kept as a whole or not at all."""
    from shopdesk.shelf.database import writing
    from shopdesk.shelf.opening import opened_shop
    from shopdesk.shelf.place import find_place

    with opened_shop(find_place(data)) as engine, _told(), writing(engine) as session:
        yield session


@contextmanager
def _told() -> Iterator[None]:
    """Turns what was asked and cannot be into exit code 2, in the refusal's own words."""
    from shopdesk.reading.gtins import GtinRefused
    from shopdesk.reading.numbers import NumberRefused
    from shopdesk.shelf.shelved import StockRefused
    from shopdesk.visits.branches import BranchRefused
    from shopdesk.visits.contacts import ContactRefused
    from shopdesk.visits.holds import HoldRefused
    from shopdesk.visits.leftovers import ReturnRefused
    from shopdesk.visits.one_more import BandUnknown
    from shopdesk.visits.privacy import PersonNotSaid
    from shopdesk.visits.slip_lots import SlipUnknown
    from shopdesk.visits.swatches import SwatchedYarnUnknown

    ours = (
        BandUnknown, BranchRefused, ContactRefused, GtinRefused, HoldRefused, NumberRefused,
        PersonNotSaid, ReturnRefused, SlipUnknown, StockRefused, SwatchedYarnUnknown,
    )  # fmt: skip
    try:
        yield
    except ours as refusal:
        raise Refused(str(refusal)) from None


def day_written(text: str | None, option: str) -> date | None:
    """Returns a day written as 2026-11-25, or None. Raises Refused."""
    if text is None:
        return None
    try:
        return date.fromisoformat(text)
    except ValueError:
        raise Refused(f"{option}: '{text}' is no day; write it as 2026-11-25") from None


def person_typed(ask: bool) -> "ContactDetails":
    """Asks for name and number, so that they stand in no command line. Raises Refused."""
    from shopdesk.visits.contacts import NO_CONTACT, ContactRefused, checked_contact

    if not ask:
        return NO_CONTACT
    try:
        return checked_contact(_typed("Name"), _typed("Telephone"))
    except ContactRefused as refusal:
        raise Refused(f"{refusal.field}: {refusal}") from None


def _typed(what: str) -> str:
    try:
        return str(click.prompt(what, default="", show_default=False, err=True))
    except click.Abort:
        raise Stopped("nothing was typed; nothing was changed") from None


def where_document(where: "Shelved") -> dict[str, Any]:
    """Returns a lot in a branch as JSON."""
    return {
        "sku": where.sku,
        "colour": where.colour_code,
        "lot": where.lot,
        "branch": where.branch,
    }


def hold_document(one: "HoldRecord") -> dict[str, Any]:
    """Returns a hold as JSON, without the customer."""
    return {
        "hold": one.number,
        **where_document(one.where),
        "yarn": one.yarn,
        "colour_name": one.colour,
        "skeins": one.skeins,
        "until": one.until.isoformat(),
        "state": one.state.value,
        "slip": one.slip_number,
    }


def hold_line(one: "HoldRecord") -> str:
    """Returns a hold in one line, without the customer."""
    slip = f", slip {one.slip_number}" if one.slip_number else ""
    return (
        f"hold {one.number}: {one.skeins} x {one.where}, {one.state.value} "
        f"until {one.until.isoformat()}{slip}"
    )


def show_holds(records: "tuple[HoldRecord, ...]", as_json: bool) -> None:
    """Prints holds, as JSON or a line each."""
    from shopdesk.terminal.printing import print_json

    if as_json:
        print_json({"holds": [hold_document(one) for one in records]})
        return
    for one in records:
        click.echo(hold_line(one))
