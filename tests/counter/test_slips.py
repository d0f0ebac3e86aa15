"""Slips on the page and as PDF, in other languages and on other papers, and found again."""

import re
from io import BytesIO

import pytest
from pypdf import PdfReader

from tests.counter.asks import PULLOVER
from tests.counter.conftest import Counter
from tests.counter.test_choosing import first_colour, yarn_path
from tests.pages import read_page


@pytest.fixture
def with_slip(demo_counter: Counter) -> Counter:
    path = yarn_path(demo_counter, {**PULLOVER, "title": "<b>Harbour</b> & pier"})
    page = demo_counter.look(path)
    sent = demo_counter.fill(
        path, page, colour_0=first_colour(page), staff="MR", customer_name="Ada Ćwik"
    )
    assert sent.status_code == 303
    return demo_counter


def test_a_slip_is_shown_with_what_was_typed_as_text(with_slip: Counter) -> None:
    html = with_slip.client.get("/slips/1").text
    assert "&lt;b&gt;Harbour&lt;/b&gt; &amp; pier" in html
    assert "<b>" not in html
    assert "Ada Ćwik" in html


def test_a_slip_names_the_customer_beside_its_title(with_slip: Counter) -> None:
    text = with_slip.look("/slips/1").text
    assert re.search(r"For\s*Ada Ćwik\s", text)
    assert "LabelledValue" not in text


@pytest.mark.parametrize(
    "path", ["/slips/1", "/shelf/yarn?sku=OY-3105", "/shelf/yarn/stock?sku=OY-3105"]
)
def test_a_message_is_shown_once(with_slip: Counter, path: str) -> None:
    with with_slip.client.session_transaction() as told:
        told["_flashes"] = [("message", "It is done.")]
    assert with_slip.look(path).text.count("It is done.") == 1
    assert "It is done." not in with_slip.look(path).text


@pytest.mark.parametrize(("language", "word"), [("de", "Maschenprobe"), ("fr", "chantillon")])
def test_a_slip_is_read_in_other_languages(with_slip: Counter, language: str, word: str) -> None:
    html = with_slip.client.get(f"/slips/1?language={language}").text
    assert f'lang="{language}"' in html
    assert word in html


def test_the_same_slip_is_printed_with_the_same_bytes(with_slip: Counter) -> None:
    first, second = (with_slip.client.get("/slips/1.pdf").data for _ in range(2))
    assert first == second


@pytest.mark.parametrize("paper", ["A5", "A6", "half-letter", "roll-80", "roll-58"])
def test_every_paper_is_printed(with_slip: Counter, paper: str) -> None:
    pdf = with_slip.client.get(f"/slips/1.pdf?paper={paper}&language=de").data
    assert "Birchenfold" in PdfReader(BytesIO(pdf)).pages[0].extract_text()


@pytest.mark.parametrize(
    "path", ["/slips/1.pdf?paper=A0", "/slips/1.pdf?language=xx", "/slips/1?language=<b>"]
)
def test_what_is_not_offered_is_refused(with_slip: Counter, path: str) -> None:
    answer = with_slip.client.get(path)
    assert answer.status_code == 400
    assert "<b>" not in answer.text


@pytest.mark.parametrize("number", ["2", "0", "9" * 12, "9" * 40, "-1", "x"])
def test_slips_that_are_not_there_are_not_found(with_slip: Counter, number: str) -> None:
    for path in (f"/slips/{number}", f"/slips/{number}.pdf"):
        assert with_slip.client.get(path).status_code == 404


def test_slips_are_found_by_number_day_and_name(with_slip: Counter) -> None:
    assert "Birchenfold" in with_slip.look("/slips").text
    assert with_slip.fill("/slips", number="1").headers["Location"] == "/slips/1"
    found = with_slip.fill("/slips", name="ćwik")
    assert "Ada Ćwik" in found.text
    assert "No slip was found" in with_slip.fill("/slips", name="Nobody").text
    assert "No slip was found" in with_slip.fill("/slips", day="2020-02-29").text


@pytest.mark.parametrize(
    ("box", "bad"),
    [
        ("number", ""),
        ("number", "-1"),
        ("number", "abc"),
        ("number", "1e9"),
        ("number", "3,5"),
        ("number", "9" * 300),
        ("day", "2026-02-30"),
        ("day", "yesterday"),
        ("name", "x" * 300),
    ],
)
def test_a_bad_search_comes_back_with_its_message(with_slip: Counter, box: str, bad: str) -> None:
    answer = with_slip.fill("/slips", **{box: bad})
    page = read_page(answer.text)
    assert answer.status_code == 422
    assert page.message(box)
    assert page.held(box) == bad


def test_the_same_is_asked_again(with_slip: Counter) -> None:
    token = with_slip.look("/slips/1").held("csrf_token")
    answer = with_slip.client.post("/slips/1/again", data={"csrf_token": token})
    assert answer.status_code == 303
    assert "Harbour" in with_slip.look(answer.headers["Location"]).text


def test_pages_with_names_are_not_stored(with_slip: Counter) -> None:
    for path in ("/slips", "/slips/1", "/slips/1.pdf"):
        assert with_slip.client.get(path).headers["Cache-Control"] == "no-store"


def test_a_slip_is_taken_off_the_stock_once(with_slip: Counter) -> None:
    token = {"csrf_token": with_slip.look("/slips/1").held("csrf_token")}
    assert with_slip.client.post("/slips/1/sold", data=token).status_code == 303
    assert "taken off the stock" in with_slip.look("/slips/1").text
    again = with_slip.client.post("/slips/1/sold", data=token)
    assert again.status_code == 409
    assert "sold already" in again.text
    assert with_slip.client.post("/slips/9/sold", data=token).status_code == 404
