"""A counter that works until it is killed: `python -m tests.services.shop_killed URL`.

Each line of standard input holds the number of the first step, and in which kind of step, at which
of its moments and in which way the counter ends. A new process then takes that step and those
after it, and prints each as soon as it is kept: what a customer would have been told.
"""

import json
import os
import sys
from dataclasses import dataclass
from pathlib import Path

from sqlalchemy import Engine, select

from shopdesk.exchange.importing import Source, import_file
from shopdesk.exchange.uploads import import_of
from shopdesk.services.contacts import checked_contact, keep_contact
from shopdesk.services.holds import HoldOrder, hold_skeins
from shopdesk.services.sales import slip_row
from shopdesk.services.slips import SlipOrder, write_slip
from shopdesk.shelf.writing import writing
from shopdesk.shop.shop import Shop
from shopdesk.store.database import open_shelf, reading
from shopdesk.store.models import Contact
from tests.ask_documents import an_ask_document
from tests.moments import Moments, Way
from tests.services.slips_at_counter import OTHER_LOT, SLIP_LOT, a_judged_yarn, shop_on
from tests.slip_factories import a_choice

KINDS = ("slip", "hold", "slip", "hold", "slip", "hold", "import")
STEPS_BEFORE = 2 * len(KINDS)


@dataclass(frozen=True, slots=True)
class Ending:
    """With which step a worker begins; in what kind of step, where and how it ends."""

    first: int
    kind: str
    moment: int
    way: Way

    @staticmethod
    def read(line: str) -> "Ending":
        """Returns what a line says."""
        first, kind, moment, way = line.split()
        return Ending(int(first), kind, int(moment), Way(way))

    def line(self) -> str:
        """Returns it as a line."""
        return f"{self.first} {self.kind} {self.moment} {self.way}\n"


def kind_of(step: int) -> str:
    """Returns what a step does."""
    return KINDS[step % len(KINDS)]


def take(engine: Engine, step: int, files: tuple[Path, Path]) -> None:
    """Takes one step, in one transaction, as a form with a key of its own would ask for it."""
    kind, key = kind_of(step), f"step-{step}"
    if kind == "import":
        file = files[step // len(KINDS) % 2]
        with reading(engine) as session:
            if import_of(session, key) is not None:
                return
        import_file(engine, Source(file, file.name, "stock"), request_key=key)
        return
    if kind == "hold":
        hold_skeins(Shop(engine), HoldOrder(((SLIP_LOT, 1), (OTHER_LOT, 1)), request_key=key))
        return
    with writing(engine) as session:
        order = SlipOrder(an_ask_document(), a_choice(), "AB", request_key=key)
        number = write_slip(session, shop_on(engine), a_judged_yarn(), order).summary.number
        contact = checked_contact(f"Customer {step}", "", False)
        row = slip_row(session, number)
        if session.scalar(select(Contact.id).where(Contact.slip_id == row.id)) is None:
            keep_contact(session, contact, row.id)


def work(engine: Engine, files: tuple[Path, Path], ending: Ending, moments: Moments) -> None:
    """Takes step after step until it is killed in a step of the kind, but not in the first.

    A step that has fewer moments than were wanted is the end too.
    """
    step = ending.first
    while True:
        last = step > ending.first and kind_of(step) == ending.kind
        moments.choose(ending.moment if last else 0, ending.way)
        take(engine, step, files)
        if last and moments.passed < ending.moment:
            moments.end()
        os.write(1, b"%d\n" % step)
        step += 1


def moments_of_each_kind(
    engine: Engine, files: tuple[Path, Path], moments: Moments
) -> dict[str, int]:
    """Takes each kind of step so often that all is loaded; returns the moments of its last one."""
    found: dict[str, int] = {}
    for step in range(STEPS_BEFORE):
        moments.choose(0)
        take(engine, step, files)
        found[kind_of(step)] = moments.passed
    return found


def main(url: str, *names: str) -> None:
    """Says how many moments each kind of step has, and forks a worker for each line."""
    files, engine, moments = (Path(names[0]), Path(names[1])), open_shelf(url), Moments()
    moments.watch_database(engine)
    found = moments_of_each_kind(engine, files, moments)
    engine.dispose()
    os.write(1, json.dumps(found).encode() + b"\n")
    for line in sys.stdin:
        worker = os.fork()
        if worker == 0:
            work(engine, files, Ending.read(line), moments)
        os.write(1, b"worker %d\n" % worker)
        os.waitpid(worker, 0)
        os.write(1, b"gone\n")


if __name__ == "__main__":
    main(*sys.argv[1:])
