"""The counter of a shop whose shelf is too large to be judged whole."""

import re
import shutil
from collections.abc import Iterator
from pathlib import Path

import pytest
from sqlalchemy import Engine

from shopdesk.answering.shortlist.shortlist import MOST_LISTED
from shopdesk.services import answers
from shopdesk.shelf.loading import shelf_yarns
from shopdesk.store.database import open_shelf, reading
from tests.counter.asks import NOBODY_HAS, PULLOVER, token_of_answer
from tests.counter.conftest import Counter
from tests.counter.test_choosing import first_colour

BEYOND = re.compile(r"(\d+) yarns on the shelf are no proposal beside these")

COUNTED = re.compile(r"Counted at \d\d:\d\d: [^.]*\.")
ANY_WOOL = {**PULLOVER, "washing": "hand", "wearer": "adult"}
"""An ask for which more than a dozen yarns of the demo shelf may do."""


@pytest.fixture
def demo_shelf(demo_shelf_file: Path, tmp_path: Path) -> Iterator[Engine]:
    """The whole demo catalog."""
    engine = open_shelf(f"sqlite:///{shutil.copy(demo_shelf_file, tmp_path / 'demo.sqlite3')}")
    yield engine
    engine.dispose()


@pytest.fixture
def large(demo_counter: Counter, monkeypatch: pytest.MonkeyPatch) -> Counter:
    """A counter that takes the demo shelf for a large one."""
    monkeypatch.setattr(answers, "JUDGED_WHOLE", 0)
    return demo_counter


def test_the_best_are_listed_and_the_rest_is_counted(large: Counter, demo_shelf: Engine) -> None:
    path = f"/asks/{token_of_answer(large, PULLOVER)}"
    page = large.look(f"{path}?all=1")
    leads = {link for link in page.links if "/yarn?sku=" in link}
    assert 0 < len(leads) <= MOST_LISTED
    beyond = BEYOND.search(page.text)
    assert beyond is not None
    assert "not-for-this" not in page.ids
    with reading(demo_shelf) as session:
        assert int(beyond[1]) + len(leads) == len(list(shelf_yarns(session)))


def test_why_not_this_one_tells_of_yarns_that_are_not_listed(large: Counter) -> None:
    path = f"/asks/{token_of_answer(large, PULLOVER)}"
    listed = set(large.look(f"{path}?all=1").links)
    found = large.look(f"{path}/why?yarn=OY-")
    unlisted = [link for link in found.links if "/yarn?sku=" in link and link not in listed]
    assert unlisted
    assert "not for this" in found.text
    page = large.look(unlisted[0])
    assert re.search("not for this|will do", page.text, re.IGNORECASE)


def test_a_yarn_that_is_not_listed_can_be_chosen(large: Counter) -> None:
    path = f"/asks/{token_of_answer(large, PULLOVER)}"
    listed = set(large.look(f"{path}?all=1").links)
    found = large.look(f"{path}/why?yarn=OY-")
    for link in found.links:
        if "/yarn?sku=" not in link or link in listed:
            continue
        page = large.look(link)
        if any(name.startswith("told_") for name in page.boxes):
            continue
        sent = large.fill(link, page, colour_0=first_colour(page), staff="MR")
        assert sent.status_code == 303, sent.text
        return
    pytest.fail("no yarn beside the listed ones")


def test_an_ask_that_nothing_is_near_says_so(large: Counter) -> None:
    page = large.look(f"/asks/{token_of_answer(large, {**PULLOVER, **NOBODY_HAS})}")
    assert "No yarn on the shelf is near enough" in page.text
    assert BEYOND.search(page.text)


def test_the_next_twelve_can_be_asked_for(large: Counter, demo_shelf: Engine) -> None:
    path = f"/asks/{token_of_answer(large, ANY_WOOL)}"
    page = large.look(f"{path}?all=1")
    first = [link for link in page.links if "/yarn?sku=" in link]
    assert len(set(first)) == MOST_LISTED
    assert "at least" in page.text
    (following,) = (link for link in page.links if "most=24" in link)
    longer = large.look(following)
    more = [link for link in longer.links if "/yarn?sku=" in link]
    # The first ones stay where they are, and others follow them.
    assert [link for link in more if link in first] == first
    assert MOST_LISTED < len(set(more)) <= 2 * MOST_LISTED
    for odd in ("most=0", "most=x", "most=", "most=-3", "most=²"):
        assert set(large.look(f"{path}?all=1&{odd}").links) >= set(first)


def test_all_that_would_do_are_counted_when_asked_and_the_count_is_kept(
    large: Counter, demo_shelf: Engine, monkeypatch: pytest.MonkeyPatch
) -> None:
    path = f"/asks/{token_of_answer(large, ANY_WOOL)}"
    assert "Counted at" not in large.look(path).text
    told = COUNTED.search(large.look(f"{path}?count=1").text)
    assert told is not None
    assert COUNTED.search(large.look(path).text)[0] == told[0]  # type: ignore[index]
    monkeypatch.setattr(answers, "JUDGED_WHOLE", 10**6)
    whole = large.look(f"{path}?all=1").text
    # What the whole shelf judged says in its headings.
    assert told[0].count("will do") == 3
    for words, number in re.findall(r"(will do[^;.]*), (\d+) yarns?", told[0]):
        assert re.search(rf"{words} {number}\b", whole, re.IGNORECASE), words
