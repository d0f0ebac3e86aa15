"""What the verbs of a customer's visit share: the shop, days, people, and holds as documents."""

from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import replace
from datetime import date
from functools import cache
from typing import TYPE_CHECKING, Any

import click

from shopdesk.terminal.boundary import BadUsage, CommandFailed

if TYPE_CHECKING:
    from shopdesk.services.contacts import ContactDetails
    from shopdesk.services.hold_records import HoldRecord
    from shopdesk.shelf.branch_lots import LotAtBranch
    from shopdesk.shop.shop import Shop

json_option = click.option("--json", "as_json", is_flag=True, help="Print JSON.")
staff_option = click.option("--staff", default="", help="Who does it.")


def _own_branch(ctx: click.Context, _option: click.Parameter, typed: str | None) -> str:
    from shopdesk.shop.location import CounterBranch, find_place

    return typed or CounterBranch(find_place(ctx.obj).folder).code()


branch_option = click.option(
    "--branch", callback=_own_branch, help="The branch, by its code. Default: this counter's."
)


@contextmanager
def the_shop(data: str | None, branch: str | None = None) -> "Iterator[Shop]":
    """Gives the shop that a verb works with, as asked from a branch; None is the counter's own.

    Its settings are those of the verb's first look.
    """
    from shopdesk.shop.location import find_place
    from shopdesk.shop.shop import opened_shop

    with opened_shop(find_place(data)) as opened:
        shop = replace(opened, known_settings=cache(opened.settings))
        yield shop.in_branch(branch) if branch else shop


def day_written(text: str | None, option: str) -> date | None:
    """Returns a day written as 2026-11-25, or None. Raises BadUsage."""
    if text is None:
        return None
    try:
        return date.fromisoformat(text)
    except ValueError:
        raise BadUsage(f"{option}: '{text}' is no day; write it as 2026-11-25") from None


def person_typed(ask: bool) -> "ContactDetails":
    """Asks for name and number, so that they stand in no command line. Raises BadUsage."""
    from shopdesk.services.contacts import NO_CONTACT, ContactRefused, checked_contact

    if not ask:
        return NO_CONTACT
    try:
        return checked_contact(_typed("Name"), _typed("Telephone"))
    except ContactRefused as refusal:
        raise BadUsage(f"{refusal.field}: {refusal}") from None


def _typed(what: str) -> str:
    try:
        return str(click.prompt(what, default="", show_default=False, err=True))
    except click.Abort:
        raise CommandFailed("nothing was typed; nothing was changed") from None


def where_document(where: "LotAtBranch") -> dict[str, Any]:
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
