"""Every verb is called by page and command, or says why not; what both call is compared."""

from collections.abc import Iterator, Mapping
from pathlib import Path

import pytest
from sqlalchemy import Engine

from shopdesk.services import hold_records, slips
from shopdesk.shop.shop import Shop
from tests.services.slips_at_counter import stock_shelf
from tests.services.two_copies import two_copies
from tests.services.verbs import (
    BOTH,
    Ways,
    called_both_ways,
    comparisons,
    modules_imported_whole,
    watching,
    ways_of_verbs,
)
from tests.test_architecture import PACKAGE, ROOT

FORM = "a form is filled in with what is kept; a command is given it in words"
UPLOAD = "a page needs the file kept until it is decided on; a command has it on its disk"
TYPED = "one yarn is typed into a form; a command takes yarns in as a table"

# Verbs that only one of the two calls, and why the other does without.
ONE_WAY: Mapping[str, Mapping[str, str]] = {
    "counter": {
        "answers.count_proposed": "a command lists as many yarns as --most says",
        "answers.judge_named": "a page looks a yarn up by its words; a command is given its SKU",
        "asks.saved_ask": "a page finds its ask again by its address; a command is given its file",
        "calibration.shop_calibration": "the owner reads it; `doctor` says the same in one line",
        "hold_records.find_hold": "a hold has a page; commands list holds and print what they do",
        "labels.print_tickets": "tickets are printed from the yarn's page; no command prints any",
        "sales.lots_on_slip": "the form shows what it would hold before it is sent",
        "selection.stock_elsewhere": "the form shows other branches beside each colour",
        "setting_changes.save_settings": "the shop is set up on its settings page alone",
        "slips.ask_again": "an ask is changed in its form; for a command it is a file to change",
        "slips.find_slips": "slips are looked for on the page; a command writes one to a file",
        "slips.show_slip": "a slip is read on the page; a command writes it to a file",
        "swatches.find_subject": "the form shows what the swatch is held against before it is sent",
        "swatches.find_swatch": "a swatch has a page; the command prints what it keeps at once",
        "swatches.list_swatches": "they are listed on the slip's page, which no command has",
        "table_files.choose_columns": "columns are chosen in a form; the command takes --map",
        "table_files.column_fields": "the form offers them; the README lists them for --map",
        "table_files.find_upload": UPLOAD,
        "table_files.import_of_upload": "a page may be sent twice; a command runs once",
        "table_files.list_imports": "the page shows which import it undoes; --undo is of the last",
        "table_files.look_at_upload": UPLOAD,
        "table_files.take_in_upload": UPLOAD,
        "table_files.upload_headings": "the form offers them; the command's user sees the file",
        "table_files.upload_table": UPLOAD,
        "yarn_changes.add_colour": TYPED,
        "yarn_changes.add_measurement": "wraps and weighed lengths are entered on the page alone",
        "yarn_changes.add_yarn": TYPED,
        "yarn_changes.edit_yarn": TYPED,
        "yarn_changes.yarn_texts": FORM,
        "yarn_finding.suggest_yarns": "it is asked at each letter that is typed into the page",
    },
    "terminal": {
        "hands.hand_of": "the page shows a hand with all that is kept of the customer",
        "labels.check_stock": "it is for whoever looks after the data, as `doctor` is",
        "privacy.forget_customer_of_slip": "the page forgets by name or number, of all slips",
        "privacy.forget_old_customers": "a counter does it by its clock; a command when it is told",
    },
}


def faults(
    ways: Ways, reasons: Mapping[str, Mapping[str, str]], compared: Mapping[str, object]
) -> Iterator[str]:
    """Yields what is wrong with verbs: no reason, one that holds no more, or no comparison."""
    for verb, rooms in ways.items():
        if rooms == BOTH and verb not in compared:
            yield f"{verb}: no test compares page and command"
        for room in rooms if rooms != BOTH else ():
            if not reasons[room].get(verb):
                yield f"{verb}: called by the {room} alone, and no reason is given"
    for room, given in reasons.items():
        for verb in given:
            if ways.get(verb) != {room}:
                yield f"{verb}: not called by the {room} alone, as its reason says"
    for verb in compared:
        if ways.get(verb) != BOTH:
            yield f"{verb}: compared, and not called by both"


def test_each_verb_is_called_and_compared_both_ways_or_says_why_not() -> None:
    ways = ways_of_verbs(PACKAGE)
    assert {"holds.hold_skeins", "slips.show_slip", "labels.check_stock"} <= ways.keys()
    assert list(faults(ways, ONE_WAY, comparisons(ROOT / "tests"))) == []


def test_pages_and_commands_import_verbs_by_their_names() -> None:
    assert modules_imported_whole(PACKAGE) == []


VERBS = """
from shopdesk.services.soil import dig
def water(shop: Shop): return _wet(shop)
def _wet(shop: Shop): return dig(shop)
def mow(shop: Shop, high: int): ...
def rake(session: Session): ...
def count(seeds: int): ...
"""


@pytest.fixture
def garden(tmp_path: Path) -> Path:
    """A package whose page and command water, which digs, and whose page mows too."""
    for name, text in {
        "services/lawn.py": VERBS,
        "services/soil.py": "def dig(shop: Shop): ...\ndef dung(shop: Shop): ...\n",
        "counter/views/lawn.py": "from shopdesk.services.lawn import count, mow, water\n",
        "terminal/lawn.py": "def command():\n    from shopdesk.services.lawn import water\n",
        "terminal/soil.py": "from shopdesk.services.soil import dig\n",
    }.items():
        (tmp_path / name).parent.mkdir(parents=True, exist_ok=True)
        (tmp_path / name).write_text(text)
    return tmp_path


REASONS = {"counter": {"lawn.mow": "grass has no terminal"}, "terminal": {}}
COMPARED = {"lawn.water": "a test", "soil.dig": "a test"}


def test_a_verb_is_called_straight_or_through_another(garden: Path) -> None:
    ways = ways_of_verbs(garden)
    assert ways == {"lawn.mow": {"counter"}, "lawn.water": set(BOTH), "soil.dig": set(BOTH)}
    assert list(faults(ways, REASONS, COMPARED)) == []


@pytest.mark.parametrize(
    ("room", "verb", "found"),
    [
        ("counter", "soil.dung", "soil.dung: called by the counter alone, and no reason is given"),
        (
            "terminal",
            "soil.dung",
            "soil.dung: called by the terminal alone, and no reason is given",
        ),
        ("terminal", "lawn.mow", "lawn.mow: not called by the counter alone, as its reason says"),
        ("terminal", "lawn.mow", "lawn.mow: no test compares page and command"),
    ],
)
def test_a_verb_that_is_called_anew_is_found(
    garden: Path, room: str, verb: str, found: str
) -> None:
    module, _, name = verb.partition(".")
    (garden / room / "planted.py").write_text(f"from shopdesk.services.{module} import {name}\n")
    assert found in faults(ways_of_verbs(garden), REASONS, COMPARED)


def test_a_verb_that_is_gone_is_found(garden: Path) -> None:
    (garden / "counter" / "views" / "lawn.py").unlink()
    assert list(faults(ways_of_verbs(garden), REASONS, COMPARED)) == [
        "lawn.water: called by the terminal alone, and no reason is given",
        "soil.dig: called by the terminal alone, and no reason is given",
        "lawn.mow: not called by the counter alone, as its reason says",
        "lawn.water: compared, and not called by both",
        "soil.dig: compared, and not called by both",
    ]


def test_an_empty_reason_is_none(garden: Path) -> None:
    reasons = {**REASONS, "counter": {"lawn.mow": ""}}
    assert list(faults(ways_of_verbs(garden), reasons, COMPARED)) == [
        "lawn.mow: called by the counter alone, and no reason is given"
    ]


def test_a_module_of_verbs_that_is_imported_whole_is_found(garden: Path) -> None:
    lines = "from shopdesk.services import lawn\nimport shopdesk.services.soil\n"
    (garden / "terminal" / "planted.py").write_text(lines)
    assert modules_imported_whole(garden) == [
        "terminal/planted.py: shopdesk.services.lawn",
        "terminal/planted.py: shopdesk.services.soil",
    ]


def test_the_tests_that_name_a_verb_are_found(tmp_path: Path) -> None:
    (tmp_path / "test_lawn.py").write_text(
        '@pytest.mark.compares("lawn.water", "soil.dig")\ndef test_wet(): ...\n'
        '@parametrize("high", [pytest.param(1, marks=pytest.mark.compares("lawn.mow"))])\n'
        "def test_mown(high): ...\n"
        '@pytest.mark.slow("lawn.rake")\ndef test_raked(): ...\n'
        '@pytest.mark.compares("lawn.rake")\ndef no_test(): ...\n'
    )
    assert comparisons(tmp_path) == {
        "lawn.water": {"test_lawn.py::test_wet"},
        "soil.dig": {"test_lawn.py::test_wet"},
        "lawn.mow": {"test_lawn.py::test_mown"},
    }


def test_who_calls_a_verb_is_seen(tmp_path: Path, empty_shelf_file: Path) -> None:
    copies = two_copies(tmp_path, empty_shelf_file, stock_shelf)
    held = ("hold", "--list")
    with watching("hold_records.list_holds", "branches.list_branches") as ways:
        assert ways == {"hold_records.list_holds": set(), "branches.list_branches": set()}
        copies.command(*held)
        assert ways["hold_records.list_holds"] == {"terminal"}
        copies.counter.look("/holds")
    assert ways["hold_records.list_holds"] == BOTH
    assert ways["branches.list_branches"] == {"counter"}
    with watching("hold_records.list_holds") as ways:
        pass
    copies.command(*held)
    assert ways["hold_records.list_holds"] == set()


def test_a_verb_that_a_test_calls_itself_is_called_by_neither(shelf: Engine) -> None:
    with watching("slips.show_slip") as ways:
        assert slips.show_slip(Shop(shelf), 1) is None
    assert ways == {"slips.show_slip": set()}


def test_a_comparison_that_calls_one_way_only_fails(tmp_path: Path, empty_shelf_file: Path) -> None:
    copies = two_copies(tmp_path, empty_shelf_file, stock_shelf)
    verb = "hold_records.list_holds"
    with called_both_ways(verb):
        copies.counter.look("/holds")
        copies.command("hold", "--list")
    with pytest.raises(AssertionError, match="not by terminal"), called_both_ways(verb):
        copies.counter.look("/holds")
    with pytest.raises(AssertionError, match="not by counter"), called_both_ways(verb):
        copies.command("hold", "--list")


@pytest.mark.compares("hold_records.list_holds")
def test_a_marked_test_is_watched(tmp_path: Path, empty_shelf_file: Path) -> None:
    copies = two_copies(tmp_path, empty_shelf_file, stock_shelf)
    assert copies.counter.look("/holds").links
    assert copies.command("hold", "--list").exit_code == 0
    assert hasattr(hold_records.list_holds, "__wrapped__")
