"""What staff do at the counter, as steps of a browser test."""

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from playwright.sync_api import Page

MOST_TABS = 400


def tab_to(page: "Page", name: str) -> None:
    """Presses Tab until the box of this name, or the button or link of this text, has the focus."""
    for _ in range(MOST_TABS):
        page.keyboard.press("Tab")
        here = page.evaluate(
            "[document.activeElement.name, document.activeElement.innerText, "
            "document.activeElement.id]"
        )
        if name in [" ".join(text.split()) for text in here if isinstance(text, str)]:
            return
    raise AssertionError(f"Tab never reached {name!r}")


def type_in(page: "Page", name: str, text: str) -> None:
    """Goes to a box by Tab and types; in a list this picks the entry that begins so."""
    tab_to(page, name)
    page.keyboard.type(text)


def fill_pullover(page: "Page") -> None:
    """Fills in a pattern with the mouse or not at all: only what an ask needs, and its amount."""
    page.fill("#stitches", "22")
    page.fill("#rows", "30")
    page.fill("#designer-weight", "DK")
    page.fill("#designer-ball_mass", "50")
    page.fill("#designer-ball_length", "120")
    page.fill("#parts-0-count", "11")
    page.select_option("#parts-0-counted_in", "balls")
    page.select_option("#wearer", "adult")


def send(page: "Page", button: str) -> None:
    """Presses a button and waits for the page that it leads to."""
    with page.expect_navigation():
        page.get_by_role("button", name=button, exact=True).click()
