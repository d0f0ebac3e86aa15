"""A customer's name and number as typed, and what is kept about them removed or given out."""

import click

from shopdesk.services.contacts import NO_CONTACT, ContactDetails, ContactRefused, checked_contact
from shopdesk.services.hands import HandNote, hand_of, keep_hand
from shopdesk.services.privacy import (
    Forgotten,
    Person,
    customer_record,
    forget_customer,
    forget_customer_of_slip,
    forget_old_customers,
)
from shopdesk.shop.shop import Shop
from shopdesk.terminal.boundary import BadUsage, CommandFailed
from shopdesk.terminal.streams import print_json
from shopdesk.terminal.visiting import branch_option, naming_options, the_shop
from shopdesk.wording.formatting import ReaderPreferences
from shopdesk.wording.translate import told


@click.command()
@click.option("--slip", type=int, help="Forget the customer of this slip and of its holds.")
@click.option("--old", is_flag=True, help="Forget what is older than the setting keep_names_days.")
@click.option("--show", is_flag=True, help="Print all that is kept as JSON; forget nothing.")
@branch_option
@click.pass_obj
def forget(data: str | None, slip: int | None, old: bool, show: bool, branch: str) -> None:
    """Remove name and telephone number of a customer wherever they stand.

    Without --slip or --old it asks for the whole name or number, or reads them from standard
    input in two lines, so that they stand in no command line.
    """
    if show and (slip is not None or old):
        raise BadUsage("--show goes with a name or a number only")
    person = None if slip is not None or old else _person()
    with the_shop(data, branch) as shop:
        if show and person is not None:
            print_json(customer_record(shop, person))
            return
        gone = _forgotten(shop, person, slip)
    click.echo(
        f"removed: {gone.contacts} contacts, {gone.slips} names on slips, "
        f"{gone.swatches} names at swatches"
    )


@click.command()
@click.option("--tighter", default="", help="Percent that the customer always works tighter.")
@click.option("--looser", default="", help="Percent that the customer always works looser.")
@click.option("--agreed", is_flag=True, help="The customer agreed that it is kept.")
@click.pass_obj
def hand(data: str | None, tighter: str, looser: str, agreed: bool) -> None:
    """Keep a customer's hand, or print the kept one as the ask's `hand`.

    Name and telephone number are asked for, or read from standard input in two lines. The hand
    moves the tool to start with; `shopdesk forget` forgets it.
    """
    if tighter and looser:
        raise BadUsage("give --tighter or --looser, not both")
    person, percent = _person(), tighter or looser
    with the_shop(data) as shop, naming_options(percent="--looser" if looser else "--tighter"):
        if percent:
            keep_hand(shop, HandNote(person, percent, bool(looser), agreed))
        kept = hand_of(shop, person)
    way = "tighter" if (kept or 0) > 0 else "looser"
    print_json({"hand": None if kept is None else {"percent": abs(kept), "way": way}})


def _person() -> Person:
    typed = person_typed(True)
    return Person(typed.name, typed.phone)


def _forgotten(shop: Shop, person: Person | None, slip: int | None) -> Forgotten:
    if person is not None:
        return forget_customer(shop, person)
    if slip is not None:
        return forget_customer_of_slip(shop, slip)
    return forget_old_customers(shop)


def person_typed(ask: bool) -> ContactDetails:
    """Asks for name and number, so that they stand in no command line. Raises BadUsage."""
    if not ask:
        return NO_CONTACT
    try:
        return checked_contact(_typed("Name"), _typed("Telephone"))
    except ContactRefused as refusal:
        raise BadUsage(f"{refusal.field}: {told(refusal, ReaderPreferences())}") from None


def _typed(what: str) -> str:
    try:
        return str(click.prompt(what, default="", show_default=False, err=True))
    except click.Abort:
        raise CommandFailed("nothing was typed; nothing was changed") from None
