"""A lot that lies in another branch only: page, command and answer say that it must come first."""

import json
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from click.testing import Result
from sqlalchemy import select

from shopdesk.shelf.branch_lots import LotAtBranch
from shopdesk.shelf.stock import receive
from shopdesk.shelf.writing import writing
from shopdesk.shop.location import CounterBranch
from shopdesk.store.tables.yarns import Colourway, Yarn
from tests.services.slips_at_counter import stock_shelf
from tests.services.test_same_slip import (
    PULLOVER,
    Command,
    Page,
    both_ways,
    north_s_own,
    printed,
)
from tests.terminal.shops import shop_with


@pytest.fixture
def bare_north(tmp_path: Path, empty_shelf_file: Path) -> Iterator[tuple[Page, Command]]:
    """A shop in two copies, with nothing in north."""
    yield from both_ways(shop_with(tmp_path / "page", empty_shelf_file, stock_shelf))


@pytest.fixture
def ways(tmp_path: Path, empty_shelf_file: Path) -> Iterator[tuple[Page, Command]]:
    """The same with eight skeins of a lot of north's own."""
    yield from both_ways(shop_with(tmp_path / "page", empty_shelf_file, stock_shelf, north_s_own))


BRING_OVER = {
    "en": "The lots of Moss lie in branch main, none here: bring them over first (a transfer).",
    "de": "Die Partien von Moss liegen in der Filiale main, hier keine: zuerst herholen "
    "(Umlagerung).",
    "fr": "Les bains de Moss sont à la succursale main, aucun ici\N{NO-BREAK SPACE}: les faire "
    "venir d’abord (transfert).",
}


def test_a_lot_of_another_branch_is_said_to_be_brought_over_on_the_pages(
    bare_north: tuple[Page, Command],
) -> None:
    page, _ = bare_north
    counter = page.counter("north")
    answer = page.ask(PULLOVER, counter)
    told = BRING_OVER["en"].replace("The lots of Moss", "Their lots")
    assert told in " ".join(counter.look(answer).text.split())
    assert BRING_OVER["en"] in " ".join(counter.look(f"{answer}/yarn?sku=T-1").text.split())
    assert page.make(PULLOVER, "north") == ""
    shown = " ".join(counter.look("/slips/1").text.split())
    told = "When this was made, the lots of Moss lay in branch main, none here: bring them over "
    assert f"{told}first (a transfer), then they can be held or sold." in shown
    slip = page.slip("north")
    assert slip is not None
    assert "branch" not in printed(slip.pdf())


def test_of_some_colours_those_are_named_that_lie_elsewhere(
    bare_north: tuple[Page, Command],
) -> None:
    page, _ = bare_north
    with writing(page.engine) as session:
        yarn = session.scalars(select(Yarn)).one()
        for code, name in (("15", "Fern"), ("16", "Reed")):
            yarn.colourways.append(Colourway(code=code, name=name, family="green"))
        session.flush()
        receive(session, LotAtBranch("T-1", "15", "F1", "north"), 13)
        receive(session, LotAtBranch("T-1", "16", "R1", "main"), 13)
    counter = page.counter("north")
    text = " ".join(counter.look(page.ask(PULLOVER, counter)).text.split())
    assert "Enough in one lot: Fern, Moss, Reed" in text
    assert BRING_OVER["en"].replace("Moss", "Moss and Reed") in text


@pytest.mark.parametrize("language", BRING_OVER)
def test_a_lot_of_another_branch_is_said_to_be_brought_over_in_the_terminal(
    bare_north: tuple[Page, Command], language: str
) -> None:
    page, command = bare_north
    done = command.make(PULLOVER, "north", "--language", language)
    assert (done.exit_code, done.stderr) == (0, f"{BRING_OVER[language]}\n")
    assert done.stdout.startswith("Slip 1: ")
    CounterBranch(command.folder).keep("north")
    answered = command.run("answer", "-", "--language", language, document=PULLOVER)
    (colour,) = supplies(answered)
    assert colour["bring_over"]["text"] == BRING_OVER[language]
    assert page.make(PULLOVER, "north") == ""
    by_page, by_command = page.slip("north"), command.slip("north")
    assert by_page is not None
    assert by_command is not None
    assert by_command.content == by_page.content
    # What was told is so: it cannot be sold in north before it is brought over.
    assert command.run("shelf", "sold", "1", "--branch", "north").exit_code == 2
    words = ("T-1", "--colour", "14", "--lot", "M2231", "--skeins", "6", "--to", "north")
    assert command.run("transfer", *words).exit_code == 0
    assert command.run("shelf", "sold", "1", "--branch", "north").exit_code == 0


def supplies(answered: Result) -> list[dict[str, Any]]:
    """Returns how each colour of an answer with one yarn is supplied."""
    groups = json.loads(answered.stdout_bytes)["groups"]
    return [one for group in groups.values() for yarn in group for one in yarn["colours"]]


@pytest.mark.parametrize("branch", ["main", "north"])
def test_nothing_is_brought_over_where_the_branch_has_the_colour(
    ways: tuple[Page, Command], branch: str
) -> None:
    page, command = ways
    counter = page.counter(branch)
    answer = page.ask(PULLOVER, counter)
    for path in (answer, f"{answer}/yarn?sku=T-1"):
        assert "transfer" not in counter.look(path).text
    done = command.make(PULLOVER, branch)
    assert (done.exit_code, done.stderr) == (0, "")
    CounterBranch(command.folder).keep(branch)
    (colour,) = supplies(command.run("answer", "-", document=PULLOVER))
    assert colour["bring_over"] is None
    slip = command.slip(branch)
    assert slip is not None
    assert "slip.warn_bring_over" not in [one.code for one in slip.content.warnings]
