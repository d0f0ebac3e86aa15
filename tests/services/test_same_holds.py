"""Page and command hold, collect, release and extend alike, and refuse in the same words."""

from datetime import date, timedelta
from pathlib import Path

import pytest
from sqlalchemy import Engine

from shopdesk.services.holds import HoldOrder, hold_skeins
from shopdesk.shop.shop import Shop
from shopdesk.wording.formatting import capital
from tests.services.slips_at_counter import SLIP_LOT, slip_1_of_north, stock_shelf
from tests.services.two_copies import TwoCopies, two_copies

BAND = {"sku": "T-1", "colour": "14", "lot": "M2231", "skeins": "4"}
LOT = ("T-1", "--colour", "14", "--lot", "M2231")
SOON = (date.today() + timedelta(days=3)).isoformat()


def hold_1(shelf: Engine) -> None:
    """Holds five skeins: hold 1."""
    hold_skeins(Shop(shelf), HoldOrder(((SLIP_LOT, 5),)))


@pytest.fixture
def copies(tmp_path: Path, empty_shelf_file: Path) -> TwoCopies:
    return two_copies(tmp_path, empty_shelf_file, stock_shelf, slip_1_of_north, hold_1)


@pytest.mark.compares("holds.hold_skeins")
def test_a_lot_is_held_for_a_customer(copies: TwoCopies) -> None:
    page = copies.counter.fill(
        "/holds/new", **BAND, name="Ada Lamb", phone="01632 960111", until=SOON, staff="MB"
    )
    assert page.status_code == 303
    words = ("hold", *LOT, "--skeins", "4", "--until", SOON, "--staff", "MB", "--customer")
    assert copies.command(*words, given="Ada Lamb\n01632 960111\n").exit_code == 0
    assert copies.changed_alike()


@pytest.mark.compares("holds.hold_skeins")
def test_what_a_slip_of_another_branch_says_is_held(copies: TwoCopies) -> None:
    assert copies.counter.fill("/holds/new?slip=1&branch=north").status_code == 303
    (made,) = copies.said("hold", "--slip", "1", "--branch", "north", "--json")["holds"]
    assert (made["branch"], made["skeins"], made["slip"]) == ("north", 5, 1)
    assert copies.changed_alike()


@pytest.mark.parametrize(
    ("typed", "words"),
    [
        pytest.param(
            {"do": "collect"},
            ("collect", "1"),
            marks=pytest.mark.compares("holds.collect_hold"),
        ),
        pytest.param(
            {"do": "part", "skeins": "2"},
            ("collect", "1", "--skeins", "2"),
            marks=pytest.mark.compares("holds.collect_part"),
        ),
        pytest.param(
            {"do": "part-release", "skeins": "2"},
            ("collect", "1", "--skeins", "2", "--release-rest"),
            marks=pytest.mark.compares("holds.collect_part"),
        ),
        pytest.param(
            {"do": "release"},
            ("release", "1"),
            marks=pytest.mark.compares("holds.release_hold"),
        ),
        pytest.param(
            {"do": "extend", "until": SOON},
            ("extend", "1", "--until", SOON),
            marks=pytest.mark.compares("holds.extend_hold"),
        ),
    ],
)
def test_a_hold_is_changed(
    copies: TwoCopies, typed: dict[str, str], words: tuple[str, ...]
) -> None:
    assert copies.counter.fill("/holds/1", **typed, staff="MB").status_code == 303
    assert copies.command(*words, "--staff", "MB").exit_code == 0
    assert copies.changed_alike()


@pytest.mark.parametrize(
    ("path", "typed", "words"),
    [
        ("/holds/new", {**BAND, "skeins": "16"}, ("hold", *LOT, "--skeins", "16")),
        (
            "/holds/new",
            {**BAND, "staff": "s" * 61},
            ("hold", *LOT, "--skeins", "4", "--staff", "s" * 61),
        ),
        (
            "/holds/1",
            {"do": "collect", "staff": "s" * 61},
            ("collect", "1", "--staff", "s" * 61),
        ),
        ("/holds/new", {**BAND, "lot": "none"}, ("hold", *LOT[:-1], "none", "--skeins", "4")),
        (
            "/holds/new",
            {**BAND, "until": "2020-01-01"},
            ("hold", *LOT, "--skeins", "4", "--until", "2020-01-01"),
        ),
        ("/holds/1", {"do": "part", "skeins": "6"}, ("collect", "1", "--skeins", "6")),
        (
            "/holds/1",
            {"do": "extend", "until": "2020-01-01"},
            ("extend", "1", "--until", "2020-01-01"),
        ),
    ],
)
def test_what_cannot_be_is_refused_in_the_same_words(
    copies: TwoCopies, path: str, typed: dict[str, str], words: tuple[str, ...]
) -> None:
    page = copies.counter.fill(path, **typed)
    command = copies.command(*words)
    assert (page.status_code, command.exit_code) == (422, 2)
    told = command.stderr.removeprefix("shopdesk: ").strip()
    assert capital(told) in page.text.replace("&#39;", "'")
    assert copies.unchanged()


@pytest.mark.compares("hold_records.list_holds")
def test_the_same_holds_are_listed(copies: TwoCopies) -> None:
    links = copies.counter.look("/holds").links
    listed = copies.said("hold", "--list", "--json")["holds"]
    assert [one["hold"] for one in listed] == [1]
    assert [link for link in links if link.startswith("/holds/") and link != "/holds/new"] == [
        f"/holds/{one['hold']}" for one in listed
    ]
