"""The shelf in a real browser: a scanner's Enter, typing, two editors; pages pass axe."""

from collections.abc import Iterator

import pytest
from sqlalchemy import Engine

from shopdesk.counter.application import create_app
from tests.browser.axe import check_page
from tests.counter.conftest import SECRET
from tests.counter.serving import on_loopback

SKU = "OY-3103"
PAGES = (
    "/shelf", f"/shelf/yarn?sku={SKU}", "/shelf/check", f"/shelf/yarn/edit?sku={SKU}",
    f"/shelf/yarn/stock?sku={SKU}", f"/shelf/yarn/measure?sku={SKU}",
    "/shelf/unlabelled?length=10&mass=4.4",
)  # fmt: skip


@pytest.fixture
def address(demo_shelf: Engine) -> Iterator[str]:
    """A counter that is served, with a few yarns of the demo catalog."""
    with on_loopback(create_app(demo_shelf, SECRET)) as served:
        yield served


@pytest.mark.browser
def test_scan_type_and_edit_at_once(browser: object, address: str) -> None:
    page = browser.new_page(viewport={"width": 1280, "height": 800})  # type: ignore[attr-defined]
    page.goto(f"{address}/shelf")
    page.keyboard.type("2103103000002")
    page.keyboard.press("Enter")
    page.wait_for_url(f"**/shelf/yarn?sku={SKU}")
    assert "Hallowbeck" in page.inner_text("h1")
    page.goto(f"{address}/shelf")
    page.keyboard.type("hallow")
    page.get_by_role("link", name="Hallowbeck OY-3103").first.wait_for()
    edit = f"{address}/shelf/yarn/edit?sku={SKU}"
    other = browser.new_page()  # type: ignore[attr-defined]
    page.goto(edit)
    other.goto(edit)
    other.get_by_label("Price of one skein").fill("11.00")
    other.get_by_role("button", name="Save").click()
    other.wait_for_selector("text=The yarn is saved.")
    page.get_by_label("Weight name").fill("sport")
    page.get_by_role("button", name="Save").click()
    page.wait_for_selector("text=Both versions")
    told = page.inner_text("main")
    assert "11.00" in told
    assert page.get_by_label("Weight name").input_value() == "sport"
    other.goto(f"{address}/shelf/yarn?sku={SKU}")
    assert "DK" in other.inner_text("main")
    other.close()
    page.close()


@pytest.mark.browser
def test_the_pages_are_accessible_and_fit(browser: object, address: str) -> None:
    page = browser.new_page()  # type: ignore[attr-defined]
    for path in PAGES:
        assert page.goto(address + path).status == 200
        check_page(page)
    page.close()
