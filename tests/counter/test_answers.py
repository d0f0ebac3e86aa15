"""The answer page: four groups with reasons and amounts, any yarn asked about, nothing changed."""

import re

import pytest
from sqlalchemy import Engine

from shopdesk.services.unmet_asks import unmet_asks
from shopdesk.store.database import reading
from tests.counter.asks import BABY_CARDIGAN, NOBODY_HAS, PULLOVER, token_of_answer
from tests.counter.conftest import Counter
from tests.pages import read_page


def test_the_answer_shows_four_groups_and_what_was_asked(demo_counter: Counter) -> None:
    page = demo_counter.look(f"/asks/{token_of_answer(demo_counter, PULLOVER)}")
    for heading in ("as-it-is", "swatch-first", "with-a-change", "not-for-this"):
        assert heading in page.ids
    assert "22 stitches and 30 rows" in page.text
    assert re.search(r"\d+ skeins;? ", page.text)
    assert "left over" in page.text
    assert "Start the swatch with" in page.text
    assert "€" in page.text


def test_nothing_is_scored(demo_counter: Counter) -> None:
    page = demo_counter.look(f"/asks/{token_of_answer(demo_counter, PULLOVER)}")
    assert not re.search(r"score|match(es)?\b|★|☆|€€", page.text, re.IGNORECASE)


def test_every_yarn_is_shown_when_all_are_wanted(demo_counter: Counter) -> None:
    path = f"/asks/{token_of_answer(demo_counter, PULLOVER)}"
    some, everything = demo_counter.look(path), demo_counter.look(f"{path}?all=1")
    leads = [link for link in everything.links if "/yarn?sku=" in link]
    assert len([link for link in some.links if "/yarn?sku=" in link]) < len(leads)
    counts = [int(found) for found in re.findall(r"(?m)^ *(?:Will|Not)[^\n]*? (\d+)$", some.text)]
    assert len(leads) == sum(counts[:4])


def test_an_answer_that_is_not_kept_is_said_to_be_gone(demo_counter: Counter) -> None:
    for path in ("/asks/none", "/asks/none/why?yarn=x", "/asks/none/yarn?sku=x"):
        assert demo_counter.client.get(path).status_code == 404


def test_why_not_this_one_finds_a_yarn_by_part_of_its_name(demo_counter: Counter) -> None:
    path = f"/asks/{token_of_answer(demo_counter, PULLOVER)}"
    sku = re.search(r"sku=([^\"& ]+)", " ".join(demo_counter.look(path).links))
    assert sku is not None
    exact = demo_counter.client.get(f"{path}/why?yarn={sku[1].lower()}")
    assert exact.status_code == 303
    assert exact.headers["Location"].endswith(f"sku={sku[1]}")
    many = demo_counter.look(f"{path}/why?yarn=OY-")
    assert len([link for link in many.links if "/yarn?sku=" in link]) > 5


@pytest.mark.parametrize("wanted", ["", "%", "_", "<script>", "x" * 500, "'", "\x00", "羊"])
def test_odd_words_find_nothing_and_break_nothing(demo_counter: Counter, wanted: str) -> None:
    path = f"/asks/{token_of_answer(demo_counter, PULLOVER)}/why"
    answer = demo_counter.client.get(path, query_string={"yarn": wanted})
    assert answer.status_code == 200
    assert "<script>" not in answer.text


def test_a_yarn_ruled_out_by_a_wish_is_still_judged(demo_counter: Counter) -> None:
    token = token_of_answer(demo_counter, {**PULLOVER, "avoid": "wool"})
    page = demo_counter.look(f"/asks/{token}/yarn?sku=OY-3105")
    assert "A wish of the customer rules it out: contains wool" in page.text
    # The pattern's yarn is known by its length alone, so that decides.
    assert "by length per 100 g" in page.text


def test_cautions_are_told_by_topic_and_washing_once(demo_counter: Counter) -> None:
    token = token_of_answer(demo_counter, {**BABY_CARDIGAN, "features": ["buttons", "nightwear"]})
    page = demo_counter.look(f"/asks/{token}/yarn?sku=OY-3105")
    text = page.text[page.text.index("Cautions") :]
    places = [text.index(topic) for topic in ("Fire", "Small parts", "Washing")]
    assert places == sorted(places)
    assert text.index("flame-resistant") < text.index("Small parts") < text.index("Buttons and")


def test_an_ask_that_nothing_fits_is_noted_once(demo_counter: Counter, demo_shelf: Engine) -> None:
    page = demo_counter.look()
    for _ in range(2):
        demo_counter.fill(page=page, **{**PULLOVER, **NOBODY_HAS})
    with reading(demo_shelf) as session:
        noted = unmet_asks(session)
    assert [(one.item, one.stitches) for one in noted] == [("pullover", 90.0)]


def test_looking_changes_nothing(demo_counter: Counter, demo_shelf: Engine) -> None:
    path = f"/asks/{token_of_answer(demo_counter, BABY_CARDIGAN)}"
    with demo_shelf.connect() as connection:
        before = connection.connection.total_changes  # type: ignore[attr-defined]
        for _ in range(2):
            demo_counter.look(path)
        assert connection.connection.total_changes == before  # type: ignore[attr-defined]


def test_ids_are_given_once(demo_counter: Counter) -> None:
    token = token_of_answer(demo_counter, BABY_CARDIGAN)
    page = read_page(demo_counter.client.get(f"/asks/{token}?all=1").text)
    assert len(page.ids) == len(set(page.ids))
