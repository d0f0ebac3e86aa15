"""Choosing a yarn: colour, lots, what was told, who served; one slip however often it is sent."""

import logging
import re
from datetime import timedelta
from io import BytesIO
from typing import Any

import pytest
from pypdf import PdfReader
from sqlalchemy import Engine, select

from shopdesk.services.morning import morning_list
from shopdesk.services.slips import slips_found
from shopdesk.shop.shop import Shop
from shopdesk.store.database import reading
from shopdesk.store.models import Contact
from shopdesk.store.settings import ShopSettings
from shopdesk.store.types import now
from tests.counter.asks import BABY_CARDIGAN, PULLOVER, token_of_answer
from tests.counter.conftest import Counter
from tests.pages import Page, read_page

SKU = "OY-3105"
PARTS = {
    **PULLOVER,
    "parts-0-name": "main",
    "parts-0-count": "4",
    "parts-1-name": "stripes",
    "parts-1-count": "1",
    "parts-1-counted_in": "balls",
}


def yarn_path(counter: Counter, ask: dict[str, Any], sku: str = SKU) -> str:
    return f"/asks/{token_of_answer(counter, ask)}/yarn?sku={sku}"


def first_colour(page: Page, part: int = 0) -> str:
    return next(
        known["value"]
        for tag, known in page.tags
        if tag == "input" and known.get("name") == f"colour_{part}"
    )


def lot_boxes(page: Page) -> list[str]:
    return [name for name in page.boxes if name.startswith("lot_")]


def numbers_of_slips(shelf: Engine) -> list[int]:
    with reading(shelf) as session:
        return [one.number for one in slips_found(session)]


def test_a_choice_becomes_a_slip_with_the_yarn_and_its_count(
    demo_counter: Counter, demo_shelf: Engine
) -> None:
    path = yarn_path(demo_counter, PULLOVER)
    page = demo_counter.look(path)
    answer = demo_counter.fill(path, page, colour_0=first_colour(page), staff="MR")
    assert answer.status_code == 303
    assert answer.headers["Location"] == "/slips/1"
    slip = demo_counter.look("/slips/1")
    assert "Birchenfold" in slip.text
    # The pattern takes 11 balls of 120 m, at most 1320 m: 11 of 125 m.
    assert "11 skeins" in slip.text
    pdf = demo_counter.client.get("/slips/1.pdf")
    assert pdf.mimetype == "application/pdf"
    printed = " ".join(leaf.extract_text() for leaf in PdfReader(BytesIO(pdf.data)).pages)
    assert "Birchenfold" in printed
    assert re.search(r"\b11\s+skeins", printed)


def test_the_same_form_sent_twice_makes_one_slip(demo_counter: Counter, demo_shelf: Engine) -> None:
    path = yarn_path(demo_counter, PULLOVER)
    page = demo_counter.look(path)
    typed = {"colour_0": first_colour(page), "staff": "MR"}
    places = {demo_counter.fill(path, page, **typed).headers["Location"] for _ in range(3)}
    assert places == {"/slips/1"}
    assert numbers_of_slips(demo_shelf) == [1]


def test_nothing_chosen_comes_back_with_its_messages(
    demo_counter: Counter, demo_shelf: Engine
) -> None:
    path = yarn_path(demo_counter, PULLOVER)
    answer = demo_counter.fill(path, customer_name="Ada")
    page = read_page(answer.text)
    assert answer.status_code == 422
    assert "Choose a colour" in page.text
    assert "write your initials" in page.message("staff")
    assert page.held("customer_name") == "Ada"
    assert numbers_of_slips(demo_shelf) == []


@pytest.mark.parametrize(
    "bad", ["-1", "abc", "3,5", "1 1/2", "1e9", "NaN", "9999", "7" * 300, "٣", "<b>"]
)
def test_bad_numbers_of_skeins_come_back_as_typed(demo_counter: Counter, bad: str) -> None:
    path = yarn_path(demo_counter, PULLOVER)
    page = demo_counter.look(path)
    box = lot_boxes(page)[0]
    typed = {"colour_0": first_colour(page), "staff": "MR", box: bad}
    answer = demo_counter.fill(path, page, **typed)
    again = read_page(answer.text)
    assert answer.status_code == 422
    assert again.message(box)
    assert {name: again.held(name) for name in typed} == typed


@pytest.mark.parametrize("box", ["staff", "customer_name"])
@pytest.mark.parametrize("bad", ["x" * 500, "a\x07b", "a\u202eb"])
def test_names_that_cannot_be_printed_come_back(demo_counter: Counter, box: str, bad: str) -> None:
    path = yarn_path(demo_counter, PULLOVER)
    page = demo_counter.look(path)
    answer = demo_counter.fill(path, page, colour_0=first_colour(page), **{"staff": "MR", box: bad})
    assert answer.status_code == 422
    assert read_page(answer.text).message(box)


def test_other_lots_may_be_taken(demo_counter: Counter) -> None:
    path = yarn_path(demo_counter, PULLOVER)
    page = demo_counter.look(path)
    box = lot_boxes(page)[0]
    demo_counter.fill(path, page, colour_0=first_colour(page), staff="MR", **{box: "1"})
    assert "1 skein" in demo_counter.look("/slips/1").text


def test_flagged_cautions_must_be_told(demo_counter: Counter) -> None:
    path = yarn_path(demo_counter, BABY_CARDIGAN)
    page = demo_counter.look(path)
    typed = {"colour_0": first_colour(page), "staff": "MR"}
    refused = demo_counter.fill(path, page, **typed)
    assert refused.status_code == 422
    assert "tick that you did" in refused.text
    ticks = [known["value"] for tag, known in page.tags if known.get("name") == "told"]
    assert ticks
    some = demo_counter.fill(path, page, told=ticks[:-1], **typed)
    assert some.status_code == 422
    assert demo_counter.fill(path, page, told=ticks, **typed).status_code == 303
    assert "Told at the counter" in demo_counter.look("/slips/1").text


def test_parts_in_one_colour_take_no_more_than_there_is(demo_counter: Counter) -> None:
    path = yarn_path(demo_counter, PARTS)
    page = demo_counter.look(path)
    colour = first_colour(page)
    boxes = lot_boxes(page)
    first = next(name for name in boxes if name.startswith("lot_0_"))
    second = first.replace("lot_0_", "lot_1_")
    there = re.search(r"(\d+) there", page.texts[f"{first}-hint"])
    assert there is not None
    typed = {"colour_0": colour, "colour_1": colour, "staff": "MR", first: there[1], second: "1"}
    answer = demo_counter.fill(path, page, **typed)
    assert answer.status_code == 422
    assert "take more of lot" in answer.text


def test_a_part_may_be_left_out_but_not_all(demo_counter: Counter) -> None:
    path = yarn_path(demo_counter, PARTS)
    page = demo_counter.look(path)
    nothing = demo_counter.fill(path, page, colour_0="-", colour_1="-", staff="MR")
    assert nothing.status_code == 422
    one = demo_counter.fill(path, page, colour_0=first_colour(page), colour_1="-", staff="MR")
    assert one.status_code == 303


def test_a_colour_that_is_not_there_is_refused(demo_counter: Counter) -> None:
    path = yarn_path(demo_counter, PULLOVER)
    for colour in ("-", "nothing", "<b>", "x" * 300):
        assert demo_counter.fill(path, colour_0=colour, staff="MR").status_code == 422


def test_a_slip_may_replace_another_once(demo_counter: Counter) -> None:
    path = yarn_path(demo_counter, PULLOVER)
    colour = first_colour(demo_counter.look(path))
    demo_counter.fill(path, colour_0=colour, staff="MR")
    demo_counter.fill(path, colour_0=colour, staff="MR", supersedes="1")
    assert "replaced by slip 2" in " ".join(demo_counter.look("/slips/1").text.split())
    again = demo_counter.fill(path, colour_0=colour, staff="MR", supersedes="1")
    assert again.status_code == 422
    assert "replace slip 2 instead" in again.text
    unknown = demo_counter.fill(path, colour_0=colour, staff="MR", supersedes="77")
    assert unknown.status_code == 422


def test_a_yarn_that_the_shelf_has_not_is_not_found(demo_counter: Counter) -> None:
    path = yarn_path(demo_counter, PULLOVER, "nothing")
    assert demo_counter.client.get(path).status_code == 404
    assert demo_counter.client.get(path.partition("?")[0]).status_code == 404


def test_lists_and_paper_take_only_what_they_offer(demo_counter: Counter) -> None:
    path = yarn_path(demo_counter, PULLOVER)
    colour = first_colour(demo_counter.look(path))
    for box in ("language", "paper"):
        answer = demo_counter.fill(path, colour_0=colour, staff="MR", **{box: "klingon"})
        assert answer.status_code == 422


def contacts(shelf: Engine) -> list[tuple[str, str, bool, int | None]]:
    with reading(shelf) as session:
        rows = session.scalars(select(Contact)).all()
        return [(row.name, row.phone, row.may_ask, row.slip_id) for row in rows]


def test_a_customer_may_be_asked_after_the_swatch_without_a_hold(
    demo_counter: Counter, demo_shelf: Engine, caplog: pytest.LogCaptureFixture
) -> None:
    caplog.set_level(logging.DEBUG)
    path = yarn_path(demo_counter, PULLOVER)
    page = demo_counter.look(path)
    typed = {"colour_0": first_colour(page), "staff": "MR", "customer_name": "Ada Lambswell"}
    asked = {**typed, "may_ask": "y", "phone": "01632 960111"}
    answers = [demo_counter.fill(path, page, **asked) for _ in range(2)]
    assert contacts(demo_shelf) == [("Ada Lambswell", "01632 960111", True, 1)]
    days = timedelta(days=ShopSettings().swatch_reminder_days)
    (quiet,) = morning_list(Shop(demo_shelf, clock=lambda: now() + days)).quiet_slips
    assert (quiet.number, quiet.phone) == (1, "01632 960111")
    slip = demo_counter.look("/slips/1")
    assert "960111" not in slip.text
    told = " ".join([*(answer.headers["Location"] for answer in answers), *slip.links])
    for word in ("960111", "Lambswell"):
        assert word not in told
        assert word not in caplog.text


def test_nothing_is_kept_to_ask_where_the_customer_did_not_agree(
    demo_counter: Counter, demo_shelf: Engine
) -> None:
    path = yarn_path(demo_counter, PULLOVER)
    page = demo_counter.look(path)
    typed = {"colour_0": first_colour(page), "staff": "MR"}
    refused = demo_counter.fill(path, page, **typed, phone="01632 960111")
    assert refused.status_code == 422
    assert "tick that we may" in read_page(refused.text).message("phone")
    assert read_page(refused.text).held("phone") == "01632 960111"
    wrong = demo_counter.fill(path, page, **typed, may_ask="y", phone="ring me")
    assert "no telephone number" in read_page(wrong.text).message("phone")
    assert numbers_of_slips(demo_shelf) == []
    assert demo_counter.fill(path, page, **typed).status_code == 303
    assert contacts(demo_shelf) == []
