"""The counter's main job in a real browser: from a pattern to the printed slip."""

import re
from io import BytesIO
from typing import TYPE_CHECKING

import pytest
from pypdf import PdfReader

from tests.browser.conftest import Watched, open_page
from tests.browser.steps import fill_pullover, send, tab_to, type_in

if TYPE_CHECKING:
    from playwright.sync_api import Browser, Page

pytestmark = pytest.mark.browser


def printed(page: "Page", address: str) -> str:
    """Returns the text of the PDF that the slip's page links to."""
    link = page.get_by_role("link", name="Open the PDF to print").get_attribute("href")
    served = page.request.get(f"{address}{link}")
    assert served.headers["content-type"] == "application/pdf"
    assert served.body().startswith(b"%PDF-")
    return " ".join(leaf.extract_text() for leaf in PdfReader(BytesIO(served.body())).pages)


def test_from_pattern_to_slip_by_keyboard_alone(watched: Watched, address: str) -> None:
    page = watched.page
    for name, text in (
        ("item", "Pullover"),
        ("title", "harbour pullover"),
        ("stitches", "22"),
        ("rows", "30"),
        ("designer-weight", "DK"),
        ("designer-ball_mass", "50"),
        ("designer-ball_length", "120"),
        ("parts-0-count", "11"),
        ("parts-0-counted_in", "balls"),
        ("wearer", "adult"),
    ):
        type_in(page, name, text)
    tab_to(page, "Find yarns")
    with page.expect_navigation():
        page.keyboard.press("Enter")
    page.wait_for_url("**/asks/*")
    card = page.locator("article.card").first
    yarn, takes = card.locator("h3").inner_text(), card.locator("dd").first.inner_text()
    skeins = re.match(r"\d+ skeins?", takes)
    assert skeins is not None
    tab_to(page, f"Look closer or choose {yarn}")
    with page.expect_navigation():
        page.keyboard.press("Enter")
    tab_to(page, "colour_0")
    page.keyboard.press("Space")
    colour = page.evaluate("document.activeElement.labels[0].innerText").split("\n")[0]
    while page.locator("input[name=told]:not(:checked)").count():
        tab_to(page, "told")
        page.keyboard.press("Space")
    type_in(page, "staff", "MR")
    tab_to(page, "Make the slip")
    with page.expect_navigation():
        page.keyboard.press("Enter")
    assert re.fullmatch(rf"{address}/slips/\d+", page.url)
    text = printed(page, address)
    assert yarn in text
    assert colour.split()[0] in text
    assert re.search(skeins[0].replace(" ", r"\s+"), text)
    assert "harbour pullover" in text


def test_the_main_job_without_javascript(browser: "Browser", address: str) -> None:
    context = browser.new_context(java_script_enabled=False)
    page = open_page(context, address).page
    fill_pullover(page)
    send(page, "Add a part or colour")
    page.fill("#parts-1-name", "stripes")
    page.fill("#parts-1-count", "1")
    page.select_option("#parts-1-counted_in", "balls")
    send(page, "Add a fibre")
    page.fill("#designer-fibres-0-percent", "100")
    page.fill("#designer-fibres-0-fibre", "wool")
    send(page, "Find yarns")
    with page.expect_navigation():
        page.locator("a.second").first.click()
    for part in (0, 1):
        page.locator(f"input[name=colour_{part}]").first.check()
    for tick in page.locator("input[name=told]").all():
        tick.check()
    page.fill("#staff", "MR")
    yarn = page.locator("h1").inner_text()
    send(page, "Make the slip")
    text = printed(page, address)
    assert yarn in text
    assert "stripes" in text
    context.close()


def test_back_and_sending_again_are_harmless(watched: Watched, address: str) -> None:
    page = watched.page
    fill_pullover(page)
    send(page, "Find yarns")
    with page.expect_navigation():
        page.locator("a.second").first.click()
    page.locator("input[name=colour_0]").first.check()
    for tick in page.locator("input[name=told]").all():
        tick.check()
    page.fill("#staff", "MR")
    send(page, "Make the slip")
    first = page.url
    page.go_back()
    assert page.get_by_role("button", name="Make the slip").is_visible()
    page.go_back()
    assert page.locator("article.card").count()
    page.reload()
    assert page.locator("article.card").count()
    page.goto(first)
    assert page.get_by_role("link", name="Open the PDF to print").is_visible()


def test_a_mistake_is_put_right_by_keyboard(watched: Watched) -> None:
    page = watched.page
    type_in(page, "stitches", "abc")
    with page.expect_navigation():
        page.keyboard.press("Enter")
    assert page.evaluate("document.activeElement.className") == "summary"
    page.keyboard.press("Tab")
    page.keyboard.press("Enter")
    assert page.evaluate("document.activeElement.id") == "stitches"
    assert page.evaluate("document.activeElement.value") == "abc"
    page.keyboard.press("Control+a")
    page.keyboard.type("22")
    with page.expect_navigation():
        page.keyboard.press("Enter")
    page.wait_for_url("**/asks/*")


def test_the_focus_can_be_seen_everywhere(watched: Watched) -> None:
    page = watched.page
    unseen = []
    for _ in range(60):
        page.keyboard.press("Tab")
        style = page.evaluate(
            "(() => { const here = document.activeElement, style = getComputedStyle(here);"
            " return [here.outerHTML.slice(0, 80), style.outlineStyle, style.outlineWidth]; })()"
        )
        if style[1] == "none" or style[2] == "0px":
            unseen.append(style[0])
    assert [one for one in unseen if not one.startswith("<body")] == []
