"""Holds at the counter: nothing typed is lost, and no name stands in an address."""

import logging

import pytest
from flask import Flask
from sqlalchemy import Engine

from shopdesk.services.hold_records import open_holds
from shopdesk.shelf.stock import available
from shopdesk.shelf.writing import writing
from shopdesk.store.database import reading
from shopdesk.store.settings import ShopSettings, save_settings
from tests.counter.conftest import Counter
from tests.pages import read_page
from tests.services.slips_at_counter import SLIP_LOT, a_slip, stock_shelf

BAND = {"sku": "T-1", "colour": "14", "lot": "M2231", "skeins": "4"}
ADA, PHONE = "Ada Lambswell", "01632 960111"


@pytest.fixture
def stocked(shelf: Engine) -> Engine:
    stock_shelf(shelf)
    a_slip(shelf)
    return shelf


def free(shelf: Engine) -> int:
    with reading(shelf) as session:
        return available(session, SLIP_LOT)


def test_a_lot_is_held_and_collected(counter: Counter, stocked: Engine) -> None:
    made = counter.fill("/holds/new", **BAND, name=ADA, phone=PHONE)
    assert (made.status_code, made.headers["Location"]) == (303, "/holds/1")
    page = counter.look("/holds/1")
    assert ADA in page.text
    assert free(stocked) == 16
    for _ in range(2):
        assert counter.fill("/holds/1", page, do="collect", staff="MB").status_code == 303
    assert "Collected." in counter.look("/holds/1").text
    assert free(stocked) == 16
    with reading(stocked) as session:
        assert open_holds(session) == ()


def test_what_a_slip_says_is_held(counter: Counter, stocked: Engine) -> None:
    assert counter.fill("/holds/new?slip=1").status_code == 303
    with reading(stocked) as session:
        assert [(one.skeins, one.slip_number) for one in open_holds(session)] == [(5, 1)]
    assert counter.client.get("/holds/new?slip=77").status_code == 404


def test_a_form_sent_twice_holds_once(counter: Counter, stocked: Engine) -> None:
    page = counter.look("/holds/new")
    first = counter.fill("/holds/new", page, **BAND)
    second = counter.fill("/holds/new", page, **BAND)
    assert first.headers["Location"] == second.headers["Location"]
    assert free(stocked) == 16


def test_release_and_extend(counter: Counter, stocked: Engine) -> None:
    counter.fill("/holds/new", **BAND)
    assert counter.fill("/holds/1", do="extend", until="2020-01-01").status_code == 422
    assert counter.fill("/holds/1", do="extend", until="").status_code == 422
    assert counter.fill("/holds/1", do="release").status_code == 303
    assert free(stocked) == 20
    assert (
        counter.fill("/holds/1", page=counter.look("/holds/new"), do="collect").status_code == 409
    )


def test_some_of_a_hold_are_collected_once(counter: Counter, stocked: Engine) -> None:
    counter.fill("/holds/new", **BAND)
    page = counter.look("/holds/1")
    for wrong in ("", "0", "5", "x"):
        answer = counter.fill("/holds/1", page, do="part", skeins=wrong)
        assert answer.status_code == 422
        again = read_page(answer.text)
        assert again.message("skeins")
        assert again.held("skeins") == wrong
    for _ in range(2):
        assert counter.fill("/holds/1", page, do="part", skeins="3").status_code == 303
    assert "1 skein of" in counter.look("/holds/1").text
    assert counter.fill("/holds/1", do="collect").status_code == 303
    assert free(stocked) == 16


WRONG = {
    "skeins": ("0", "is outside what can be"),
    "until": ("tomorrow", "is not a day"),
    "phone": ("ring me", "no telephone number"),
}


@pytest.mark.parametrize("box", WRONG)
def test_what_cannot_be_comes_back_with_its_message(
    counter: Counter, stocked: Engine, box: str
) -> None:
    typed, words = WRONG[box]
    answer = counter.fill("/holds/new", **{**BAND, "name": ADA, box: typed})
    page = read_page(answer.text)
    assert answer.status_code == 422
    assert words in page.message(box)
    assert (page.held(box), page.held("name")) == (typed, ADA)
    assert free(stocked) == 20


def test_more_than_is_free_is_told_beside_the_box(counter: Counter, stocked: Engine) -> None:
    answer = counter.fill("/holds/new", **{**BAND, "skeins": "21"})
    assert "more than the 20 that are free" in read_page(answer.text).message("skeins")
    unknown = counter.fill("/holds/new", **{**BAND, "sku": "T-9"})
    assert unknown.status_code == 422
    assert "There is no yarn T-9" in unknown.text


def test_one_more_by_slip_and_by_band(counter: Counter, stocked: Engine) -> None:
    page = counter.look("/one-more?find=1")
    assert "20 skeins of the same lot are free here." in page.text
    assert any("lot=M2240" in link for link in page.links)
    assert "T-1" in counter.look("/one-more?find=T-1&colour=14&lot=M2231").text
    assert "Which colour" in counter.look("/one-more?find=t-1").text
    for wrong in ("T-9", "77", "4006381333932", "%F0%9F%A7%B6"):
        answer = counter.client.get(f"/one-more?find={wrong}")
        assert answer.status_code == 422
        assert read_page(answer.text).message("find")


def test_the_morning_lists_what_ends_today(counter: Counter, stocked: Engine) -> None:
    from datetime import date

    counter.fill("/holds/new", **BAND, name=ADA, until=date.today().isoformat())
    page = counter.look("/morning")
    assert "Holds that end today 1" in " ".join(page.text.split())
    assert ADA in page.text


def test_no_name_and_no_number_stand_in_an_address_or_a_log(
    app: Flask, stocked: Engine, caplog: pytest.LogCaptureFixture, monkeypatch: pytest.MonkeyPatch
) -> None:
    counter = Counter(app.test_client())
    caplog.set_level(logging.DEBUG)
    made = counter.fill("/holds/new", **BAND, name=ADA, phone=PHONE)
    pages = [counter.look(path) for path in ("/holds", "/holds/1", "/morning", "/slips")]

    def breaks(*_: object) -> None:
        raise RuntimeError(f"broken while {ADA} waited")

    monkeypatch.setattr("shopdesk.counter.views.holds.hold_skeins", breaks)
    form = counter.look("/holds/new")
    assert counter.fill("/holds/new", form, **BAND, name=ADA, phone=PHONE).status_code == 500
    addresses = " ".join(
        [made.headers["Location"], *(link for page in pages for link in page.links)]
    )
    for word in ("Lambswell", "960111"):
        assert word not in addresses
        assert word not in caplog.text
    assert "RuntimeError" in caplog.text


def test_unopened_skeins_come_back_once(counter: Counter, stocked: Engine) -> None:
    assert "takes nothing back" in counter.look("/slips/1/returns").text
    with writing(stocked) as session:
        save_settings(session, ShopSettings(return_days=28))
    page = counter.look("/slips/1/returns")
    for _ in range(2):
        sent = counter.fill("/slips/1/returns", page, skeins="2")
        assert sent.status_code == 303
    assert free(stocked) == 22
    assert counter.fill("/slips/1/returns", skeins="4").status_code == 422
    assert counter.fill("/slips/1/returns", skeins="1", lot="7").status_code == 422
    assert counter.client.get("/slips/9/returns").status_code == 404


def test_a_part_ball_is_weighed(counter: Counter, stocked: Engine) -> None:
    # 100 g of 230 m: 40 g hold 92 m, by proportion.
    assert "About 92 m" in counter.look("/left-over?sku=T-1&grams=40").text
    for wrong in ("sku=T-9&grams=40", "sku=T-1&grams=x", "sku=T-1&grams=0"):
        assert counter.client.get(f"/left-over?{wrong}").status_code == 422


def test_skeins_are_sent_to_another_branch_once(counter: Counter, stocked: Engine) -> None:
    page = counter.look("/branches")
    for _ in range(2):
        sent = counter.fill("/branches/transfer", page, **BAND, branch="main", to_branch="north")
        assert sent.status_code == 303
    assert free(stocked) == 16
    same = counter.fill("/branches/transfer", counter.look("/branches"), **BAND, to_branch="main")
    assert same.status_code == 422
    assert "Both branches are" in same.text
    assert counter.fill("/branches", code="North!").status_code == 422
    assert counter.fill("/branches", code="south").status_code == 303


def test_what_is_kept_is_shown_given_and_forgotten(counter: Counter, stocked: Engine) -> None:
    counter.fill("/holds/new", **BAND, name=ADA, phone=PHONE)
    assert counter.fill("/customers").status_code == 422
    assert "Hold 1" in counter.fill("/customers", name=ADA, do="show").text
    given = counter.fill("/customers", name=ADA, do="file")
    assert given.json is not None
    assert given.json["contacts"][0]["phone"] == PHONE
    assert counter.fill("/customers", phone=PHONE, do="forget").status_code == 303
    assert ADA not in counter.look("/holds/1").text
