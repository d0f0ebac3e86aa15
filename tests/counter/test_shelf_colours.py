"""Adding a colour to a yarn at the counter."""

from typing import Any

import pytest

from tests.counter.conftest import Counter
from tests.pages import read_page

ADD = "/shelf/yarn/colour?sku=OY-0101"
GOOD = {"code": "N7", "colour_name": "Lantern", "family": "yellow", "gtin": "6291041500213"}


def test_a_new_colour_takes_stock_at_once(demo_counter: Counter) -> None:
    told = demo_counter.fill(ADD, **GOOD)
    assert told.status_code == 303
    stock = demo_counter.look(told.headers["Location"])
    assert "The colour is added" in stock.text
    assert stock.held("colour") == "N7"
    assert demo_counter.fill(told.headers["Location"], lot="A1", skeins="4").status_code == 303
    assert "Lantern" in demo_counter.look("/shelf/yarn?sku=OY-0101").text
    # GS1's worked example of a check digit: 629104150021 takes a 3.
    found = demo_counter.client.get("/shelf", query_string={"q": "6291041500213"})
    assert found.status_code == 303


WRONG_COLOURS = [
    ("code", ""),
    ("code", "x" * 41),
    ("colour_name", ""),
    ("family", "plaid"),
    ("gtin", "6291041500214"),
    ("gtin", "<b>"),
]


@pytest.mark.parametrize(("box", "bad"), WRONG_COLOURS)
def test_a_bad_box_comes_back_with_its_message(demo_counter: Counter, box: str, bad: str) -> None:
    typed: dict[str, Any] = {**GOOD, box: bad}
    told = demo_counter.fill(ADD, **typed)
    assert told.status_code == 422
    assert read_page(told.text).message(box)


def test_a_code_that_is_taken_is_not_added_again(demo_counter: Counter) -> None:
    demo_counter.fill(ADD, **GOOD)
    told = demo_counter.fill(ADD, **GOOD)
    assert told.status_code == 409
    assert "colour of this code" in read_page(told.text).message("code")


def test_no_such_yarn_is_not_found(demo_counter: Counter) -> None:
    assert demo_counter.client.get("/shelf/yarn/colour?sku=nothing").status_code == 404
