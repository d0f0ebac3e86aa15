"""A counter that works until it is killed: `python -m tests.services.shop_killed URL`.

Each line of standard input holds the number of the first step; a new process then takes that step
and those after it, and prints each as soon as it is kept: what a customer would have been told.
"""

import os
import sys
from pathlib import Path

from sqlalchemy import Engine, select

from shopdesk.exchange.importing import Source, import_file
from shopdesk.services.contacts import checked_contact, keep_contact
from shopdesk.services.holds import HoldTerms, put_by
from shopdesk.services.sales import slip_row
from shopdesk.services.slips import SlipOrder, write_slip
from shopdesk.shelf.branch_lots import LotAtBranch
from shopdesk.shelf.writing import writing
from shopdesk.store.database import open_shelf
from shopdesk.store.models import Contact
from tests.ask_documents import an_ask_document
from tests.services.slips_at_counter import OTHER_LOT, SLIP_LOT, a_judged_yarn, shop_on
from tests.slip_factories import a_choice

KINDS = ("slip", "hold", "slip", "hold", "slip", "hold", "import")


def kind_of(step: int) -> str:
    """Returns what a step does."""
    return KINDS[step % len(KINDS)]


def take(engine: Engine, step: int, files: tuple[Path, Path]) -> None:
    """Takes one step, in one transaction, as a form with a key of its own would ask for it."""
    kind, key = kind_of(step), f"step-{step}"
    if kind == "import":
        file = files[step // len(KINDS) % 2]
        import_file(engine, Source(file, file.name, "stock"), request_key=key)
        return
    with writing(engine) as session:
        if kind == "hold":
            picks: list[tuple[LotAtBranch, int]] = [(SLIP_LOT, 1), (OTHER_LOT, 1)]
            put_by(session, picks, HoldTerms(request_key=key))
            return
        order = SlipOrder(an_ask_document(), a_choice(), "AB", request_key=key)
        number = write_slip(session, shop_on(engine), a_judged_yarn(), order).summary.number
        contact = checked_contact(f"Customer {step}", "", False)
        row = slip_row(session, number)
        if session.scalar(select(Contact.id).where(Contact.slip_id == row.id)) is None:
            keep_contact(session, contact, row.id)


def work(engine: Engine, first: int, files: tuple[Path, Path]) -> None:
    """Takes step after step until it is killed."""
    step = first
    while True:
        take(engine, step, files)
        os.write(1, b"%d\n" % step)
        step += 1


def main(url: str, *names: str) -> None:
    """Takes each kind of step once, so that all is loaded, and forks a worker for each line."""
    files, engine = (Path(names[0]), Path(names[1])), open_shelf(url)
    for step in range(len(KINDS)):
        take(engine, step, files)
    engine.dispose()
    os.write(1, b"ready\n")
    for line in sys.stdin:
        worker = os.fork()
        if worker == 0:
            work(engine, int(line), files)
        os.write(1, b"worker %d\n" % worker)
        os.waitpid(worker, 0)
        os.write(1, b"gone\n")


if __name__ == "__main__":
    main(*sys.argv[1:])
