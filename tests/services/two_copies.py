"""Two copies of one shop: the page works on the one, the command on the other."""

import json
import shutil
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from click.testing import CliRunner, Result
from sqlalchemy import Engine, select

from shopdesk.counter.application import create_app
from shopdesk.store.database import open_shelf, reading
from shopdesk.store.models import Base
from shopdesk.store.types import Moment
from shopdesk.terminal.main import main
from tests.counter.conftest import SECRET, Counter
from tests.terminal.shops import shop_with

Kept = dict[str, list[str]]


@dataclass
class TwoCopies:
    """A counter on one copy, commands on the other, and what both held at first."""

    counter: Counter
    page_shelf: Engine
    folder: Path
    command_shelf: Engine
    first: Kept

    def command(self, *words: str, given: str = "") -> Result:
        """Runs a command on its copy."""
        return CliRunner().invoke(main, ["--data", str(self.folder), *words], input=given)

    def said(self, *words: str, given: str = "") -> Any:
        """Runs a command that must succeed, and returns the JSON it prints."""
        done = self.command(*words, given=given)
        assert done.exit_code == 0, done.output
        return json.loads(done.stdout)

    def changed_alike(self) -> bool:
        """True if both copies hold the same, and something else than at first."""
        page, command = kept(self.page_shelf), kept(self.command_shelf)
        assert page == command
        return page != self.first

    def unchanged(self) -> bool:
        """True if both copies hold what they held at first."""
        return kept(self.page_shelf) == kept(self.command_shelf) == self.first


def two_copies(folder: Path, empty_shelf: Path, *filling: Callable[[Engine], object]) -> TwoCopies:
    """Returns two copies of a shop whose shelf each of `filling` put something on."""
    here = shop_with(folder / "page", empty_shelf, *filling)
    there = Path(shutil.copytree(here, folder / "command"))
    shelves = [open_shelf(f"sqlite:///{one / 'shopdesk.sqlite3'}") for one in (here, there)]
    counter = Counter(create_app(shelves[0], SECRET).test_client())
    return TwoCopies(counter, shelves[0], there, shelves[1], kept(shelves[0]))


def kept(engine: Engine) -> Kept:
    """Returns all that a shop holds, but the moments at which it was done and forms' words."""
    found = {}
    with reading(engine) as session:
        for name, table in Base.metadata.tables.items():
            if name == "done_form":
                continue
            timeless = [
                column
                for column in table.c
                if not isinstance(column.type, Moment) and column.name != "request_key"
            ]
            found[name] = sorted(map(repr, session.execute(select(*timeless)).all()))
    return found
