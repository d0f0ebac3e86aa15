"""A till's export taken in with a real browser: looked at, put right, applied and undone."""

import re
from typing import TYPE_CHECKING

import pytest

from shopdesk.counter.request import engine
from tests.browser.axe import check_page
from tests.browser.conftest import Served, Watched, open_page
from tests.browser.steps import send
from tests.exchange.import_files import exported

if TYPE_CHECKING:
    from playwright.sync_api import Browser, Page

pytestmark = pytest.mark.browser

LOT = ("OY-3105", "01", "BROWSER-1")
IN_FILE = ",".join(LOT)
LONG_LOT = "Spinnenwebenfeinesmerinokaschmirgemisch"
GOOD = ";".join([*LOT, "7", "Regal 4"]) + "\n"
BAD = ";".join([*LOT[:2], LONG_LOT, "seven", "Regal 4"]) + "\n"


def on_shelf(served: Served) -> int:
    """Returns how many skeins of the lot there are, 0 for a lot that is not known."""
    with served.app.app_context():
        lines = exported(engine(), "stock").splitlines()
    counts = [line.split(",")[3] for line in lines if line.startswith(f"{IN_FILE},")]
    return int(counts[0]) if counts else 0


def upload(page: "Page", address: str, text: str) -> None:
    """Uploads a count of stock and waits for what it would do."""
    page.goto(f"{address}/imports")
    page.get_by_role("radio", name="A count of stock").check()
    file = {"name": "till.csv", "mimeType": "text/csv", "buffer": text.encode("cp1252")}
    page.set_input_files("input[type=file]", files=[file])
    send(page, "Look at the file")
    page.get_by_role("heading", name="What till.csv would do").wait_for()


def choose_columns(page: "Page") -> None:
    """Says what the shop's own headings hold."""
    for place, key in enumerate(("sku", "colour", "lot", "skeins")):
        page.select_option(f"#column-{place}", key)
    send(page, "Look again with these columns")
    page.locator(".lead").wait_for()


def test_a_file_is_put_right_taken_and_undone(watched: Watched, served: Served) -> None:
    page, address = watched.page, served.address
    page.goto(f"{address}/imports")
    check_page(page)
    send(page, "Look at the file")
    assert page.locator("[aria-invalid=true]").count() == 1
    check_page(page)

    headings = "Nr;Ton;Bad;Da;Wo\n"
    upload(page, address, headings + GOOD + BAD)
    assert "No column holds sku or colour or skeins" in page.inner_text("main")
    check_page(page)
    choose_columns(page)
    assert "1 new, 0 changed, 0 unchanged, 1 refused" in page.inner_text(".lead")
    check_page(page)
    assert page.get_by_role("button", name="Import all").count() == 0
    assert on_shelf(served) == 0

    upload(page, address, headings + GOOD)
    choose_columns(page)
    send(page, "Import all 1")
    page.get_by_role("heading", name=re.compile(r"Import \d+ is done")).wait_for()
    assert on_shelf(served) == 7
    check_page(page)
    page.goto(f"{address}/imports")
    check_page(page)
    send(page, page.get_by_role("button", name=re.compile("Undo import")).inner_text())
    assert "of stock is undone." in page.inner_text("body")
    assert on_shelf(served) == 0


def test_a_file_is_taken_and_undone_without_javascript(browser: "Browser", served: Served) -> None:
    context = browser.new_context(java_script_enabled=False)
    page = open_page(context, served.address).page
    upload(page, served.address, "sku;colour;lot;skeins;shelf\n" + GOOD)
    send(page, "Import all 1")
    page.get_by_role("heading", name=re.compile(r"Import \d+ is done")).wait_for()
    assert on_shelf(served) == 7
    send(page, page.get_by_role("button", name=re.compile("Undo import")).inner_text())
    assert on_shelf(served) == 0
    context.close()
