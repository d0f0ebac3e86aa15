"""A visit in a real browser: slip, hold, collect; pages pass axe, no name leaves the forms."""

import logging
from collections.abc import Iterator

import pytest
from flask import Flask
from sqlalchemy import Engine

from shopdesk.shelf.stock import available
from shopdesk.shelf.writing import writing
from shopdesk.store.database import reading
from shopdesk.store.settings import ShopSettings, save_settings
from tests.browser.axe import check_page
from tests.counter.serving import on_loopback
from tests.services.slips_at_counter import SLIP_LOT, a_slip, stock_shelf

ADA, PHONE = "Ada Lambswell", "01632 960111"
PAGES = (
    "/holds", "/holds/new", "/one-more?find=1", "/morning", "/left-over?sku=T-1&grams=40",
    "/slips/1/returns", "/branches", "/customers",
)  # fmt: skip


@pytest.fixture
def address(app: Flask, shelf: Engine) -> Iterator[str]:
    """A counter that is served, with slip 1 for five skeins."""
    stock_shelf(shelf)
    with writing(shelf) as session:
        save_settings(session, ShopSettings(return_days=28))
    a_slip(shelf)
    with on_loopback(app) as served:
        yield served


@pytest.mark.browser
def test_slip_hold_collect(
    browser: object, address: str, shelf: Engine, caplog: pytest.LogCaptureFixture
) -> None:
    caplog.set_level(logging.INFO)
    page = browser.new_page(viewport={"width": 1280, "height": 800})  # type: ignore[attr-defined]
    asked: list[str] = []
    page.on("request", lambda request: asked.append(request.url))
    page.goto(f"{address}/slips/1")
    page.get_by_role("link", name="Hold", exact=True).last.click()
    page.get_by_label("Customer’s name").fill(ADA)
    page.get_by_label("Telephone").fill(PHONE)
    page.get_by_role("button", name="Hold").click()
    page.wait_for_url("**/holds/1")
    assert ADA in page.inner_text("main")
    with reading(shelf) as session:
        assert available(session, SLIP_LOT) == 15
    page.get_by_role("button", name="Collected and sold", exact=True).click()
    page.wait_for_selector("text=Collected.")
    with reading(shelf) as session:
        assert available(session, SLIP_LOT) == 15
    page.goto(f"{address}/customers")
    page.get_by_label("Customer’s whole name").fill(ADA)
    page.get_by_role("button", name="Forget it everywhere").click()
    page.wait_for_selector("text=Forgotten in 1 places.")
    page.goto(f"{address}/holds/1")
    assert ADA not in page.inner_text("main")
    for path in PAGES:
        assert page.goto(address + path).status == 200
        check_page(page)
    page.close()
    assert f"{address}/holds/1" in asked
    assert "POST /holds/new" in caplog.text
    for word in ("Lambswell", "960111"):
        assert word not in "".join(asked)
        assert word not in caplog.text
