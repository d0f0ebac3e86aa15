"""The settings page: saved whole or not at all, and never over somebody else's change."""

import pytest
from sqlalchemy import Engine

from shopdesk.shelf.writing import writing
from shopdesk.store.database import reading
from shopdesk.store.settings import ShopSettings, load_settings, save_settings
from tests.counter.conftest import Counter
from tests.pages import read_page

GOOD = {
    "shop_name": "Knäuel & Co",
    "currency": "gbp",
    "tax_included": "no",
    "units": "both",
    "crochet_terms": "UK",
    "paper": "roll-80",
    "allowance_percent": "12,5",
    "country": "gb",
    "language": "de",
    "hold_days": "7",
}


def held(shelf: Engine) -> ShopSettings:
    with reading(shelf) as session:
        return load_settings(session)


def test_the_page_shows_what_is_held(counter: Counter) -> None:
    page = counter.look("/settings")
    for name, text in ShopSettings().texts().items():
        assert page.held(name) == text


def test_settings_are_saved_and_said_to_be(counter: Counter, shelf: Engine) -> None:
    answer = counter.fill("/settings", **GOOD)
    assert answer.status_code == 303
    assert "saved" in counter.look("/settings").text
    assert "saved" not in counter.look("/settings").text
    saved = held(shelf).texts()
    assert saved["shop_name"] == "Knäuel & Co"
    assert (saved["currency"], saved["country"]) == ("GBP", "GB")
    assert saved["allowance_percent"] == "12.5"
    assert saved["tax_included"] == "no"


NUMBERS = ["allowance_percent", "hold_days", "swatch_reminder_days", "keep_names_days"]
BAD = {
    **{name: ["", "-1", "abc", "1e9", "NaN", "9" * 300, "٣", "<b>"] for name in NUMBERS},
    "shop_name": ["", "x" * 81],
    "address": ["x" * 301],
    "currency": ["", "EURO", "XX1", "<b>"],
    "country": ["Germany", "X", "12"],
    "language": ["", "tlh", "zz-ZZ", "../../etc"],
    "units": ["cubits"],
    "crochet_terms": [""],
    "tax_included": ["perhaps"],
    "paper": ["A0"],
}


@pytest.mark.parametrize("box", BAD)
def test_a_bad_setting_comes_back_with_its_message(
    counter: Counter, shelf: Engine, box: str
) -> None:
    for bad in BAD[box]:
        answer = counter.fill("/settings", **{**GOOD, box: bad})
        page = read_page(answer.text)
        assert answer.status_code == 422
        assert f"{box}-wrong" in page.ids
        if box not in ("units", "crochet_terms", "tax_included", "paper"):
            assert page.held(box) == bad
        assert page.held("return_wording") == ""
    assert held(shelf) == ShopSettings()


def test_a_change_made_meanwhile_is_not_overwritten_silently(
    counter: Counter, shelf: Engine
) -> None:
    page = counter.look("/settings")
    with writing(shelf) as session:
        save_settings(session, ShopSettings(shop_name="Theirs"))
    answer = counter.fill("/settings", page, shop_name="Mine")
    again = read_page(answer.text)
    assert answer.status_code == 409
    told = "Somebody changed the settings while this page was open. Look at the boxes again; "
    assert f"{told}saving now replaces those changes." in again.text
    assert again.held("shop_name") == "Mine"
    assert held(shelf).shop_name == "Theirs"
    assert counter.fill("/settings", again).status_code == 303
    assert held(shelf).shop_name == "Mine"
