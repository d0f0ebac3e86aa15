"""Every page and state in a real browser: axe finds nothing, and no page is too wide."""

from collections.abc import Callable
from dataclasses import dataclass
from typing import TYPE_CHECKING

import pytest

from tests.browser.axe import check_page, found_by_axe
from tests.browser.conftest import Served, Watched
from tests.browser.steps import send
from tests.counter.asks import BABY_CARDIGAN, PULLOVER, token_of_answer
from tests.counter.conftest import Counter

if TYPE_CHECKING:
    from playwright.sync_api import Page

pytestmark = pytest.mark.browser

LONG = "Spinnenwebenfeinesmerinokaschmirgemisch"
SKU = "OY-3105"
LONG_ASK = {**PULLOVER, "title": f"{LONG} {LONG}"}
PART = {"parts-1-name": "stripes", "parts-1-count": "1", "parts-1-counted_in": "balls"}


@pytest.fixture(scope="module")
def asks(served: Served) -> dict[str, str]:
    """Tokens of asks kept beforehand, by the name that paths use; slip 1 is made too."""
    counter = Counter(served.app.test_client())
    typed = {"long": LONG_ASK, "baby": BABY_CARDIGAN, "parts": {**LONG_ASK, **PART}}
    tokens = {name: token_of_answer(counter, ask) for name, ask in typed.items()}
    tokens["none"] = token_of_answer(counter, {"stitches": "90"})
    tokens["wish"] = token_of_answer(counter, {**PULLOVER, "avoid": "wool"})
    path = f"/asks/{tokens['long']}/yarn?sku={SKU}"
    page = counter.look(path)
    colour = next(known["value"] for _, known in page.tags if known.get("name") == "colour_0")
    counter.fill(path, page, colour_0=colour, staff="MR", customer_name=LONG)
    return tokens


def stay(page: "Page") -> None:
    """Looks at the page as it opens."""


def unfold(page: "Page") -> None:
    """Opens everything that can be opened."""
    page.evaluate("document.querySelectorAll('details').forEach((one) => { one.open = true; })")


def send_nonsense(page: "Page") -> None:
    page.fill("#stitches", "abc" + LONG)
    send(page, "Add a part or colour")
    page.fill("#parts-1-count", "5")
    send(page, "Find yarns")


def choose_nonsense(page: "Page") -> None:
    unfold(page)
    page.locator(".colour-lots input").first.fill("9999")
    send(page, "Make the slip")


def find_nonsense(page: "Page") -> None:
    page.fill("#number", "abc")
    send(page, "Find")


def keep_nonsense(page: "Page") -> None:
    unfold(page)
    page.fill("#stitches", LONG)
    page.fill("#mass", "6")
    send(page, "Keep it and see what it changes")


def keep_swatch(page: "Page") -> None:
    unfold(page)
    for box, text in (("stitches", "20"), ("tool", "4"), ("width", "15"), ("height", "15")):
        page.fill(f"#{box}", text)
    page.fill("#mass", "11.5")
    send(page, "Keep it and see what it changes")


def save_nonsense(page: "Page") -> None:
    page.fill("#currency", "money")
    page.fill("#hold_days", "-1")
    send(page, "Save the settings")


def save(page: "Page") -> None:
    send(page, "Save the settings")


@dataclass(frozen=True)
class State:
    """A page's address and what is done there."""

    path: str
    act: Callable[["Page"], None] = stay

    @property
    def name(self) -> str:
        """What the test is called."""
        return f"{self.path} {self.act.__name__}"


STATES = (
    State("/"),
    State("/", unfold),
    State("/", send_nonsense),
    State("/asks/{long}"),
    State("/asks/{baby}", unfold),
    State("/asks/{none}"),
    State("/asks/{long}/why?yarn=OY-"),
    State("/asks/{long}/why?yarn=nothing"),
    State("/asks/{baby}/yarn?sku=OY-3105", unfold),
    State("/asks/{parts}/yarn?sku=OY-3105", choose_nonsense),
    State("/asks/{long}/yarn?sku=OY-0101"),
    State("/asks/{wish}/yarn?sku=OY-3105"),
    State("/slips/1", unfold),
    State("/slips/1?language=de"),
    State("/slips"),
    State("/slips", find_nonsense),
    State("/swatches"),
    State("/swatches/new?slip=1", unfold),
    State("/swatches/new?slip=1", keep_nonsense),
    State("/swatches/new?slip=1", keep_swatch),
    State("/settings"),
    State("/calibration"),
    State("/settings", save_nonsense),
    State("/settings", save),
    State("/nothing-here"),
)


@pytest.mark.parametrize("state", STATES, ids=lambda state: state.name)
def test_axe_finds_nothing_and_the_page_fits(
    watched: Watched, address: str, asks: dict[str, str], state: State
) -> None:
    page = watched.page
    page.goto(address + state.path.format(**asks))
    state.act(page)
    check_page(page)


def test_axe_would_find_something_wrong(watched: Watched) -> None:
    watched.page.evaluate("document.querySelector('label[for=stitches]').remove()")
    assert any(one.startswith("label") for one in found_by_axe(watched.page))
