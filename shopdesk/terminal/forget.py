"""`shopdesk forget`: what is kept about a customer, removed or given out."""

from typing import TYPE_CHECKING

import click

from shopdesk.terminal.boundary import BadUsage
from shopdesk.terminal.visiting import branch_option

if TYPE_CHECKING:
    from sqlalchemy.orm import Session

    from shopdesk.services.privacy import Forgotten, Person


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
    from shopdesk.services.privacy import remembered
    from shopdesk.terminal.printing import print_json
    from shopdesk.terminal.visiting import shop_to_read, shop_to_write

    if show and (slip is not None or old):
        raise BadUsage("--show goes with a name or a number only")
    person = None if slip is not None or old else _person()
    if show and person is not None:
        with shop_to_read(data) as session:
            print_json(remembered(session, person))
        return
    with shop_to_write(data) as session:
        gone = _forget(session, person, slip, branch)
    click.echo(
        f"removed: {gone.contacts} contacts, {gone.slips} names on slips, "
        f"{gone.swatches} names at swatches"
    )


def _person() -> "Person":
    from shopdesk.services.privacy import Person, PersonNotSaid
    from shopdesk.terminal.visiting import person_typed

    typed = person_typed(True)
    try:
        return Person(typed.name, typed.phone)
    except PersonNotSaid as refusal:
        raise BadUsage(str(refusal)) from None


def _forget(
    session: "Session", person: "Person | None", slip: int | None, branch: str
) -> "Forgotten":
    from shopdesk.services.privacy import forget_old, forget_person, forget_slip

    if person is not None:
        return forget_person(session, person)
    if slip is not None:
        return forget_slip(session, slip, branch)
    return forget_old(session)
