"""What axe-core finds wrong with a page, and whether the page fits its window.

axe-core's rules for WCAG 2.0, 2.1 and 2.2 at levels A and AA, and its best practices.
"""

from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from playwright.sync_api import Page

TAGS = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"]
WIDTHS = (1280, 768, 320)


def found_by_axe(page: "Page") -> list[str]:
    """Returns what axe-core finds wrong with the page as it is."""
    from axe_playwright_python.sync_playwright import Axe

    options: dict[str, Any] = {"runOnly": {"type": "tag", "values": TAGS}}
    results = Axe().run(page, options=options).response
    return [
        f"{rule['id']}: {node['html'][:200]}"
        for rule in results["violations"]
        for node in rule["nodes"][:3]
    ]


def check_page(page: "Page") -> None:
    """Fails if the page is wider than a window of any of the WIDTHS, or axe finds anything."""
    for width in WIDTHS:
        page.set_viewport_size({"width": width, "height": 900})
        wide = page.evaluate("document.documentElement.scrollWidth")
        assert wide <= width, f"{page.url}: {wide} px at {width}"
        if width != WIDTHS[1]:
            assert found_by_axe(page) == [], f"{page.url} at {width}"
