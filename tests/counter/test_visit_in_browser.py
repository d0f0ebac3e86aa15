"""A visit in a real browser: slip, hold, collect; pages pass axe, no name leaves the forms."""

import logging
import threading
from collections.abc import Iterator

import pytest
from flask import Flask
from sqlalchemy import Engine
from werkzeug.serving import make_server

from shopdesk.shelf.database import reading, writing
from shopdesk.shelf.settings import ShopSettings, save_settings
from shopdesk.shelf.stock import available
from tests.visits.slips_at_counter import SLIP_LOT, a_slip, stock_shelf

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
    server = make_server("127.0.0.1", 0, app, threaded=True)
    thread = threading.Thread(target=server.serve_forever, daemon=True)
    thread.start()
    yield f"http://127.0.0.1:{server.port}"
    server.shutdown()
    thread.join()
    server.server_close()


@pytest.mark.browser
def test_slip_hold_collect(
    browser: object, address: str, shelf: Engine, caplog: pytest.LogCaptureFixture
) -> None:
    from axe_playwright_python.sync_playwright import Axe

    caplog.set_level(logging.INFO)
    page = browser.new_page(viewport={"width": 1280, "height": 800})  # type: ignore[attr-defined]
    asked: list[str] = []
    page.on("request", lambda request: asked.append(request.url))
    page.goto(f"{address}/slips/1")
    page.get_by_role("link", name="Put by", exact=True).last.click()
    page.get_by_label("Customer’s name").fill(ADA)
    page.get_by_label("Telephone").fill(PHONE)
    page.get_by_role("button", name="Put by").click()
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
        for width in (1280, 320):
            page.set_viewport_size({"width": width, "height": 800})
            assert page.goto(address + path).status == 200
            broken = [each["id"] for each in Axe().run(page).response["violations"]]
            assert broken == [], f"{path} at {width}"
            assert page.evaluate("document.documentElement.scrollWidth <= innerWidth"), path
    page.close()
    assert f"{address}/holds/1" in asked
    assert "POST /holds/new" in caplog.text
    for word in ("Lambswell", "960111"):
        assert word not in "".join(asked)
        assert word not in caplog.text
