"""A customer's whole visit in a real browser: slip, swatch, other size, hold, collect."""

import re
from typing import TYPE_CHECKING

import pytest

from tests.browser.conftest import Watched
from tests.browser.steps import fill_pullover, send

if TYPE_CHECKING:
    from playwright.sync_api import Page

pytestmark = pytest.mark.browser


def follow(page: "Page", link: str) -> None:
    """Follows a link of the page itself, not of the bar above it."""
    with page.expect_navigation():
        page.locator("main").get_by_role("link", name=link, exact=True).click()


def make_slip(page: "Page") -> int:
    """Takes the answer's first yarn and colour; returns the new slip's number."""
    with page.expect_navigation():
        page.locator("article.card a", has_text="Look closer").first.click()
    page.locator("input[name=colour_0]").first.check()
    page.fill("#staff", "MR")
    send(page, "Make the slip")
    number = re.search(r"/slips/(\d+)$", page.url)
    assert number is not None, page.url
    return int(number[1])


def test_slip_swatch_other_size_hold_and_collect(watched: Watched) -> None:
    page = watched.page
    fill_pullover(page)
    page.select_option("#item", "pullover")
    page.fill("#sizes", "S (M, L)")
    page.fill("#chosen_size", "M")
    page.fill("#chests", "36 (40, 44)")
    page.select_option("#chests_unit", "in")
    page.fill("#parts-0-count", "10 (11, 12)")
    send(page, "Find yarns")
    first = make_slip(page)

    follow(page, "Enter a swatch")
    page.fill("#stitches", "20")
    page.fill("#rows", "27")
    page.fill("#tool", "4")
    page.get_by_label("yes", exact=True).check()
    send(page, "Keep it and see what it changes")
    said = page.locator("main").inner_text()
    # Worked textbook example: 22 against 20 turns 40 in (101.6 cm) into 44 in (111.8 cm).
    assert "101.6 cm comes out as 111.8 cm" in said
    assert "size S comes out at 100.6 cm" in said

    send(page, "Ask again for size S")
    second = make_slip(page)
    assert second > first
    assert re.search(r"Size\W+S\b", page.locator("article.slip").inner_text())

    follow(page, "Hold")
    page.fill("#staff", "MR")
    send(page, "Hold")
    assert "On hold until" in page.locator(".done").inner_text()
    page.wait_for_url("**/holds/*")
    send(page, "Collected and sold")
    assert "collected" in page.locator("#state-heading").inner_text().casefold()
