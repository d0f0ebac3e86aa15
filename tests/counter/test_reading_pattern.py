"""The pattern's words in the counter: pasted or uploaded, shown beside the form that they fill."""

import io
import re
from collections.abc import Iterator
from typing import Any

import pytest
from hypothesis import given, settings
from sqlalchemy import Engine, text
from werkzeug.test import TestResponse

from shopdesk.counter.application import create_app
from shopdesk.patterns.text.cleaning import LONGEST_TEXT
from tests.browser.axe import check_page
from tests.counter.conftest import SECRET, Counter
from tests.counter.serving import on_loopback
from tests.pages import Page, read_page
from tests.patterns.odd_numbers import TWO_WAYS, headers
from tests.pdfs import pdf_of

HEADER = """Juniper Pullover
Sizes: S (M, L)
Finished chest: 90 (98, 106) cm
Yarn: 11 (12, 13) balls DK, 50 g = 120 m, 75% wool, 25% nylon
Size 6 needles
Tension: 22 sts and 30 rows to 10 cm in st st
Page 12 has the chart."""


def paste(counter: Counter, words: str = "", **files: Any) -> TestResponse:
    """Sends the text or file as the page's form would."""
    sent = {"text": words, "language": "", **files}
    sent["csrf_token"] = counter.look("/pattern").boxes["csrf_token"][0]
    return counter.client.post("/pattern", data=sent, content_type="multipart/form-data")


def filled(answer: TestResponse) -> Page:
    assert answer.status_code == 200, answer.text
    return read_page(answer.text)


def test_the_form_is_filled_and_the_words_are_marked(counter: Counter) -> None:
    answer = paste(counter, HEADER)
    sent = filled(answer).sent()
    expected = {
        "item": "pullover",
        "stitches": "22",
        "rows": "30",
        "over": "10",
        "stitch_pattern": "stockinette",
        "sizes": "S, M, L",
        "chosen_size": "",
        "chests": "90; 98; 106",
        "designer-weight": "DK",
        "designer-ball_mass": "50",
        "designer-ball_length": "120",
        "designer-fibres-1-percent": "25",
        "parts-0-count": "11; 12; 13",
        "parts-0-counted_in": "balls",
        "tool": "",
    }
    assert {name: "".join(sent[name]) for name in expected} == expected
    assert '<mark class="is-sure" data-boxes="stitches">22 sts</mark>' in answer.text
    assert "From ‘22 sts’" in answer.text
    assert "Page 12" in answer.text


def test_an_unclear_tool_is_left_out_and_can_be_picked(counter: Counter) -> None:
    read = paste(counter, HEADER)
    picked = counter.fill(page=filled(read), do=button_named(read, "UK 6"))
    sent = filled(picked).sent()
    assert (sent["tool"], sent["tool_system"]) == (["6"], ["UK"])
    assert sent["stitches"] == ["22"]
    assert "22 sts" in picked.text


def button_named(answer: TestResponse, words: str) -> str:
    found = re.search(rf'value="(take-[0-9]+-[0-9]+)">{words}<', answer.text)
    assert found is not None
    return found[1]


def test_what_was_typed_beside_the_words_stays_when_a_reading_is_picked(counter: Counter) -> None:
    read = paste(counter, HEADER)
    taken = button_named(read, "US 6")
    picked = counter.fill(page=filled(read), do=taken, chosen_size="M", rows="31")
    sent = filled(picked).sent()
    assert (sent["chosen_size"], sent["rows"], sent["tool"]) == (["M"], ["31"], ["6"])


def test_another_blend_is_picked_whole(counter: Counter) -> None:
    blends = "50% wool, 30% nylon, 20% silk\nor 60% cotton, 40% acrylic"
    read = paste(counter, HEADER.replace("75% wool, 25% nylon", blends))
    picked = counter.fill(page=filled(read), do=button_named(read, "60 cotton | 40 acrylic"))
    sent = filled(picked).sent()
    blend = {name: value for name, value in sent.items() if "-fibres-" in name}
    assert blend == {
        "designer-fibres-0-percent": ["60"],
        "designer-fibres-0-fibre": ["cotton"],
        "designer-fibres-1-percent": ["40"],
        "designer-fibres-1-fibre": ["acrylic"],
    }


def test_the_filled_form_is_answered_once_a_size_is_chosen(demo_counter: Counter) -> None:
    page = filled(paste(demo_counter, HEADER))
    refused = demo_counter.fill(page=page, do="answer")
    assert refused.status_code == 422
    assert "22 sts" in refused.text
    answer = demo_counter.fill(page=page, do="answer", chosen_size="M")
    assert answer.status_code == 303, answer.text


def test_nothing_of_the_text_is_kept(demo_counter: Counter, demo_shelf: Engine) -> None:
    page = filled(paste(demo_counter, HEADER.replace("Juniper", "Quillfeather")))
    assert demo_counter.fill(page=page, do="answer", chosen_size="M").status_code == 303
    with demo_shelf.connect() as connection:
        tables = connection.execute(text("SELECT name FROM sqlite_master WHERE type = 'table'"))
        for (name,) in tables.all():
            rows = connection.execute(text(f'SELECT * FROM "{name}"')).all()
            assert "Quillfeather" not in str(rows), name


def test_a_pdf_is_read(counter: Counter) -> None:
    file = (io.BytesIO(pdf_of("Scarf", "Gauge: 18 sts = 4 in, 5 mm needles")), "a.pdf")
    sent = filled(paste(counter, file=file)).sent()
    assert (sent["item"], sent["stitches"], sent["tool"]) == (["scarf"], ["18"], ["5"])


UNREADABLE = [
    ("", None, "There is no text here"),
    ("x" * (LONGEST_TEXT + 1), None, "too long"),
    ("Good morning, how are you today?", None, "Nothing a pattern says was found"),
    ("", pdf_of(), "holds no text"),
    ("", b"%PDF-1.4 broken", "damaged"),
    ("", b"\0\1\2", "neither text nor a PDF"),
]


@pytest.mark.parametrize(("words", "data", "told"), UNREADABLE)
def test_what_cannot_be_read_is_told_beside_the_box(
    counter: Counter, words: str, data: bytes | None, told: str
) -> None:
    files = {} if data is None else {"file": (io.BytesIO(data), "pattern")}
    answer = paste(counter, words, **files)
    assert answer.status_code == 422
    assert told in answer.text
    assert words[:200] in answer.text


def test_a_number_with_two_readings_is_left_to_staff(counter: Counter) -> None:
    told = paste(counter, TWO_WAYS)
    sent = filled(told).sent()
    assert (sent["stitches"], sent["parts-0-count"]) == (["22"], [""])
    assert "can be read as 1200 or as 1.2" in told.text
    picked = filled(counter.fill(page=filled(told), do=button_named(told, "1200 m"))).sent()
    assert (picked["parts-0-count"], picked["parts-0-counted_in"]) == (["1200"], ["m"])


def test_no_number_stops_the_page(counter: Counter) -> None:
    token = counter.look("/pattern").held("csrf_token")

    @settings(max_examples=25)
    @given(headers())
    def stops_no_page(text: str) -> None:
        sent = {"csrf_token": token, "text": text, "language": ""}
        told = counter.client.post("/pattern", data=sent)
        assert told.status_code == 200
        assert read_page(told.text).held("designer-weight") != ""

    stops_no_page()


def test_hostile_words_are_shown_as_text(counter: Counter) -> None:
    answer = paste(counter, "22 sts = 10 cm </textarea><script>alert(1)</script> 12 & 13")
    assert answer.status_code == 200
    assert "<script>alert" not in answer.text


def test_a_changed_text_or_button_changes_nothing_else(counter: Counter) -> None:
    page = filled(paste(counter, HEADER))
    for do in ("take-999-0", "take-0-999", "take-1-"):
        answer = counter.fill(page=page, do=do)
        assert answer.status_code in (200, 422)
    answer = counter.fill(page=page, do="take-1-0", pattern_text="")
    assert answer.status_code == 200
    assert filled(answer).sent()["stitches"] == ["22"]


@pytest.fixture
def address(demo_shelf: Engine) -> Iterator[str]:
    with on_loopback(create_app(demo_shelf, SECRET)) as served:
        yield served


@pytest.mark.browser
def test_paste_check_and_accept_by_keyboard(browser: Any, address: str) -> None:
    page = browser.new_page(viewport={"width": 1280, "height": 800})
    page.goto(f"{address}/pattern")
    page.keyboard.type(HEADER)
    page.keyboard.press("Tab")
    page.keyboard.press("Tab")
    page.keyboard.press("Tab")
    page.keyboard.press("Enter")
    page.wait_for_selector("text=What was read")
    check_page(page)
    page.set_viewport_size({"width": 1280, "height": 800})
    assert page.evaluate("document.activeElement.textContent").startswith("Which size")
    page.keyboard.press("Enter")
    page.keyboard.type("M")
    page.locator("#stitches").focus()
    assert page.locator("mark.now").all_inner_texts() == ["22 sts"]
    page.keyboard.press("Enter")
    page.wait_for_url("**/asks/*")
    page.close()


@pytest.mark.browser
def test_it_works_without_scripts(browser: Any, address: str) -> None:
    context = browser.new_context(java_script_enabled=False)
    page = context.new_page()
    page.goto(address)
    page.get_by_text("Read it from the pattern").click()
    page.get_by_label("Text of the pattern").fill(HEADER)
    page.get_by_role("button", name="Read it").click()
    page.get_by_role("button", name="UK 6").click()
    assert page.get_by_label("Needle or hook", exact=True).input_value() == "6"
    page.get_by_label("Size to make").fill("L")
    page.get_by_role("button", name="All right: find yarns").click()
    page.wait_for_url("**/asks/*")
    context.close()
